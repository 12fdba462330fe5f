// A dial that another key of the job overrides would be turned for nothing: every dial of every shipped sheet is turned
// on a job that sets such keys, and has to move what the sheet shows.
import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import type { Dial } from "../../../../src/notebook/dials/types.ts";
import { readPage } from "../../../../src/notebook/page/page.ts";
import { withDial } from "../../../../src/notebook/page/set-dial.ts";
import { jobForPage, openJob } from "../../../../src/notebook/run/open-job.ts";
import { openRealm } from "../run/realm.ts";

const notebooks = new URL("../../../../notebooks/", import.meta.url);
const ofJob = (dial: Dial) => dial.job !== undefined || dial.start !== undefined;
const sheets = readdirSync(notebooks)
  .map((file) => ({ file, page: readPage(readFileSync(new URL(file, notebooks), "utf8")) }))
  .filter(({ page }) => page.dials.some(ofJob));

/** As many keys as go together that could override another: one that does is not undone by the others. */
const JOB = `bait: { thickness: 14 mm, length: 90 mm }
mold: { temperature: 18 degC, upperTemperature: 22 degC }
run: { shots: 4, preheat: 45 degC, timer: 5 min, bath: 30 s }
cup: { mass: 300 g, heats: [ { temperature: 175 degC, duration: 12 min } ] }
layer: { depth: 2 mm, temperature: 160 degC, second: { temperature: 172 degC }, more: [ { depth: 3 mm } ] }
sprue: { gate: { width: 3 mm, height: 2 mm }, hold: 20 s }
limits: { wall: 60 degC, set: 110 degC, bond: 95 degC, fill: 120 degC }
pour:
  { depth: 30 mm, stock: 18 degC, mass: 800 g, layers: 2, potLife: { time: 30 min }, thinFilm: { time: 6 h }, peakExotherm: { temperature: 120 degC } }`;

/** Where a dial can be put: its two ends, or two other words. */
const endsOf = (dial: Dial): (string | boolean)[] =>
  dial.kind === "choice"
    ? [dial.choices.at(0)!, dial.choices.at(-1)!]
    : dial.kind === "flag"
      ? [true, false]
      : [dial.min!, dial.max!];

test.each(sheets)(
  "$file: no dial is turned for nothing",
  async ({ page }) => {
    const open = openJob(JOB);
    if ("problems" in open) throw new Error(JSON.stringify(open.problems));
    const realm = await openRealm(page.text);
    const dead = page.dials.filter(ofJob).filter((dial) => {
      const [one, other] = endsOf(dial).map((end) => {
        const text = withDial(page, dial.name, end);
        const forPage = jobForPage(readPage(text), open);
        // what can't be is told, too
        if ("problems" in forPage) return JSON.stringify(forPage.problems);
        return realm.run(text, forPage.job, { open, quick: true });
      });
      return one === other;
    });
    expect(dead.map(({ name }) => name)).toEqual([]);
  },
  180_000,
);

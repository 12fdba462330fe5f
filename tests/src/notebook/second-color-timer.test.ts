import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { runPageText } from "../../../src/notebook/run/runner-node.ts";
import { buildPrelude } from "../../../tools/vite-plugins.ts";

const text = readFileSync(new URL("../../../notebooks/second-color.md", import.meta.url), "utf8");
const asked = async (mold: string) => {
  const { problem, outputs } = await runPageText({
    text,
    jobText: `bait: { thickness: 16 mm }\nlayer: { depth: 6 mm }\nmold: { temperature: ${mold} }`,
    prelude: await buildPrelude("full"),
    quick: true,
    milliseconds: 300_000,
  });
  expect(problem).toBeUndefined();
  return outputs.flat().flatMap((o) => (o.kind === "answer" && o.main ? [o] : []))[0]!;
};

test("the second color's timer rings for the hands first, in the order of the work", async () => {
  const { marks = [] } = await asked("80 degC");
  expect(marks.map(({ label }) => label)).toEqual([
    "Set: start closing",
    "Second color in",
    expect.stringMatching(/oo late: it will peel$/),
  ]);
  const times = marks.map(({ at }) => at);
  expect(times).toEqual(times.toSorted((a, b) => a - b));
}, 300_000);

test("where no moment is safe the page says so, too, in the warmest mold and the coldest", async () => {
  const mains = [await asked("5 degC"), await asked("30 degC"), await asked("45 degC")];
  for (const { label, decidedBy } of mains) {
    expect(label).toMatch(/^(A sure moment for|Shoot) the second color/);
    // words of a reason, of the hands, or of what leaves most room: no code and no blank
    expect(decidedBy).toMatch(/^[a-z][a-z', ]{15,}/);
  }
}, 300_000);

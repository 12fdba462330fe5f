/** What the bench needs of the library's answers: for the timer and for the card. SI and K. */

import { parse } from "yaml";
import type { Range } from "../../../lib/confidence/range.ts";
import { type Job, readJob, withSetting } from "../../../lib/job/job.ts";
import { demold } from "../../../lib/questions/demold/demold.ts";
import { layer } from "../../../lib/questions/layer/layer.ts";
import { shots } from "../../../lib/questions/shots/shots.ts";
import { sprue } from "../../../lib/questions/sprue/sprue.ts";
import { fromUnit } from "../../../lib/units/display.ts";
import type { Answers, CardFacts, Opening, Question, WindowAtBench } from "./asked.ts";

/** Temperatures of the mold in the card's table, degC. */
const MOLD_TABLE_C = [20, 30, 40, 50, 60];
const CARD_SHOTS = 10;

export function answerFor({ ask, jobText, settings, shot }: Question): Answers[keyof Answers] {
  let raw: unknown = parse(jobText, { maxAliasCount: 0 });
  for (const [path, text] of Object.entries(settings)) raw = withSetting(raw, path, text);
  const { job } = readJob(JSON.stringify(raw));
  switch (ask) {
    case "opening":
      return opening(job, shot);
    case "window":
      return windowOf(job);
    case "card":
      return card(job, raw);
  }
}

/** A time that never comes is null. */
function inTime({ value, low, high }: Range): Range | null {
  return Number.isFinite(high) ? { value, low, high } : null;
}

/** Open times by shot: each with the share of range that the library gives for the first and the settled one. */
function byShot(job: Job, count: number): (Range | null)[] {
  const { answer } = shots({ ...job, run: { ...job.run, shots: count } });
  const first = inTime(answer.first);
  if (first === null) return answer.shots.map(() => null);
  const settled = inTime(answer.settled) ?? first;
  const span = settled.value - first.value;
  return answer.shots.map(({ demold }) => {
    const share = span > 0 ? Math.min(1, Math.max(0, (demold - first.value) / span)) : 0;
    const times = (end: "low" | "high") =>
      (1 - share) * (first[end] / first.value) + share * (settled[end] / settled.value);
    return inTime({ value: demold, low: demold * times("low"), high: demold * times("high") });
  });
}

function opening(job: Job, shot: number): Opening {
  const { answer } = demold(job, { further: false });
  return {
    sprueCloses: inTime(sprue(job, { quick: true }).answer.closes),
    open: shot === 1 ? inTime(answer.time) : (byShot(job, shot)[shot - 1] ?? null),
  };
}

/** The window of the second color; null when there is none. */
function windowOf(job: Job): WindowAtBench | null {
  const { answer } = layer(job, { further: false });
  const open = inTime(answer.open);
  const close = inTime(answer.close);
  if (answer.empty || open === null || close === null) return null;
  return {
    open,
    close,
    startClosing: answer.startClosing,
    injectAt: answer.injectAt?.value ?? null,
  };
}

function card(job: Job, raw: unknown): CardFacts {
  const warmed = (celsius: number) =>
    readJob(JSON.stringify(withSetting(raw, "mold.temperature", `${celsius} degC`))).job;
  return {
    byShot: byShot(job, CARD_SHOTS).map((open, i) => ({ shot: i + 1, open })),
    byMold: MOLD_TABLE_C.map((celsius) => ({
      temperature: fromUnit(celsius, "degC"),
      open: inTime(demold(warmed(celsius), { further: false }).answer.time),
    })),
    sprueCloses: inTime(sprue(job, { quick: true }).answer.closes),
    window: windowOf(job),
  };
}

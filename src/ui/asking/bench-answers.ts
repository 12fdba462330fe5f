/** What the bench needs of the library's answers: for the timer and for the card. SI and K. */

import { parse } from "yaml";
import type { Range } from "../../../lib/confidence/range.ts";
import { type Job, readJob } from "../../../lib/job/job.ts";
import { withSetting } from "../../../lib/job/with-setting.ts";
import { preheatAsStart, withMold } from "../../../lib/models/start.ts";
import { demold } from "../../../lib/questions/demold/demold.ts";
import { layer } from "../../../lib/questions/layer/layer.ts";
import { type Shots, shots } from "../../../lib/questions/shots/shots.ts";
import { sprue } from "../../../lib/questions/sprue/sprue.ts";
import { fromUnit } from "../../../lib/units/display.ts";
import type { Answers, CardFacts, Opening, Question, WindowAtBench } from "./asked.ts";

const MOLD = "mold.temperature";

/** Temperatures of the mold in the card's table, degC. */
const MOLD_TABLE_C = [20, 30, 40, 50, 60];
const CARD_SHOTS = 10;

type Raw = Record<string, unknown>;

export function answerFor({ ask, jobText, settings, shot }: Question): Answers[keyof Answers] {
  let raw: unknown = parse(jobText, { maxAliasCount: 0 });
  // a mold that was read has the temperature that was read, whatever it was preheated to
  for (const [path, text] of Object.entries(settings))
    raw = withSetting(path === MOLD ? preheatAsStart(raw as Raw) : raw, path, text);
  const { job } = readJob(JSON.stringify(raw));
  switch (ask) {
    case "opening":
      // a mold that was read is as warm as that: what comes next is a first shot from there
      return opening(job, MOLD in settings ? 1 : shot);
    case "window":
      return windowOf(job);
    case "card":
      return card(job);
  }
}

/** A time that never comes is null. */
function inTime({ value, low, high }: Range): Range | null {
  return Number.isFinite(high) ? { value, low, high } : null;
}

/** Open times by shot: each with the share of range that the library gives for the first and the settled one. */
function openTimes(answer: Shots): (Range | null)[] {
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
  if (shot === 1) {
    const { time } = demold(job, { further: false }).answer;
    return { sprueCloses: sprueCloses(job), open: inTime(time) };
  }
  const { answer } = shots({ ...job, run: { ...job.run, shots: shot } });
  return {
    sprueCloses: sprueCloses(job, answer.shots[shot - 1]),
    open: openTimes(answer)[shot - 1] ?? null,
  };
}

/** When the sprue of a shot closes: where the mold is warm from those before, as warm as its face is then; null: never, or the shot never comes. */
function sprueCloses(
  job: Job,
  shot: { readonly wallBefore: number } | null | undefined = null,
): Range | null {
  if (shot === undefined) return null;
  const warm = shot === null ? job : withMold(job, shot.wallBefore);
  return inTime(sprue(warm, { quick: true }).answer.closes);
}

/** The window of the second color; null when there is none. With good luck it may stay open. */
function windowOf(job: Job): WindowAtBench | null {
  const { empty, open, close, startClosing, injectAt, sure, noMomentFor } = layer(job, {
    further: false,
  }).answer;
  if (empty || !Number.isFinite(open.value)) return null;
  return { open, close, startClosing, injectAt, sure, noMomentFor };
}

function card(job: Job): CardFacts {
  const { answer } = shots({ ...job, run: { ...job.run, shots: CARD_SHOTS } });
  return {
    byShot: openTimes(answer).map((open, i) => ({ shot: i + 1, open })),
    // a mold that is measured, whatever it was preheated to
    byMold: MOLD_TABLE_C.map((celsius) => {
      const temperature = fromUnit(celsius, "degC");
      const { time } = demold(withMold(job, temperature), { further: false }).answer;
      return { temperature, open: inTime(time) };
    }),
    sprueCloses: sprueCloses(job),
    sprueClosesSettled: sprueCloses(
      job,
      Number.isFinite(answer.steady.demold) ? answer.steady : undefined,
    ),
    window: windowOf(job),
    firstWallPeak: answer.shots[0]!.wallPeak,
  };
}

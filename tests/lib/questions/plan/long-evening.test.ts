/** Evenings longer than the run that the job asks for, and molds that have not settled by its end. */
import { describe, expect, test } from "vitest";
import { readJob } from "../../../../lib/job/job.ts";
import type { QuestionOptions } from "../../../../lib/models/question-options.ts";
import { successiveShots } from "../../../../lib/models/shots/cycle.ts";
import { shotTimes } from "../../../../lib/models/shots/run-times.ts";
import { plan } from "../../../../lib/questions/plan/plan.ts";
import { shots } from "../../../../lib/questions/shots/shots.ts";
import { shotsQuestion } from "../../../../src/cli/questions/shots.ts";

const jobOf = (text: string, run: string) => readJob(`{ ${text}, run: { ${run} } }`).job;

/** A usual mold, a heavy one of metal that warms all evening, and one that was preheated past where it settles. */
const EVENINGS = {
  epoxy: ["bait: { thickness: 16 mm }", "session: 3 h"],
  heavy: [
    "bait: { thickness: 12 mm }, mold: { material: aluminum 6061, wall: 40 mm }",
    "open: 30 s, hands: 30 s, session: 3 h",
  ],
  preheated: [
    "bait: { thickness: 12 mm }, mold: { material: aluminum 6061, wall: 60 mm }",
    "open: 60 s, hands: 30 s, preheat: 50 degC, session: 3 h",
  ],
} as const;
const LOOKS = Object.entries(EVENINGS).flatMap(([name, [text, run]]) =>
  [true, false].map((quick) => ({ name, text, run, quick })),
);

const took = (text: string, run: string, options: QuestionOptions) =>
  plan(jobOf(text, run), options).answer.shots.map(({ opened, injected }) => opened - injected);

describe.each(LOOKS)(
  "$name, quick: $quick",
  ({ text, run, quick }) => {
    const options = { quick, likelyOnly: true };
    const evening = took(text, run, options);

    test("shots open as they do however many the job asks for, and as `shots` tells of each", () => {
      for (const asked of [1, 45])
        expect(took(text, `${run}, shots: ${asked}`, options)).toEqual(evening);
      for (const asked of [1, 45]) {
        const { answer } = shots(jobOf(text, `${run}, shots: ${asked}`), options);
        expect(answer.shots).toHaveLength(asked);
        answer.shots.forEach(({ demold }, k) => {
          if (k < evening.length) expect(demold).toBeCloseTo(evening[k]!, 6);
        });
        expect(answer.baitsPerHour[0]!.perSession).toBe(evening.length);
      }
    });
    test("each opens when it is cool enough, by marching through the whole evening", () => {
      const { cycle, model, pace } = shotTimes(jobOf(text, run), options);
      let k = 0;
      for (const { opensAfter } of successiveShots(cycle(model, pace), pace)) {
        expect(Math.abs(evening[k]! / opensAfter - 1), `shot ${k + 1}`).toBeLessThan(4e-3);
        if (++k >= evening.length) break;
      }
    });
    test("from its start to where it settles it neither leaps nor turns back", () => {
      const { shot, settled } = shotTimes(jobOf(text, run), options);
      const left = Array.from({ length: 300 }, (_, k) =>
        Math.abs(shot(k + 1).opensAfter - settled.opensAfter),
      );
      // what is left falls from shot to shot, and by no more than it fell before, but for the time steps' own scatter
      const scatter = 1e-3 * settled.opensAfter;
      for (let k = 2; k < left.length; k++) {
        expect(left[k]!, `${k + 1}`).toBeLessThan(left[k - 1]! + scatter);
        const [before, now] = [left[k - 2]! - left[k - 1]!, left[k - 1]! - left[k]!];
        if (k > 20) expect(now, `${k + 1}`).toBeLessThan(1.3 * before + scatter);
      }
    });
  },
  60_000,
);

test("a run that is longer than the table says what is not listed", () => {
  const said = (asked: number) => {
    const job = jobOf(EVENINGS.epoxy[0], `shots: ${asked}`);
    const answer = shots(job, { quick: true, likelyOnly: true });
    return shotsQuestion.text(answer, job, "metric").body;
  };
  expect(said(31).join(" ")).not.toContain("not listed");
  expect(said(45).join(" ")).toContain("Shots 31 to 44 are not listed");
  expect(said(45).some((line) => /^45 /.test(line))).toBe(true);
});

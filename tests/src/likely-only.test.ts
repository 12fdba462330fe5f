import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { readJob } from "../../lib/index.ts";
import { type Askable, askable } from "../../src/sweep/askable.ts";

/** What `QuestionOptions.likelyOnly` says keeps its width. */
const STAYS: Readonly<Partial<Record<string, RegExp>>> = {
  shape: /^\.(volume|mass|surface|displaced)$/,
  shrink: /./,
  plan: /^\.plasticInAll$/,
  pour: /^\.filler\./,
  mix: /potLife$/,
  layer: /injectAt$/,
};

/** Places whose ends are farther apart than the rounding of a computer. */
function widePlaces(x: unknown, path = ""): string[] {
  if (typeof x !== "object" || x === null) return [];
  const { value, low, high } = x as { value?: number; low?: number; high?: number };
  const wide = value !== undefined && low !== high && !(high! - low! < 1e-9 * Math.abs(high!));
  const within = Object.entries(x).flatMap(([key, y]) => widePlaces(y, `${path}.${key}`));
  return wide ? [path, ...within] : within;
}

test.each(["paddle-shad", "two-tone-belly", "reheated-cup", "four-kilo-half", "evening-of-two"])(
  "%s: the likely value alone has no range but where that is said",
  (name) => {
    const file = new URL(`../../data/jobs/${name}.yaml`, import.meta.url);
    const { job } = readJob(readFileSync(file, "utf8"));
    for (const [question, { run }] of Object.entries<Askable>(askable)) {
      const wide = widePlaces(run(job, { quick: true, likelyOnly: true }).answer);
      expect(
        wide.filter((path) => STAYS[question]?.test(path) !== true),
        question,
      ).toEqual([]);
    }
  },
);

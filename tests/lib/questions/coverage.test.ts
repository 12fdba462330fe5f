import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { readJob } from "../../../lib/job/job.ts";
import { questions } from "../../../src/cli/questions.ts";
import { truths } from "./drawn-truths.ts";
import { normals } from "./fit/synthetic.ts";

/** Truths for each: `COVERAGE=500 npx vitest run --config tools/vitest.config.ts --project node tests/lib/questions/coverage`. */
const COUNT = Number(process.env["COVERAGE"] ?? 0);

interface Range {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** Ranges hold eight of ten; nine where an end stands at nothing, which more than one of ten come to. */
const HOLD = { eight: [0.76, 0.84], nine: [0.86, 0.94] } as const;

test.skipIf(COUNT === 0).each([
  ["demold", "paddle-shad", "eight"],
  ["demold", "water-back", "eight"],
  ["demold", "plate-behind", "eight"],
  ["shots", "evening-of-two", "eight"],
  ["layer", "two-tone-belly", "eight"],
  ["layer", "water-back", "eight"],
  ["sprue", "pike-body", "eight"],
  ["pour", "hot-garage", "eight"],
  ["pour", "four-kilo-half", "eight"],
  ["walls", "hot-garage", "nine"],
  ["walls", "four-kilo-half", "eight"],
] as const)(
  "%s of %s: the range holds its truths",
  (name, file, kind) => {
    const url = new URL(`../../../data/jobs/${file}.yaml`, import.meta.url);
    const { job } = readJob(readFileSync(url, "utf8"));
    const question = questions.find((q) => q.name === name)!;
    const answer = question.run(job, { quick: true }).answer as Record<string, Range>;
    const normal = normals(23);
    const held: Record<string, [below: number, within: number, above: number]> = {};
    const count = name === "walls" ? Math.ceil(COUNT / 5) : COUNT;
    for (let n = 0; n < count; n++)
      for (const [key, truth] of Object.entries(truths[name](job, normal))) {
        held[key] ??= [0, 0, 0];
        const { low, high } = answer[key]!;
        held[key][truth < low ? 0 : truth > high ? 2 : 1] += 1;
      }
    const slack = 3 * Math.sqrt(0.16 / count);
    const [least, most] = HOLD[kind];
    for (const [key, [below, within, above]] of Object.entries(held)) {
      console.info(
        `${name} ${file} ${key}: of ${count} ${below} below, ${within} in, ${above} above`,
      );
      expect(within / count, key).toBeGreaterThan(least - slack);
      expect(within / count, key).toBeLessThan(most + slack);
    }
  },
  3_600_000,
);

import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { FieldMeta } from "../../../lib/job/fields.ts";
import { checkJob } from "../../../lib/job/job.ts";
import type { Job } from "../../../lib/job/types.ts";
import { withSetting } from "../../../lib/job/with-setting.ts";
import { catalog } from "../../../lib/materials/catalog.ts";
import type { Kind } from "../../../lib/units/kinds.ts";
import { InputError } from "../../../lib/units/problem.ts";
import { isProblem, readQuantity, valueIn } from "../../../lib/units/quantity.ts";
import { type Question, questions } from "../../../src/cli/questions.ts";
import { leaves } from "../../lib/job/leaves.ts";

/**
 * Jobs that are tried: two thousand. A day's run puts each of them to the questions that answer in milliseconds, and
 * one in so many to the others. The long run (RANDOM_JOBS=50000) puts each to the same quick ones and to one of the others
 * besides, drawn by its weight; with RANDOM_TO_ALL=1 each goes to all, at a second a job.
 */
const LONG = process.env["RANDOM_JOBS"] !== undefined;
const TO_ALL = process.env["RANDOM_TO_ALL"] !== undefined;
const JOBS = Number(process.env["RANDOM_JOBS"] ?? 2000);
const SEED = Number(process.env["RANDOM_SEED"] ?? 20_260_101);
const DAILY: Readonly<Record<string, number>> = {
  layer: 5,
  swim: 10,
  sprue: 20,
  shape: 20,
  shots: 40,
  plan: 40,
  walls: 125,
  pour: 125,
};
/** Of these the long run draws one for each job: weights by one over the root of what a likely answer takes (7 to 360 ms). */
const DRAWN: Readonly<Record<string, number>> = {
  swim: 38,
  layer: 20,
  plan: 20,
  sprue: 16,
  shape: 13,
  shots: 9,
  walls: 8,
  pour: 6,
};
/**
 * Of those past the first few, one in so many is answered with its range, its levers and tables, each of which is many
 * jobs more; of the others the likely answer alone.
 */
const WHOLE = LONG ? 100 : 500;
const WHOLE_AT_FIRST = 3;
/** Jobs of one seed that are held at a time; the next block has the next seed. */
const BLOCK = 2000;
/** For a block of one question, ms. */
const LONGEST = 12 * 60 * 60 * 1000;

/** Any valid value of a key, as it is typed; most near its small end, as workshops are. */
function typedValue({ kind, least, most, possible, families }: FieldMeta): fc.Arbitrary<string> {
  if (kind === "material")
    return fc.constantFrom(
      ...catalog.filter((m) => families?.includes(m.family)).map(({ name }) => name),
    );
  if (possible && possible.length > 0) return fc.constantFrom(...possible);
  if (kind === "count")
    return fc.integer({ min: Number(least ?? 0), max: Number(most ?? 12) }).map(String);
  if (least === undefined || most === undefined) return fc.constantFrom("1", "30");
  const [a, b] = [least, most].map((text) => readQuantity(text, kind as Kind));
  if (isProblem(a) || isProblem(b)) return fc.constantFrom(least, most);
  return fc.double({ min: 0, max: 1, noNaN: true }).map((share) => {
    const si = a.value + share ** 3 * (b.value - a.value);
    return `${Number(valueIn(si, a.unit, kind as Kind).toPrecision(6))} ${a.unit}`;
  });
}

const FIXED = /^(name$|materials|fitted|bait\.outline|plan\.start)|\[0\]/;
const settings = leaves
  .filter(({ path }) => !FIXED.test(path))
  .map(({ path, meta }) => typedValue(meta).map((typed) => [path, typed] as const));
const bait = fc
  .tuple(
    fc.constantFrom("round", "flat", "thick"),
    fc.double({ min: 2, max: 40, noNaN: true }),
    fc.double({ min: 1, max: 3, noNaN: true }),
  )
  .map(([form, thick, times]) => {
    const [height, width] = [thick, thick * times].map((mm) => `${mm.toPrecision(3)} mm`);
    if (form === "thick") return { thickness: height };
    return { form, stations: [{ name: "body", at: "30 mm", width, height }] };
  });
/** Jobs of a bait and up to a dozen keys more, each valid by itself. */
const anyJob = fc.tuple(
  bait,
  fc.subarray(settings, { minLength: 1, maxLength: 12 }).chain((chosen) => fc.tuple(...chosen)),
);

/** The job with all of the changes, or with those of them that go together. */
function read(given: unknown, changes: readonly (readonly [string, string])[]): Job {
  let raw: unknown = { bait: given };
  const whole = accepted(raw, changes);
  if (whole) return whole.job;
  for (const change of changes) raw = accepted(raw, [change])?.changed ?? raw;
  return checkJob(raw).job;
}

/** The file with the changes and its job; undefined where they are refused. */
function accepted(raw: unknown, changes: readonly (readonly [string, string])[]) {
  try {
    const changed = changes.reduce((job, [path, typed]) => withSetting(job, path, typed), raw);
    return { changed, job: checkJob(changed).job };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return undefined;
  }
}

/** An answer that is whole, or a refusal with a reason. */
function expectAnswered(question: Question, job: Job, likelyOnly: boolean): void {
  let found: ReturnType<Question["run"]>;
  try {
    found = question.run(job, { quick: true, likelyOnly });
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    expect(error.problems.length).toBeGreaterThan(0);
    for (const { code, given } of error.problems) {
      expect(code).not.toBe("not_a_number");
      expect(String(given)).not.toMatch(/NaN|undefined/);
    }
    return;
  }
  const text = [question.text(found, job, "shop-us"), question.text(found, job, "metric")];
  expect(JSON.stringify(text)).not.toMatch(/NaN|undefined|Infinity/);
  expect(JSON.stringify(numbersOf(found.answer))).not.toMatch(/NaN/);
}

/** Every number, as text: JSON would make null of what is none. */
function numbersOf(x: unknown): unknown {
  if (typeof x === "number") return String(x);
  if (ArrayBuffer.isView(x)) return Array.from(x as Float64Array, String);
  if (typeof x !== "object" || x === null) return x;
  return Object.values(x).map(numbersOf);
}

type RandomJob = ReturnType<typeof block>[number];

/** Some jobs of a seed; a larger block begins with the smaller. */
const block = (seed: number, size: number) =>
  fc.sample(anyJob, { seed, numRuns: size }).map(([given, changes], index) => {
    return { seed, index, given, changes, job: read(given, changes) };
  });

/** The question that the long run draws for a job: places of a golden sequence, so that each gets its share of any stretch. */
function drawn(index: number): string | undefined {
  const all = Object.entries(DRAWN);
  const total = all.reduce((sum, [, weight]) => sum + weight, 0);
  let left = ((index * (Math.sqrt(5) - 1)) / 2) % 1;
  return all.find(([, weight]) => {
    left -= weight / total;
    return left < 0;
  })?.[0];
}

/** Whether a job goes to a question. */
function goesTo(name: string, index: number): boolean {
  if (TO_ALL) return true;
  if (LONG) return DRAWN[name] === undefined || drawn(index) === name;
  return index % (DAILY[name] ?? 1) === 0;
}

/** @returns what went wrong, if anything, with the job as it can be typed */
function failure(question: Question, tried: RandomJob, likelyOnly: boolean): Error | undefined {
  const { seed, index, given, changes, job } = tried;
  try {
    expectAnswered(question, job, likelyOnly);
    return undefined;
  } catch (cause) {
    const typed = JSON.stringify({ given, changes }, null, 1);
    return new Error(`${question.name}: random job ${index} of seed ${seed}: ${typed}\n${cause}`, {
      cause,
    });
  }
}

const blocks = Array.from({ length: Math.ceil(JOBS / BLOCK) }, (_, i) => ({
  seed: SEED + i,
  size: Math.min(BLOCK, JOBS - i * BLOCK),
}));

describe.each(blocks)("$size jobs of seed $seed", ({ seed, size }) => {
  let jobs: readonly RandomJob[] = [];
  beforeAll(() => {
    jobs = block(seed, size);
  }, LONGEST);
  afterAll(() => {
    jobs = [];
  });
  test.each(questions.map((question) => [question.name, question] as const))(
    "%s answers every random job, or refuses it with a reason",
    (name, question) => {
      const mine = jobs.filter(({ index }) => goesTo(name, index));
      const failures = mine.flatMap((one, i) => {
        const likelyOnly = i >= WHOLE_AT_FIRST && i % WHOLE !== 0;
        return failure(question, one, likelyOnly) ?? [];
      });
      if (LONG)
        console.info(
          `${name}: ${mine.length} jobs of seed ${seed}`,
          failures.map(String).join("\n"),
        );
      if (failures[0]) throw new AggregateError(failures, failures.map(String).join("\n"));
    },
    LONGEST,
  );
});

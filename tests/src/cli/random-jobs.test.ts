import fc from "fast-check";
import { expect, test } from "vitest";
import type { FieldMeta } from "../../../lib/job/fields.ts";
import { checkJob, withSetting } from "../../../lib/job/job.ts";
import type { Job } from "../../../lib/job/types.ts";
import { catalog } from "../../../lib/materials/catalog.ts";
import type { Kind } from "../../../lib/units/kinds.ts";
import { InputError } from "../../../lib/units/problem.ts";
import { isProblem, readQuantity, valueIn } from "../../../lib/units/quantity.ts";
import { type Question, questions } from "../../../src/cli/questions.ts";
import { leaves } from "../../lib/job/leaves.ts";

/**
 * Jobs that are tried: two thousand. A day's run puts each of them to the questions that answer in milliseconds, and
 * one in so many to the others; the long run (RANDOM_JOBS=50000) all of them to every question.
 */
const LONG = process.env["RANDOM_JOBS"] !== undefined;
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
/**
 * Of those past the first few, one in so many is answered with its range, its levers and tables, each of which is many
 * jobs more; of the others the likely answer alone.
 */
const WHOLE = LONG ? 10 : 500;
const WHOLE_AT_FIRST = LONG ? 10 : 3;

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
  const all = changes.reduce((job, [path, typed]) => withSetting(job, path, typed), raw);
  const whole = checked(all);
  if (whole) return whole;
  for (const [path, typed] of changes) {
    const changed = withSetting(raw, path, typed);
    if (checked(changed)) raw = changed;
  }
  return checkJob(raw).job;
}

function checked(raw: unknown): Job | undefined {
  try {
    return checkJob(raw).job;
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

/** Made once for all questions: an infinite sequence of one seed, of which a longer run sees more. */
const jobs = fc
  .sample(anyJob, { seed: SEED, numRuns: JOBS })
  .map(([given, changes]) => ({ given, changes, job: read(given, changes) }));

test.each(questions.map((question) => [question.name, question] as const))(
  "%s answers every random job, or refuses it with a reason",
  (name, question) => {
    const each = LONG ? 1 : (DAILY[name] ?? 1);
    const mine = jobs.filter((_, i) => i % each === 0);
    for (const [i, { given, changes, job }] of mine.entries()) {
      const likelyOnly = i >= WHOLE_AT_FIRST && i % WHOLE !== 0;
      try {
        expectAnswered(question, job, likelyOnly);
      } catch (why) {
        const typed = JSON.stringify({ given, changes }, null, 1);
        throw new Error(`random job ${i * each} of seed ${SEED}: ${typed}`, { cause: why });
      }
    }
  },
  12 * 60 * 60 * 1000,
);

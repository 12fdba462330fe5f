import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Lever } from "../../../lib/answers/answer.ts";
import { checkJob } from "../../../lib/job/job.ts";
import { parseJobText } from "../../../lib/job/text.ts";
import type { Job } from "../../../lib/job/types.ts";
import { withSetting } from "../../../lib/job/with-setting.ts";
import type { QuestionOptions } from "../../../lib/models/question-options.ts";
import { demold } from "../../../lib/questions/demold/demold.ts";
import { layer } from "../../../lib/questions/layer/layer.ts";
import { pour } from "../../../lib/questions/pour/pour.ts";
import { shots } from "../../../lib/questions/shots/shots.ts";
import { sprue } from "../../../lib/questions/sprue/sprue.ts";

const folder = new URL("../../../data/jobs/", import.meta.url);
const rawOf = (file: string) => parseJobText(readFileSync(new URL(file, folder), "utf8"));

/** What a question says of its levers, and its main number; undefined: no such number for this job. */
interface Asked {
  readonly levers: readonly Lever[];
  readonly main: number;
}
const ask: Record<string, (job: Job, options: QuestionOptions) => Asked> = {
  demold: (job, options) => {
    const { levers, time } = demold(job, options).answer;
    return { levers, main: time.value };
  },
  shots: (job, options) => {
    const { levers, baitsPerHour } = shots(job, options).answer;
    const row = baitsPerHour[Math.min(job.run.molds, baitsPerHour.length) - 1];
    return { levers, main: row.cycle / (row.molds * job.mold.cavities) };
  },
  layer: (job, options) => {
    const { levers, open, close } = layer(job, options).answer;
    return { levers, main: Math.max(0, close.value - open.value) };
  },
  sprue: (job, options) => {
    const { levers, unfed } = sprue(job, options).answer;
    return { levers, main: unfed.value };
  },
  pour: (job, options) => {
    const { alternatives, peak } = pour(job, options).answer;
    return { levers: alternatives, main: peak.value };
  },
};

function typed({ kind, to }: NonNullable<Lever["change"]>): string {
  if (kind === "temperature") return `${to - 273.15} degC`;
  if (kind === "length") return `${to * 1e3} mm`;
  if (kind === "duration") return `${to} s`;
  return `${100 * to} %`;
}

type Raw = Record<string, unknown>;
const within = (raw: Raw, key: "mold" | "pour", added: object) => ({
  ...raw,
  [key]: { ...(raw[key] as object | undefined), ...added },
});
const BESIDE = { material: "aluminum 6061", thickness: "10 mm", distance: "6 mm" };
const WATER = { material: "copper", thickness: "8 mm", distance: "15 mm", water: "15 degC" };

/** Levers that are no one key: what a reader would write into the job. */
const written: Partial<Record<Lever["code"], (raw: Raw, job: Job, question: string) => unknown>> = {
  fan: (raw) => withSetting(raw, "room.air", "fan"),
  better_conductor: (raw) => withSetting(raw, "mold.material", "aluminum 6061"),
  more_molds: (raw, { run }) => withSetting(raw, "run.molds", `${run.molds + 1}`),
  close_on_skin: (raw) => withSetting(raw, "layer.ready", "skin"),
  metal_insert: (raw, _, question) =>
    question === "pour"
      ? within(raw, "pour", { plate: BESIDE })
      : within(raw, "mold", { inserts: [BESIDE] }),
  water_back: (raw) => within(raw, "mold", { back: WATER }),
};

/** The job with the lever pulled; undefined: what it changes has no key. */
function pulled(raw: Raw, job: Job, { code, change }: Lever, question: string): Job | undefined {
  const changed = change
    ? withSetting(raw, change.path, typed(change))
    : written[code]?.(raw, job, question);
  return changed === undefined ? undefined : checkJob(changed).job;
}

/** A lever's figure is what is answered once it is pulled: a fortieth of a time, a kelvin, 3 per mille of a bait. */
const ROUNDING = { duration: [1, 0.025], temperature: [1, 0], ratio: [0.003, 0.03] } as const;

function expectKept(file: string, question: string, options: QuestionOptions): number {
  const raw = rawOf(file);
  const { job } = checkJob(raw);
  let compared = 0;
  for (const lever of ask[question](job, options).levers) {
    const { code, gives } = lever;
    const changed = gives && pulled(raw, job, lever, question);
    if (!changed) continue;
    const { main } = ask[question](changed, options);
    const [absolute, relative] = ROUNDING[gives.kind as keyof typeof ROUNDING];
    expect(
      Math.abs(gives.value - main),
      `${file} ${question} ${code}: ${gives.value} promised, ${main} answered`,
    ).toBeLessThanOrEqual(absolute + relative * Math.abs(main));
    compared += 1;
  }
  return compared;
}

test("water behind a mold is proposed where its plate fits: in a thin wall, and not where another plate is", () => {
  const codes = (mold: string) =>
    shots(checkJob(parseJobText(`{ bait: { thickness: 12 mm }, mold: ${mold} }`)).job, {
      quick: true,
    }).answer.levers.map(({ code }) => code);
  expect(codes("{ material: filled epoxy, wall: 12 mm }")).toContain("water_back");
  expect(
    codes(
      "{ material: filled epoxy, wall: 25 mm, inserts: [{ thickness: 10 mm, distance: 6 mm }] }",
    ),
  ).not.toContain("water_back");
});

/** Pours of many rooms, hardeners and depths, with stock of the room's temperature, or of a typed one. */
const drawnPours = (seed: number, numRuns: number): Raw[] =>
  fc
    .sample(
      fc.record({
        room: fc.integer({ min: 2, max: 36 }),
        depth: fc.integer({ min: 14, max: 54 }),
        width: fc.integer({ min: 110, max: 230 }),
        hours: fc.constantFrom(0.5, 1, 2, 4, 8, 14),
        sheet: fc.constantFrom("none", "potLife", "thinFilm"),
        stock: fc.option(fc.integer({ min: 5, max: 50 })),
      }),
      { seed, numRuns },
    )
    .map(({ room, depth, width, hours, sheet, stock }) => ({
      bait: { thickness: "16 mm", length: "120 mm" },
      room: { temperature: `${room} degC` },
      pour: {
        depth: `${depth} mm`,
        box: { width: `${width} mm`, length: "220 mm" },
        ...(sheet === "thinFilm" && { thinFilm: { time: `${2 * hours} h` } }),
        ...(sheet === "potLife" && { potLife: { time: `${20 * hours} min`, mass: "150 g" } }),
        ...(stock !== null && { stock: `${stock} degC` }),
      },
    }));

test("a pour's lever is typed: it peaks as promised, hardens or not, and what will do is not refused", () => {
  const seen = { warm: 0, serves: 0, stalls: 0 };
  for (const raw of drawnPours(31, process.env["LONG"] ? 200 : 12)) {
    const { job } = checkJob(raw);
    for (const lever of pour(job, { quick: true, brief: true }).answer.alternatives) {
      const { code, hardens, serves, peak } = lever;
      const changed = pulled(raw, job, lever, "pour");
      if (!changed || code === "metal_insert") continue;
      const { answer } = pour(changed, { quick: true, brief: true });
      const told = `${JSON.stringify(raw)} ${code}`;
      // a layer lies on the one below, the single pour of its depth on the clay
      if (code !== "layers") expect(Math.abs(answer.peak.value - peak), told).toBeLessThan(1);
      expect(!answer.reasons.includes("never_hardens"), told).toBe(hardens);
      if (serves) {
        expect(answer.worstPeak, told).toBeLessThanOrEqual(answer.limit + 1);
        expect(answer.reasons, told).not.toContain("near_cliff");
      }
      seen.warm += Number(job.pour.stock > job.room.temperature);
      seen.serves += Number(serves);
      seen.stalls += Number(!hardens);
    }
  }
  for (const kind of Object.values(seen)) expect(kind).toBeGreaterThan(0);
}, 300_000);

test("resin that was warmed stays so in a cooler room, and not to warm it is a lever of its own", () => {
  const base =
    "bait: { thickness: 20 mm, length: 150 mm }\npour: { depth: 24 mm, thinFilm: { time: 8 h }";
  const levers = (stock: string) => {
    const { job } = checkJob(parseJobText(`${base}${stock} }`));
    return pour(job, { quick: true, brief: true }).answer.alternatives;
  };
  const warm = levers(", stock: 45 degC");
  const peakOf = (found: typeof warm, code: Lever["code"]) =>
    found.find((one) => one.code === code)?.peak;
  // nothing cools it below what it is poured at
  expect(peakOf(warm, "cooler_room")).toBeGreaterThanOrEqual(318.15);
  expect(warm.find(({ code }) => code === "unwarmed_stock")?.change).toMatchObject({
    path: "pour.stock",
    to: 293.15,
  });
  const plain = levers("");
  expect(peakOf(plain, "cooler_room")).toBeLessThan(300);
  expect(plain.map(({ code }) => code)).not.toContain("unwarmed_stock");
  // the same temperature, typed: it is that in any room
  expect(peakOf(levers(", stock: 20 degC"), "cooler_room")).toBeGreaterThanOrEqual(293.15);
});

test("nothing is laid on open resin: water is no lever of a pour", () => {
  for (const raw of drawnPours(9, 4)) {
    const { job } = checkJob(raw);
    const codes = pour(job, { quick: true, brief: true }).answer.alternatives.map((a) => a.code);
    expect(codes).not.toContain("water_back");
  }
});

// the section of every lever takes its time: in the long run
describe("a lever's figure is what is answered once it is pulled", () => {
  test.each([
    ["paddle-shad.yaml", "demold", {}],
    ["paddle-shad.yaml", "shots", { quick: true }],
    ["two-tone-belly.yaml", "layer", { quick: true }],
    ["pike-body.yaml", "sprue", {}],
    ["hot-garage.yaml", "pour", { quick: true }],
  ])(
    "%s, %s",
    (file, question, options) => {
      expect(expectKept(file, question, options)).toBeGreaterThan(1);
    },
    60_000,
  );
});

// a quarter of an hour: LONG=1 npx vitest --config tools/vitest.config.ts tests/lib/questions/levers
describe.runIf(process.env["LONG"])("over all jobs, in both looks", () => {
  test.each(
    readdirSync(folder).flatMap((file) =>
      Object.keys(ask).flatMap((question) =>
        [true, false].map((quick) => [file, question, quick] as const),
      ),
    ),
  )(
    "%s, %s, quick: %s",
    (file, question, quick) => {
      expectKept(file, question, { quick });
    },
    600_000,
  );
});

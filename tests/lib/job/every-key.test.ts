import { describe, expect, test } from "vitest";
import type { FieldMeta } from "../../../lib/job/fields.ts";
import { checkJob } from "../../../lib/job/job.ts";
import { parseJobText } from "../../../lib/job/text.ts";
import type { Job } from "../../../lib/job/types.ts";
import { withSetting } from "../../../lib/job/with-setting.ts";
import { sectionModel } from "../../../lib/models/bait/section.ts";
import { layerSection } from "../../../lib/models/layer/section.ts";
import { layerStack } from "../../../lib/models/layer/stack.ts";
import { scenarioOf, scenarioSurroundings } from "../../../lib/models/scenario.ts";
import { cycleProblem, paceOf } from "../../../lib/models/shots/cycle.ts";
import { budget } from "../../../lib/questions/budget/budget.ts";
import { demold } from "../../../lib/questions/demold/demold.ts";
import { layer } from "../../../lib/questions/layer/layer.ts";
import { mix } from "../../../lib/questions/mix/mix.ts";
import { plan } from "../../../lib/questions/plan/plan.ts";
import { pour } from "../../../lib/questions/pour/pour.ts";
import { pourProblems } from "../../../lib/questions/pour/problems.ts";
import { shots } from "../../../lib/questions/shots/shots.ts";
import { shrink } from "../../../lib/questions/shrink/shrink.ts";
import { sprueProblems } from "../../../lib/questions/sprue/problems.ts";
import { sprue } from "../../../lib/questions/sprue/sprue.ts";
import { swim } from "../../../lib/questions/swim/swim.ts";
import { walls } from "../../../lib/questions/walls/walls.ts";
import type { Kind } from "../../../lib/units/kinds.ts";
import { InputError } from "../../../lib/units/problem.ts";
import { isProblem, readQuantity, valueIn } from "../../../lib/units/quantity.ts";
import { type Leaf, leaves } from "./leaves.ts";

/** Every group and list is there, so that each of its keys can be changed. */
const FULL = `
name: All keys
materials:
  - { name: my resin, like: filled epoxy, conductivity: 0.9 W/(m K), density: 1700 kg/m3, specificHeat: 1.2 kJ/(kg K), spread: 10 % }
  - { name: my plastic, like: soft plastisol, setTemperature: 118 degC }
room: { temperature: 20 degC, air: fan }
bait:
  length: 100 mm
  stations: [{ name: body, at: 40 mm, width: 15 mm, height: 18 mm, rise: 0 mm }, { name: tail, at: 80 mm, width: 8 mm, height: 8 mm }]
mold:
  material: my resin
  back: { material: copper, thickness: 8 mm, distance: 15 mm, water: 15 degC, width: 40 mm }
  inserts: [{ material: aluminum 6061, thickness: 3 mm, distance: 6 mm, width: 40 mm }]
  cavities: 2
  length: 150 mm
shot: { material: my plastic }
layer: { depth: 4 mm, more: [{ depth: 2 mm, material: soft plastisol, temperature: 170 degC }] }
run: { fan: yes, bath: 10 s, preheat: 30 degC }
cup: { heats: [{ temperature: 175 degC, duration: 10 min }], yellowed: { temperature: 180 degC, duration: 50 min } }
pour:
  material: my resin
  depth: 40 mm
  thinFilm: { time: 4 h, at: 25 degC }
  plate: { material: aluminum 6061, thickness: 5 mm, distance: 6 mm, width: 60 mm }
mix:
  pours: [{ name: half, material: filled epoxy, volume: 300 ml, ratio: "100:12", densityA: 1.8 g/cm3, densityB: 1 g/cm3 }]
shrink: { steps: [{ name: mold, material: tin silicone }] }
swim:
  hook: { mass: 2 g, gap: 12 mm, at: 40 mm }
  otherHooks: [{ name: other, mass: 3 g, gap: 15 mm }]
  weights: [{ mass: 3 g, metal: lead, at: 30 mm }]
`;
/** What stands in the way of a key in the full job: the other of two that exclude each other. */
const BARE = `
materials: [{ name: my plastic, like: soft plastisol }]
shot: { material: my plastic }
bait: { thickness: 16 mm }
room: { air: bath }
mix: { pours: [{ material: filled epoxy, box: { length: 90 mm, width: 60 mm, height: 30 mm } }] }
pour: { potLife: { time: 25 min, mass: 500 g, at: 25 degC }, peakExotherm: { temperature: 120 degC, mass: 200 g }, depth: 40 mm }
`;
const WEIGHED = "{ bait: { thickness: 16 mm } }";
const BASES = [FULL, BARE, WEIGHED].map(parseJobText);

/** Other values that a key may take, as they are typed. */
function candidates({ kind, least, most, possible, families }: FieldMeta): string[] {
  if (kind === "material")
    return families?.includes("plastisol") && !families.includes("metal")
      ? ["firm plastisol", "soft plastisol", "floating plastisol"]
      : [
          "polyurethane",
          "filled polyurethane",
          "aluminum 6061",
          "tin silicone",
          "plaster",
          "softwood",
        ];
  if (kind === "ratio of parts") return ["100:30"];
  if (kind === "text") return [...(possible ?? []), "another"];
  if (possible) return [...possible];
  if (kind === "count") return [String(least ?? 1), "3", "2", String(most ?? 4)];
  if (least === undefined || most === undefined) return ["30"];
  const [a, b] = [least, most].map((text) => readQuantity(text, kind as Kind));
  if (isProblem(a!) || isProblem(b!)) return [least, most];
  const between = [0.02, 0.08, 0.2, 0.4, 0.6].map((share) => {
    const si = a!.value + share * (b!.value - a!.value);
    return `${Number(valueIn(si, a!.unit, kind as Kind).toPrecision(6))} ${a!.unit}`;
  });
  return [...between, most, least];
}

function jobFrom(raw: unknown): Job | null {
  try {
    return checkJob(raw).job;
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

/** What the answers rest on, without solving it: problems, and the answers that need no solve. */
const LOOKS: readonly ((job: Job) => unknown)[] = [
  (job) => mix(job).answer,
  (job) => shrink(job).answer,
  (job) => budget(job).answer,
  (job) => swim(job).answer,
  (job) => {
    const scenario = scenarioOf(job);
    const pace = { ...paceOf(scenario.job.run, job.limits.demold), timer: job.run.timer };
    return scenario.job.bait.stations.map((station) =>
      cycleProblem(
        sectionModel(scenario, station),
        pace,
        job.shot.temperature,
        scenarioSurroundings(scenario),
      ),
    );
  },
  (job) => {
    const scenario = scenarioOf(job);
    const [station] = scenario.job.bait.stations;
    return [layerSection(scenario, station!), layerStack(scenario, station!.height)];
  },
  (job) => pourProblems(job).map(({ problem }) => problem),
  (job) => sprueProblems(job),
];

function looked(look: (job: Job) => unknown, job: Job): string {
  try {
    return JSON.stringify(look(job));
  } catch (error) {
    if (error instanceof InputError) return JSON.stringify(error.problems);
    throw error;
  }
}

/** Keys that no problem shows, only what is made of its solution: by the question that reads them. */
const SOLVED: Readonly<Record<string, readonly string[]>> = {
  demold: [
    "limits.wall",
    "materials[0].spread",
    "materials[0].wallLimit",
    "uncertainty.mold",
    "uncertainty.room",
    "uncertainty.time",
  ],
  shots: ["run.session", "run.shots"],
  layer: ["layer.handling", "layer.healing", "layer.ready", "limits.bond"],
  pour: [
    "limits.peak",
    "pour.age",
    "pour.layers",
    "pour.postCure[0].hold",
    "pour.postCure[0].ramp",
    "pour.postCure[0].temperature",
  ],
  sprue: [
    "limits.fill",
    "shot.fill",
    "sprue.gate.height",
    "sprue.gate.width",
    "sprue.hold",
    "sprue.stiffSkin",
    "sprue.tolerated",
    "sprue.widest",
  ],
  walls: ["limits.stiff"],
  plan: [
    "plan.heating",
    "plan.prices.extras",
    "plan.prices.labor",
    "plan.prices.mold",
    "plan.prices.moldShots",
    "plan.prices.plastic",
    "plan.start",
  ],
};
const asked: Readonly<Record<string, (job: Job) => unknown>> = {
  demold: (job) => demold(job, { quick: true }),
  shots: (job) => shots(job, { quick: true }),
  layer: (job) => layer(job, { quick: true, further: false }),
  pour: (job) => pour(job, { quick: true }),
  sprue: (job) => sprue(job, { quick: true }),
  // a mold is poured of the resin that it is made of
  walls: (job) => {
    const pour = { ...job.pour, material: job.mold.material };
    return walls({ ...job, pour }, { quick: true, likelyOnly: true });
  },
  plan: (job) => plan(job, { quick: true }),
};
/** A small job where each of them matters, groups and lists in place. */
const SMALL = parseJobText(`
materials: [{ name: my resin, like: filled epoxy, conductivity: 0.9 W/(m K), spread: 10 % }]
bait: { thickness: 12 mm, length: 90 mm }
mold: { material: my resin }
layer: { depth: 5 mm }
sprue: { gate: { width: 3 mm, height: 3 mm, length: 2 mm } }
pour: { depth: 40 mm, material: polyurethane, postCure: [{ temperature: 60 degC, hold: 2 h }] }
plan: { prices: { mold: 40, moldShots: 100, plastic: 12 } }
`);
/** Keys that change no answer, with the reason. */
const EXCUSED: Readonly<Record<string, string>> = {
  "pour.masters.softens":
    "is read by the cut across the box alone, which takes its time: tested below",
  "fitted[0].name": "is written by fit, with its deviates",
  "fitted[0].deviates": "is a list of numbers; the tests of fit change it",
  name: "is printed above every answer",
  "bait.stations[0].name": "is printed with its station",
  "materials[0].name": "is what other keys call it by",
};
const solved = Object.values(SOLVED).flat();
const bases = BASES.map((raw) => {
  const job = jobFrom(raw)!;
  const known = new Map<number, string>();
  const before = (k: number): string => {
    if (!known.has(k)) known.set(k, looked(LOOKS[k]!, job));
    return known.get(k)!;
  };
  return { raw, before };
});

/** Some valid value of the key changes what is looked at, in one of the bases. */
function changes({ path, meta }: Leaf): boolean {
  return bases.some(({ raw, before }) =>
    candidates(meta).some((typed) => {
      let changed: unknown;
      try {
        changed = withSetting(raw, path, typed);
      } catch {
        return false; // no place for it in this base
      }
      const job = jobFrom(changed);
      return job !== null && LOOKS.some((look, k) => looked(look, job) !== before(k));
    }),
  );
}

test("every key of the job file is read: another valid value changes what an answer rests on", () => {
  expect(leaves.length).toBeGreaterThan(120);
  const paths = leaves.map(({ path }) => path);
  for (const path of [...solved, ...Object.keys(EXCUSED)]) expect(paths).toContain(path);
  const told = leaves.filter(({ path }) => !solved.includes(path) && !(path in EXCUSED));
  expect(told.filter((leaf) => !changes(leaf)).map(({ path }) => path)).toEqual([]);
}, 120_000);

describe.each(Object.entries(SOLVED))("%s", (question, paths) => {
  const ask = asked[question]!;
  const answerOf = (job: Job) => {
    const { answer, cautions } = ask(job) as { answer: unknown; cautions: unknown };
    return JSON.stringify([answer, cautions]);
  };
  const before = answerOf(jobFrom(SMALL)!);
  test.each(paths)(
    "%s is read",
    (path) => {
      const { meta } = leaves.find((leaf) => leaf.path === path)!;
      const differs = candidates(meta).some((typed) => {
        const job = jobFrom(withSetting(SMALL, path, typed));
        return job !== null && looked(() => answerOf(job), job) !== JSON.stringify(before);
      });
      expect(differs).toBe(true);
    },
    60_000,
  );
});

test("pour.masters.softens is read: masters that soften in the pour are told of", () => {
  const told = (softens: string) =>
    pour(jobFrom(withSetting(SMALL, "pour.masters.softens", softens))!).answer.reasons;
  expect(told("40 degC")).toContain("melts_master");
  expect(told("220 degC")).not.toContain("melts_master");
}, 60_000);

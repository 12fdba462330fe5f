/**
 * What sections take, counted: which method and which of the two linear solutions they are given. No answer would show a wrong
 * choice, only the clock. Compared are two ways for the same problem.
 */
import { expect, test } from "vitest";
import {
  type HeatProblem,
  makeTabulatedRateLaw,
  readSolveProblem,
  simulate,
} from "../../../lib/index.ts";
import { liningBelow } from "../../../lib/shape/parts.ts";
import { curingSlab, curingSquare } from "../../bench/problems.ts";
import { counted } from "./counted.ts";

const K = 273.15;

interface ThinSkin {
  /** Depth of the skin, m; conductivity of the mold over that of the skin. */
  readonly depth: number;
  readonly ratio: number;
  readonly until: number;
  readonly h: number;
  /** Pictures on the way: many short steps between long ones. */
  readonly pictures: number;
}

/** A thin lining of the lower half of a cavity, open to the air; steps may take 0.6 K. */
function thinSkin({ depth, ratio, until, h, pictures }: ThinSkin): HeatProblem {
  const cavity = { kind: "ellipse", axes: [0.0144, 0.012], center: [0.027, 0.026] } as const;
  const air = { kind: "exchange", h: 10, ambient: 20 + K } as const;
  const plastic = { name: "plastic", conductivity: 0.15, density: 1000, specificHeat: 1900 };
  return {
    frame: "section",
    materials: {
      plastic,
      mold: { name: "mold", conductivity: 0.15 * ratio, density: 1600, specificHeat: 1200 },
    },
    block: { width: 0.054, height: 0.052, material: "mold", initial: 20 + K },
    shapes: [
      { name: "rest", outline: cavity, material: "plastic", initial: 175 + K },
      {
        name: "skin",
        outline: liningBelow(cavity, 0.026, depth)!,
        material: "plastic",
        initial: 170 + K,
      },
    ],
    boundary: { left: air, right: air, top: air, bottom: air },
    stages: [{ until, absent: ["rest"], exposed: { ...air, h } }],
    estimateGrid: false,
    tolerance: 1e-3,
    probes: { skin: { kind: "mean", region: "skin" } },
    snapshots: Array.from({ length: pictures }, (_, i) => until * ((i + 1) / pictures) ** 2),
  };
}

/** The same, with a temperature looked for that never comes: no glance any more, it takes the method of six stages. */
const watched = (problem: HeatProblem): HeatProblem => ({
  ...problem,
  stages: problem.stages.map((s) => ({ ...s, stop: { probe: "skin", below: 100 } })),
});

const SKINS = [
  { depth: 0.0015, ratio: 10, until: 60, h: 1000 },
  { depth: 0.0006, ratio: 19, until: 60, h: 1000 },
  { depth: 0.0006, ratio: 19, until: 200, h: 1000 },
  { depth: 0.0006, ratio: 4, until: 200, h: 1000 },
];
const sum = (list: readonly number[]) => list.reduce((a, b) => a + b, 0);

test("thin skins: the method of six stages takes about as many tries as that of two, though the factored matrix is not stable for it", () => {
  // by the factored matrix alone: 1.7 to 2 times the tries
  const [six, two] = [watched, (p: HeatProblem) => p].map((way) =>
    SKINS.map((skin) => counted(way(thinSkin({ ...skin, pictures: 40 })))),
  );
  expect(sum(six!.map(({ tries }) => tries))).toBeLessThan(1.2 * sum(two!.map((c) => c.tries)));
  for (const { tries } of six!) expect(tries).toBeLessThan(90);
});

test("thin skins: a glance takes fewer linear solutions by the method of two stages than one that is watched by that of six", () => {
  const of = (way: (p: HeatProblem) => HeatProblem) =>
    SKINS.map((skin) => counted(way(thinSkin({ ...skin, pictures: 0 }))));
  const glances = of((p) => p);
  for (const { solves, tries } of glances) expect(solves / tries).toBe(2);
  for (const { solves, tries } of of(watched)) expect(solves / tries).toBe(6);
  expect(sum(glances.map(({ solves }) => solves))).toBeLessThan(
    0.8 * sum(of(watched).map(({ solves }) => solves)),
  );
});

const LAWS = {
  slow: makeTabulatedRateLaw({ law: "nth-order", A: 2e6, E: 6e4, n: 1.5 }),
  sudden: makeTabulatedRateLaw({
    law: "autocatalytic",
    A1: 1e4,
    E1: 55e3,
    A2: 8.28e5,
    E2: 5e4,
    m: 0.8,
    n: 1.4,
  }),
};

/** A box of resin around a warm core, heated from one side. Temperatures in degC. */
function resinBox(
  law: keyof typeof LAWS,
  heat: number,
  left: number,
  start: number,
  core: number,
): HeatProblem {
  return {
    frame: "section",
    materials: {
      resin: {
        name: "resin",
        conductivity: 1,
        density: 1500,
        specificHeat: 1300,
        cure: { law: LAWS[law], heat, initial: 0 },
      },
      core: { name: "core", conductivity: 1, density: 800, specificHeat: 800 },
    },
    block: { width: 0.05, height: 0.05, material: "resin", initial: start + K },
    shapes: [
      {
        name: "core",
        outline: { kind: "rectangle", size: [0.006, 0.012], center: [0.02, 0.027] },
        material: "core",
        initial: core + K,
      },
    ],
    boundary: {
      left: { kind: "held", temperature: left + K },
      right: { kind: "held", temperature: 20 + K },
      top: { kind: "exchange", h: 400, ambient: 10 + K },
      bottom: { kind: "insulated" },
    },
    stages: [{ until: 2000 }],
    times: [500, 2000],
    tolerance: 1e-3,
    resolution: 0.7,
    probes: { resin: { kind: "mean", region: "block" } },
  };
}

test.each([
  ["sudden", 1.2e5, 60, 25, 80],
  ["sudden", 1.2e5, 80, 35, 35],
  ["slow", 2.2e5, 80, 25, 35],
  ["slow", 2.2e5, 80, 25, 80],
] as const)(
  "steps that a %s reaction of %f J/kg has refused turn no section to the direct solution",
  (law, heat, left, start, core) => {
    const { refusedInARow, direct, tries } = counted(resinBox(law, heat, left, start, core));
    expect(refusedInARow).toBeGreaterThanOrEqual(2);
    expect(tries).toBeLessThan(150);
    expect(direct).toBe(0);
  },
);

test("a reaction that runs away takes hundreds of steps, and the direct solution is only tried on a few of them", () => {
  const { tries, solves, direct } = counted(resinBox("sudden", 2.2e5, 60, 25, 35));
  expect(tries).toBeGreaterThan(300);
  expect(direct).toBeGreaterThan(0);
  expect(direct / solves).toBeLessThan(0.1);
});

test("many short steps: the direct solution is tried, gets further for its work, and stays", () => {
  const skin = { depth: 0.0015, ratio: 19, until: 200, h: 10, pictures: 0 };
  const { solves, direct, refusedInARow } = counted({ ...thinSkin(skin), tolerance: 1e-6 });
  expect(direct / solves).toBeGreaterThan(0.15);
  // by the factored matrix again, such long steps would be refused
  expect(refusedInARow).toBeLessThan(2);
});

test("a section of plastic in metal is solved as it is from the start: in fewer steps than one in plaster, whose matrix is factored", () => {
  // factored it would take as many
  const skin = { ...SKINS[0]!, pictures: 0 };
  const tries = (ratio: number) =>
    counted({ ...thinSkin({ ...skin, ratio }), tolerance: 1e-4 }).tries;
  expect(tries(1000)).toBeLessThan(0.7 * tries(19));
});

test("one grid alone is run once, however rough its steps are; for two that disagree it takes more", () => {
  const law = makeTabulatedRateLaw({
    law: "autocatalytic",
    A1: 1e5,
    E1: 60e3,
    A2: 4e6,
    E2: 55e3,
    m: 0.8,
    n: 1.5,
  });
  const runsOf = (estimateGrid: boolean) => {
    let runs = 0;
    let last = Number.POSITIVE_INFINITY;
    simulate({
      frame: "slab",
      materials: {
        resin: {
          name: "resin",
          conductivity: 0.2,
          density: 1100,
          specificHeat: 1700,
          cure: { law, heat: 4e5, initial: 0 },
        },
      },
      layers: [{ name: "pour", material: "resin", thickness: 0.03, initial: 300 }],
      boundary: { left: { kind: "held", temperature: 300 } },
      stages: [{ until: 8000 }],
      times: [2000],
      estimateGrid,
      tolerance: 1e-3,
      probes: { hot: { kind: "hottest", region: "pour" } },
      // each run begins at 0 again
      follow: ({ time }) => {
        if (time < last) runs += 1;
        last = time;
      },
    });
    return runs;
  };
  expect(runsOf(false)).toBe(1);
  expect(runsOf(true)).toBeGreaterThan(2);
});

test("a resin that begins to cure by itself has no first step refused: how fast it grows is known before", () => {
  for (const json of [curingSlab, curingSquare]) {
    const problem = readSolveProblem(json);
    const early = { ...problem, stages: [{ until: 100 }] };
    // a few steps until the cure has begun, none of them tried in vain
    const { steps, rejected } = simulate({ ...early, estimateGrid: false }).effort;
    expect(rejected).toBe(0);
    expect(steps).toBeLessThan(10);
  }
});

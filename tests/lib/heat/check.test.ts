/** What a heat problem may not say: each wrong thing alone, with the path and the code that it is told by, and its fine neighbor. */
import { expect, test } from "vitest";
import { checkHeatProblem } from "../../../lib/heat/check.ts";
import type { Boundary, HeatProblem, Stage } from "../../../lib/index.ts";
import { makeRateLaw } from "../../../lib/index.ts";

const law = makeRateLaw({ law: "nth-order", A: 1e4, E: 4e4, n: 1 });
const resin = {
  name: "r",
  conductivity: { T: [280, 300, 400], value: [0.2, 0.21, 0.25] },
  density: 1100,
  specificHeat: (T: number) => 1500 + T,
  cure: { law, heat: 2e5, initial: 0.1 },
};
const wall = { name: "w", conductivity: 1, density: 2000, specificHeat: 900 };
const materials = { r: resin, w: wall };
const air: Boundary = { kind: "exchange", h: 8, ambient: 293, emissivity: 0.9 };

const layered = {
  frame: "slab",
  materials,
  layers: [
    { name: "pour", material: "r", thickness: 0.02, initial: 296, contact: 500 },
    { name: "box", material: "w", thickness: 0.01, initial: 293 },
  ],
  boundary: { left: air, right: { kind: "held", temperature: 293 } },
  stages: [
    { until: 100 },
    { until: 200, refill: [{ name: "pour", temperature: 300, material: "w" }], absent: ["box"] },
  ],
  probes: {
    c: { kind: "point", x: 0.01 },
    m: { kind: "mean", region: "pour" },
    f: { kind: "face", region: "pour", neighbor: "box", of: "hottest" },
  },
  crossings: [{ probe: "c", below: 300 }],
  resolution: 1,
  mostCells: 1e4,
  mostSteps: 1e4,
  tolerance: 1e-3,
} as const satisfies HeatProblem;

const section = {
  frame: "section",
  materials,
  block: { width: 0.04, height: 0.03, material: "w", initial: 293 },
  shapes: [
    {
      name: "e",
      outline: { kind: "ellipse", axes: [0.01, 0.008], center: [0.02, 0.015] },
      material: "r",
      initial: 296,
      contact: 500,
    },
    {
      name: "q",
      outline: { kind: "rectangle", size: [0.004, 0.003], center: [0.01, 0.015] },
      material: "w",
      initial: 296,
    },
    {
      name: "p",
      outline: {
        kind: "polygon",
        points: [
          [0.03, 0.01],
          [0.035, 0.01],
          [0.03, 0.02],
        ],
      },
      material: "w",
      initial: 296,
    },
  ],
  boundary: { left: air },
  stages: [{ until: 100 }],
  probes: { c: { kind: "point", x: 0.02, y: 0.015 } },
} as const satisfies HeatProblem;

const told = (problem: unknown) =>
  checkHeatProblem(problem as HeatProblem).map(({ path, code }) => `${path} ${code}`);

/** A problem with one value changed: `at` as in the path of an object. */
function changed(problem: object, at: string, value: unknown): object {
  const [key, ...rest] = at.split(".");
  const inner = rest.join(".");
  const known = (problem as Record<string, unknown>)[key!];
  const next = inner === "" ? value : changed((known ?? {}) as object, inner, value);
  if (!Array.isArray(problem)) return { ...problem, [key!]: next };
  return problem.map((one, i) => (String(i) === key ? next : one));
}

test("what is fine is", () => {
  expect(told(layered)).toEqual([]);
  expect(told(section)).toEqual([]);
  for (const frame of ["slab", "cylinder", "sphere"])
    expect(told({ ...layered, frame })).toEqual([]);
  expect(told({ ...section, frame: "round" })).toEqual([]);
});

const NOT_POSITIVE = [0, -1, Number.NaN, Number.POSITIVE_INFINITY];
const NO_KELVIN = [0, -5, 1e5, Number.NaN];
const NO_SHARE = [-1e-9, 1 + 1e-9, Number.NaN];
const NO_H = [-1e-9, Number.NaN, Number.POSITIVE_INFINITY];

/** Where in the problem; what it may not be; path and code. */
type Wrong = readonly [at: string, values: readonly unknown[], told: string];

const LAYERED: readonly Wrong[] = [
  ["frame", ["cone"], "frame unknown_frame"],
  ["layers.0.thickness", [0, -1, Number.NaN], "layers[0].thickness not_positive"],
  ["layers.0.initial", NO_KELVIN, "layers[0].initial temperature_impossible"],
  ["layers.1.material", ["x"], "layers[1].material unknown_material"],
  ["layers.0.contact", NOT_POSITIVE, "layers[0].contact not_positive"],
  ["layers.1.name", ["pour"], "layers[1].name name_twice"],
  ["materials.w.conductivity", NOT_POSITIVE, "materials.w.conductivity not_positive"],
  ["materials.w.density", NOT_POSITIVE, "materials.w.density not_positive"],
  ["materials.w.specificHeat", NOT_POSITIVE, "materials.w.specificHeat not_positive"],
  ["materials.r.conductivity.T", [[280, 300], []], "materials.r.conductivity table_broken"],
  ["materials.r.conductivity", [{ T: [], value: [] }], "materials.r.conductivity table_broken"],
  [
    "materials.r.conductivity.T",
    [
      [280, 300, 300],
      [280, 300, 299],
    ],
    "materials.r.conductivity[2] not_rising",
  ],
  [
    "materials.r.conductivity.value",
    [
      [0.2, 0, 0.2],
      [0.2, -1, 0.2],
    ],
    "materials.r.conductivity[1] not_positive",
  ],
  ["materials.r.cure.initial", NO_SHARE, "materials.r.cure.initial not_a_share"],
  ["materials.r.cure.heat", [0, -1, 1e8, Number.NaN], "materials.r.cure.heat not_positive"],
  ["boundary.left.h", NO_H, "boundary.left.h not_positive"],
  ["boundary.left.ambient", NO_KELVIN, "boundary.left.ambient temperature_impossible"],
  ["boundary.left.emissivity", NO_SHARE, "boundary.left.emissivity not_a_share"],
  ["boundary.right.temperature", NO_KELVIN, "boundary.right.temperature temperature_impossible"],
  [
    "boundary.right",
    [Number.NaN, Number.POSITIVE_INFINITY].map((flux) => ({ kind: "flux", flux })),
    "boundary.right.flux not_finite",
  ],
  [
    "boundary.right.temperature",
    [{ t: [0, 10], value: [293, 0] }],
    "boundary.right.temperature[1] temperature_impossible",
  ],
  [
    "boundary.right.temperature",
    [
      { t: [0, 10, 9], value: [293, 294, 295] },
      { t: [5, 5, 5], value: [293, 294, 295] },
    ],
    "boundary.right.temperature[2] not_rising",
  ],
  ["stages", [[]], "stages missing"],
  ["stages.0.until", [0, -1, Number.NaN], "stages[0].until not_rising"],
  ["stages.1.until", [100, 99, Number.POSITIVE_INFINITY], "stages[1].until not_rising"],
  ["stages.0.lasts", NOT_POSITIVE, "stages[0].lasts not_positive"],
  ["stages.0.boundary", [{ left: { ...air, h: -1 } }], "stages[0].boundary.left.h not_positive"],
  ["stages.0.exposed", [{ ...air, emissivity: 2 }], "stages[0].exposed.emissivity not_a_share"],
  ["stages.1.absent.0", ["x"], "stages[1].absent[0] unknown_region"],
  ["stages.1.refill.0.name", ["x"], "stages[1].refill[0].name unknown_region"],
  [
    "stages.1.refill.0.temperature",
    NO_KELVIN,
    "stages[1].refill[0].temperature temperature_impossible",
  ],
  ["stages.1.refill.0.material", ["x"], "stages[1].refill[0].material unknown_material"],
  ["stages.0.stop", [{ probe: "x", below: 300 }], "stages[0].stop.probe unknown_probe"],
  ["probes.c.x", [-1e-3, 0.031, Number.NaN], "probes.c outside"],
  ["probes.m.region", ["x"], "probes.m unknown_region"],
  ["probes.f.region", ["x"], "probes.f unknown_region"],
  ["probes.f.neighbor", ["x"], "probes.f unknown_region"],
  ["crossings.0.probe", ["x"], "crossings[0].probe unknown_probe"],
  ["crossings.0", [{ probe: "c" }], "crossings[0].below missing"],
  ["resolution", NOT_POSITIVE, "resolution not_positive"],
  ["mostCells", NOT_POSITIVE, "mostCells not_positive"],
  ["mostSteps", NOT_POSITIVE, "mostSteps not_positive"],
  ["tolerance", [0.9e-9, 0.11, Number.NaN], "tolerance tolerance_impossible"],
];

const SECTION: readonly Wrong[] = [
  ["block.width", NOT_POSITIVE.slice(0, 1), "block.width not_positive"],
  ["block.height", NOT_POSITIVE.slice(0, 1), "block.height not_positive"],
  ["block.initial", NO_KELVIN, "block.initial temperature_impossible"],
  ["block.material", ["x"], "block.material unknown_material"],
  ["shapes.1.name", ["e", "block"], "shapes[1].name name_twice"],
  ["shapes.0.initial", NO_KELVIN, "shapes[0].initial temperature_impossible"],
  ["shapes.0.material", ["x"], "shapes[0].material unknown_material"],
  ["shapes.0.contact", NOT_POSITIVE, "shapes[0].contact not_positive"],
  ["shapes.0.outline.axes.1", NOT_POSITIVE, "shapes[0].ellipse not_positive"],
  ["shapes.1.outline.size.0", NOT_POSITIVE, "shapes[1].rectangle not_positive"],
  [
    "shapes.2.outline.points",
    [
      [[0, 0]],
      [],
      [
        [0, 0],
        [1, 1],
      ],
    ],
    "shapes[2].polygon too_few_corners",
  ],
  ["probes.c.y", [-1e-6, 0.0301, undefined, Number.NaN], "probes.c outside"],
  ["probes.c.x", [-1e-6, 0.0401], "probes.c outside"],
];

const all = [
  ...LAYERED.map((w) => [layered, w] as const),
  ...SECTION.map((w) => [section, w] as const),
];

/** A width that is none leaves its places outside, too; a name that stands twice leaves another unknown. */
const LEADS_TO_MORE = /^(block\.|layers\.0\.thickness|layers\.1\.name|stages\.0\.until)/;

test.each(all.map(([problem, wrong]) => [`${wrong[0]}: ${wrong[2]}`, problem, wrong] as const))(
  "%s",
  (_name, problem, [at, values, expected]) => {
    for (const value of values) {
      const found = told(changed(problem, at, value));
      expect(found[0], String(value)).toBe(expected);
      if (!LEADS_TO_MORE.test(at)) expect(new Set(found)).toEqual(new Set([expected]));
    }
  },
);

test("the ends of what is allowed are allowed", () => {
  const fine: [object, string, unknown][] = [
    [layered, "materials.r.cure.initial", 0],
    [layered, "materials.r.cure.initial", 1],
    [layered, "materials.r.cure.heat", 1e-3],
    [layered, "boundary.left.h", 0],
    [layered, "boundary.left.emissivity", 0],
    [layered, "boundary.left.emissivity", 1],
    [layered, "boundary.right", { kind: "flux", flux: -100 }],
    [layered, "boundary.right", { kind: "insulated" }],
    // a jump, and a law of its own
    [layered, "boundary.right.temperature", { t: [0, 5, 5, 9], value: [293, 294, 299, 300] }],
    [layered, "boundary.right.temperature", () => -1],
    [layered, "probes.c.x", 0],
    [layered, "probes.c.x", 0.03],
    [section, "probes.c.y", 0],
    [section, "probes.c.y", 0.03],
    [layered, "tolerance", 1e-9],
    [layered, "tolerance", 0.1],
    [layered, "tolerance", undefined],
    [layered, "crossings.0", { probe: "c", above: 300 }],
    [layered, "crossings", undefined],
    [section, "shapes", undefined],
  ];
  for (const [problem, at, value] of fine)
    expect(told(changed(problem, at, value)), `${at} ${value}`).toEqual([]);
});

test("after a stage that may end early the next may have ended already; after one that may not, not", () => {
  const stages = (first: Partial<Stage>) => ({
    ...layered,
    stages: [{ until: 100, ...first }, { until: 50 }],
  });
  expect(told(stages({ stop: { probe: "c", below: 300 } }))).toEqual([]);
  expect(told(stages({ lasts: 20 }))).toEqual([]);
  expect(told(stages({}))).toEqual(["stages[1].until not_rising"]);
});

test("nothing at all, and all that is missing at once", () => {
  expect(told({ ...layered, layers: undefined, probes: {}, crossings: [], stages: [] })).toEqual([
    "layers missing",
    "stages missing",
  ]);
  expect(
    told({ ...section, block: undefined, shapes: [], probes: {}, stages: [{ until: 0 }] }),
  ).toEqual(["block missing", "stages[0].until not_rising"]);
});

test("who asks for a name that there is not is told those that there are, and what was given", () => {
  const first = (at: string, value: unknown) =>
    checkHeatProblem(changed(layered, at, value) as unknown as HeatProblem)[0];
  expect(first("probes.m.region", "x")).toMatchObject({ given: "x", possible: ["pour", "box"] });
  expect(first("layers.0.material", "x")).toMatchObject({ given: "x", possible: ["r", "w"] });
  expect(first("crossings.0.probe", "x")).toMatchObject({ given: "x", possible: ["c", "m", "f"] });
  expect(first("frame", "cone")).toMatchObject({
    given: "cone",
    possible: ["slab", "cylinder", "sphere", "section", "round"],
  });
  expect(first("tolerance", 1)).toEqual({
    code: "tolerance_impossible",
    path: "tolerance",
    given: 1,
  });
  expect(first("stages", [])).toEqual({ code: "missing", path: "stages" });
  expect(Object.keys(first("stages", [])!)).toEqual(["code", "path"]);
  const block = checkHeatProblem(
    changed(section, "block.material", "x") as unknown as HeatProblem,
  )[0];
  expect(block).toMatchObject({ possible: ["r", "w"] });
});

/** `solve`: a problem as plain data, with everything that such a problem may hold, and what comes back. */
import { describe, expect, test } from "vitest";
import { InputError, solve } from "../../../lib/index.ts";
import { readSolveProblem } from "../../../lib/solve/solve.ts";

const resin = {
  conductivity: 0.9,
  density: 1700,
  specificHeat: "1100 + 0.5*T",
  cure: {
    law: "autocatalytic",
    A1: 0,
    E1: 0,
    A2: 1e4,
    E2: 55000,
    m: 1,
    n: 2,
    heat: 90000,
    initial: 0.01,
  },
};
const plastic = {
  conductivity: [
    [20, 0.16],
    [180, 0.14],
  ],
  density: 1000,
  specificHeat: "1500 + 2.5*T",
};

const layered = {
  frame: "slab",
  materials: { m: { conductivity: 0.9, density: 1700, specificHeat: 1100 }, p: plastic },
  layers: [
    { name: "mold", material: "m", thickness: 0.04, initial: 25, contact: 2000 },
    { name: "back", material: "p", thickness: 0.006, initial: 170, contact: 2000 },
  ],
  boundary: {
    left: { h: 10, ambient: "22 + 0.001*t", emissivity: 0.9 },
    right: {
      temperature: [
        [0, 30],
        [600, 40],
      ],
    },
  },
  stages: [
    { until: 45, absent: ["back"], exposed: { h: 12, ambient: 22 } },
    {
      until: 1800,
      refill: [{ name: "back", temperature: 175 }],
      boundary: { left: "insulated" },
    },
  ],
  until: 1800,
  tolerance: 1e-4,
  probes: { wall: [0.04], face: [0.04, "right"], mean: "back" },
  times: [30, 600, 1800],
  crossings: [{ probe: "mean", below: 50 }],
};

test("layers in stages: absent, exposed, refilled, boundaries of time, crossings", () => {
  const found = solve(layered);
  expect(Object.keys(found)).toEqual(
    expect.arrayContaining([
      "question",
      "times",
      "probes",
      "crossings",
      "extremes",
      "cure",
      "effort",
    ]),
  );
  // empty space has no temperature
  expect(found.probes["mean"]?.[0]).toBeNull();
  expect(found.probes["wall"]?.[0]).not.toBeNull();
  expect(found.stageEnds).toEqual([45, 1800]);
  const time = found.crossings[0]?.time as number;
  expect(time).toBeGreaterThan(45);
  expect(time).toBeLessThan(600);
  // the held side decides in the end: 40 degC on the right, nothing lost on the left
  const [, , late] = found.probes["mean"] as [number, number, number];
  expect(Math.abs(late - 40)).toBeLessThan(3);
  const {
    max,
    time: at,
    min,
  } = found.extremes["face"] as { max: number; time: number; min: number };
  expect(max).toBeGreaterThan(60);
  expect(at).toBeGreaterThanOrEqual(45);
  expect(min).toBeGreaterThan(20);
  expect(Math.abs(found.effort.energyImbalance)).toBeLessThan(1e-8);
});

test("shapes in a block: polygon in a rectangle in an ellipse, contact around each, what cures", () => {
  const found = solve({
    frame: "section",
    materials: { m: resin, p: plastic },
    block: { width: 0.08, height: 0.06, material: "m", initial: 25 },
    shapes: [
      {
        name: "bait",
        ellipse: [0.028, 0.016],
        center: [0.04, 0.03],
        material: "p",
        initial: 175,
        contact: 1000,
      },
      {
        name: "plate",
        rectangle: [0.01, 0.02],
        center: [0.01, 0.03],
        material: "m",
        initial: 20,
      },
      {
        name: "rib",
        polygon: [
          [0.06, 0.02],
          [0.07, 0.02],
          [0.065, 0.03],
        ],
        material: "p",
        initial: 60,
      },
    ],
    boundary: {
      left: { h: 10, ambient: 22 },
      right: { temperature: 30 },
      top: { flux: 500 },
      bottom: "insulated",
    },
    until: 300,
    tolerance: 1e-3,
    probes: { center: [0.04, 0.03], rib: "rib", plate: "plate" },
    times: [0, 300],
  });
  expect(found.probes["center"]?.[0]).toBeCloseTo(175, 6);
  expect(found.probes["center"]?.[1]).toBeLessThan(175);
  const cured = found.cure["plate"] as readonly number[];
  expect(cured[0]).toBeGreaterThan(0);
  expect(cured[1]).toBeGreaterThan(cured[0] as number);
  expect(Math.abs(found.effort.energyImbalance)).toBeLessThan(1e-8);
});

test("a stage is not stopped by a probe whose place is empty", () => {
  const [first, second] = layered.stages as [object, object];
  const stages = [{ ...first, stop: { probe: "mean", above: 100 } }, second];
  expect(solve({ ...layered, stages }).stageEnds).toEqual([45, 1800]);
});

test("every mistake of a problem at once, each with its path", () => {
  const wrong = {
    ...layered,
    frame: "slab",
    until: -1,
    layers: [{ name: "mold", material: "nothing", thickness: -0.04, initial: 25 }],
    probes: { wall: [0.4] },
  };
  expect.assertions(2);
  try {
    solve(wrong);
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    const paths = (error as InputError).problems.map(({ path }) => path);
    expect(paths).toEqual(expect.arrayContaining(["until", "layers[0].thickness"]));
  }
});

describe("a problem file at fault", () => {
  const material = { conductivity: 0.2, density: 1000, specificHeat: 1800 };
  const found = (input: unknown) => {
    try {
      readSolveProblem(input);
    } catch (error) {
      if (error instanceof InputError)
        return error.problems.map(({ path, code }) => `${path}: ${code}`).sort();
      throw error;
    }
    return [];
  };
  const layer = { name: "a", material: "p", thickness: 0.01, initial: 20 };
  const whole = {
    frame: "slab",
    materials: { p: material },
    layers: [layer],
    boundary: { left: { temperature: 80 } },
    until: 10,
    probes: { c: "a" },
    times: [10],
  };

  test("mistakes of its form and in what it says are told together", () => {
    expect(found(whole)).toEqual([]);
    const broken = {
      ...whole,
      layers: [
        { ...layer, initial: "hot" },
        { ...layer, material: "q", thickness: -0.01 },
      ],
      boundary: { left: "cold", front: "insulated", right: { h: -40, ambient: 20 } },
      probes: { c: { hotest: "a" }, mean: "zz" },
      foo: 1,
    };
    expect(found(broken)).toEqual([
      "boundary.front: unknown_key",
      "boundary.left: not_a_boundary",
      "boundary.right.h: not_positive",
      "foo: unknown_key",
      "layers[0].initial: not_a_number",
      "layers[1].material: unknown_material",
      "layers[1].name: name_twice",
      "layers[1].thickness: not_positive",
      "probes.c: not_a_probe",
      "probes.mean: unknown_region",
    ]);
  });

  // each fault of the form alone brings no second complaint about what stands in for it
  test.each([
    [{ until: "soon" }, ["until: not_possible"]],
    [{ until: -9, times: [] }, ["until: not_positive"]],
    [
      { probes: { c: { cure: "A" } }, crossings: [{ probe: "c", below: 50 }] },
      ["probes.c: not_a_probe"],
    ],
    [{ layers: [{ ...layer, thickness: undefined }] }, ["layers[0].thickness: missing"]],
    [{ layers: { a: layer } }, ["layers: not_a_list"]],
    [{ materials: { p: { ...material, density: {} } } }, ["materials.p.density: not_a_law"]],
    [{ frame: "cube" }, ["frame: not_possible"]],
    [
      { materials: { p: { ...material, cure: { law: "nth", heat: 3e5 } } } },
      ["A", "E", "n"].map((key) => `materials.p.cure.${key}: missing`),
    ],
  ])("%j", (changed, problems) => {
    expect(found({ ...whole, ...changed })).toEqual(problems);
  });

  test.each([[[]], [null], [3], ["text"]])("%j is no group of keys", (input) => {
    expect(found(input)).toEqual([": not_a_group"]);
  });
});

test("a grid too coarse for its probe says so where no tolerance was asked for, and no more than it is off by much", () => {
  // two thick bodies that touch, Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. 1959, section 2.15
  const slab = {
    frame: "slab",
    materials: {
      plastic: { conductivity: 0.15, density: 1000, specificHeat: 2000 },
      metal: { conductivity: 170, density: 2700, specificHeat: 900 },
    },
    layers: [
      { name: "plastic", material: "plastic", thickness: 0.2, initial: 170 },
      { name: "metal", material: "metal", thickness: 3, initial: 20 },
    ],
    boundary: { left: "insulated", right: "insulated" },
    until: 60,
    times: [60],
    probes: { at: [0.198] },
  };
  const effusivity = (k: number, c: number) => Math.sqrt(k * c);
  const [cold, warm] = [effusivity(170, 2.43e6), effusivity(0.15, 2e6)];
  const face = (20 * cold + 170 * warm) / (cold + warm);
  // erf(0.002 / (2 sqrt(0.15 / 2e6 * 60))) = erf(0.4714), Abramowitz & Stegun, Handbook of Mathematical Functions, table 7.1: 0.4950
  const exact = face + (170 - face) * 0.495;
  const coarse = solve(slab);
  const off = Math.abs(coarse.probes["at"]![0]! - exact);
  expect(off).toBeGreaterThan(1);
  expect(coarse.notes.join()).toMatch(/values may be \d+(\.\d+)? K off on this grid/);
  // a hundredth of the span of 150 K
  const fine = solve({ ...slab, tolerance: 0.01 });
  expect(Math.abs(fine.probes["at"]![0]! - exact)).toBeLessThan(1.5);
  expect(fine.notes).toEqual([]);
});

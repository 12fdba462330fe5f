/** A section cut at its mirrors: what is left of the problem, when there is no mirror, and the whole picture again. */
import { expect, test } from "vitest";
import { foldSymmetric, unfoldAlong } from "../../../lib/heat/symmetry.ts";
import type { HeatProblem, Outline, Probe } from "../../../lib/index.ts";

const m = { name: "m", conductivity: 1, density: 1000, specificHeat: 1000 };
const air = { kind: "exchange", h: 8, ambient: 293 } as const;
const held = { kind: "held", temperature: 300 } as const;
const shape = (outline: Outline) => ({ name: "s", outline, material: "m", initial: 350 });
const BOX: Outline = { kind: "rectangle", size: [2, 1], center: [5, 3] };

function section(outline: Outline = BOX, more: Partial<HeatProblem> = {}): HeatProblem {
  return {
    frame: "section",
    materials: { m },
    block: { width: 10, height: 6, material: "m", initial: 300 },
    shapes: [shape(outline)],
    boundary: { left: air, right: air, bottom: held, top: held },
    stages: [{ until: 1 }],
    probes: {},
    ...more,
  };
}
const mirrorsOf = (problem: HeatProblem) => foldSymmetric(problem).problem.mirrors ?? [];

test("the upper right quarter is left, moved to the corner; its lower and left sides are mirrors", () => {
  const { problem } = foldSymmetric(section());
  expect(problem.block).toEqual({ width: 5, height: 3, material: "m", initial: 300 });
  expect(problem.mirrors).toEqual(["left", "bottom"]);
  expect(problem.boundary).toEqual({
    left: { kind: "insulated" },
    right: air,
    bottom: { kind: "insulated" },
    top: held,
  });
  expect(problem.shapes).toEqual([shape({ kind: "rectangle", size: [2, 1], center: [0, 0] })]);
});

test("a mirror along one axis alone leaves the other as it is", () => {
  const upright = foldSymmetric(
    section({ kind: "ellipse", axes: [2, 1], center: [5, 2] }, { mirrors: ["top"] }),
  ).problem;
  expect(upright.mirrors).toEqual(["top", "left"]);
  expect(upright.block).toMatchObject({ width: 5, height: 6 });
  expect(upright.shapes?.[0]?.outline).toMatchObject({ center: [0, 2] });
  const flat = foldSymmetric(section({ kind: "ellipse", axes: [2, 1], center: [4, 3] })).problem;
  expect(flat.mirrors).toEqual(["bottom"]);
  expect(flat.block).toMatchObject({ width: 10, height: 3 });
  expect(flat.shapes?.[0]?.outline).toMatchObject({ center: [4, 0] });
});

test("a probe reads the image of its place, from the side that faces it there", () => {
  const at = (x: number, y: number, side?: "left" | "right"): Probe => ({
    kind: "point",
    x,
    y,
    ...(side ? { side } : {}),
  });
  const mean: Probe = { kind: "mean", region: "s" };
  const probes = {
    a: at(1, 1),
    b: at(9, 5),
    c: at(5, 3),
    d: at(4, 2, "left"),
    e: at(4, 4, "right"),
    f: at(6, 2, "left"),
    mean,
  };
  const wanted = {
    a: at(4, 2),
    b: at(4, 2),
    c: at(0, 0),
    d: at(1, 1, "right"),
    e: at(1, 1, "left"),
    f: at(1, 1, "left"),
    mean,
  };
  const { problem } = foldSymmetric(
    section(BOX, { boundary: { left: air, right: air }, probes: { ...probes } }),
  );
  // along y a side says nothing: cut along x alone
  const upright = foldSymmetric(
    section({ ...BOX, center: [5, 2] } as Outline, { probes: { ...probes } }),
  ).problem;
  expect(upright.probes).toEqual({
    a: at(4, 1),
    b: at(4, 5),
    c: at(0, 3),
    d: at(1, 2, "right"),
    e: at(1, 4, "left"),
    f: at(1, 2, "left"),
    mean,
  });
  for (const name of ["a", "b", "c", "mean"] as const)
    expect(problem.probes[name]).toEqual(wanted[name]);
});

test("overrides of a stage stay, but for that of the mirror", () => {
  const stages = [
    { until: 1 },
    { until: 2, boundary: { left: held, right: held, top: air, bottom: air } },
  ];
  const { problem } = foldSymmetric(section(BOX, { stages }));
  expect(problem.stages).toEqual([{ until: 1 }, { until: 2, boundary: { right: held, top: air } }]);
});

const table = (last: number) =>
  ({ kind: "held", temperature: { t: [0, 10], value: [300, last] } }) as const;
const wave = (t: number) => 300 + t;

test.each<[what: string, isMirror: boolean, boundary: HeatProblem["boundary"]]>([
  ["two that are left out", true, {}],
  ["one that is left out", false, { left: air }],
  ["the other one", false, { right: air }],
  ["two kinds", false, { left: air, right: held }],
  ["two numbers", false, { left: air, right: { ...air, h: 9 } }],
  ["one that radiates, too", false, { left: air, right: { ...air, emissivity: 0.9 } }],
  ["the other that radiates", false, { left: { ...air, emissivity: 0.9 }, right: air }],
  ["the same written twice", true, { left: { ...air }, right: { ...air } }],
  ["one table written twice", true, { left: table(310), right: table(310) }],
  ["two tables", false, { left: table(310), right: table(311) }],
  [
    "one law",
    true,
    { left: { kind: "held", temperature: wave }, right: { kind: "held", temperature: wave } },
  ],
  [
    "two laws",
    false,
    {
      left: { kind: "held", temperature: wave },
      right: { kind: "held", temperature: (t) => 301 + t },
    },
  ],
  ["a law and a number", false, { left: { kind: "held", temperature: wave }, right: held }],
])("sides of a mirror have the same surroundings: %s", (_what, isMirror, boundary) => {
  const upright: Outline = { kind: "rectangle", size: [2, 1], center: [5, 2] };
  expect(mirrorsOf(section(upright, { boundary }))).toEqual(isMirror ? ["left"] : []);
  const stages = [{ until: 1 }, { until: 2, boundary }];
  expect(mirrorsOf(section(upright, { boundary: {}, stages }))).toEqual(isMirror ? ["left"] : []);
});

const polygon = (...points: (readonly [number, number])[]): Outline => ({
  kind: "polygon",
  points,
});

test.each<[what: string, mirrors: readonly string[], outline: Outline]>([
  ["a box beside the middle", [], { kind: "rectangle", size: [2, 1], center: [5.001, 2.999] }],
  ["a triangle on its side", ["left"], polygon([3, 1], [7, 1], [5, 5])],
  ["the same from another corner, the other way", ["left"], polygon([5, 5], [7, 1], [3, 1])],
  ["a triangle that points right", ["bottom"], polygon([3, 1], [7, 3], [3, 5])],
  ["a diamond", ["left", "bottom"], polygon([3, 3], [5, 1], [7, 3], [5, 5])],
  ["a slanted one", [], polygon([3, 1], [6, 1], [7, 5], [4, 5])],
  ["one corner out of place", [], polygon([3, 1], [7, 1.001], [5, 5])],
  ["the other", [], polygon([3, 1], [7.001, 1], [5, 5])],
  // its corners are mirror images, its edges are not
  [
    "a bow with its corners in another order",
    ["left"],
    polygon([3, 1], [7, 1], [6, 3], [7, 5], [3, 5], [4, 3]),
  ],
  [
    "edges that no mirror knows",
    [],
    polygon([3, 1], [7, 1], [7, 5], [6, 4], [5, 2], [4, 4], [6, 2.5], [4, 2.5], [3, 5]),
  ],
])("an outline is its own image: %s", (what, mirrors, outline) => {
  expect(mirrorsOf(section(outline))).toEqual(
    what.startsWith("a bow") ? ["left", "bottom"] : mirrors,
  );
});

test("a hole beside the middle is no mirror's, and moves with its outline", () => {
  const square: [number, number][] = [
    [3, 1],
    [7, 1],
    [7, 5],
    [3, 5],
  ];
  const hole = (by: number): [number, number][] => [
    [4 + by, 2],
    [6 + by, 2],
    [6 + by, 3],
    [4 + by, 3],
  ];
  const holed = (by: number): Outline => ({ kind: "polygon", points: square, holes: [hole(by)] });
  expect(mirrorsOf(section(holed(0.1)))).toEqual([]);
  const { problem } = foldSymmetric(section(holed(0)));
  expect(problem.mirrors).toEqual(["left"]);
  expect(problem.shapes?.[0]?.outline).toEqual({
    kind: "polygon",
    points: square.map(([x, y]) => [x - 5, y]),
    holes: [hole(0).map(([x, y]) => [x - 5, y])],
  });
  const plain = foldSymmetric(section({ kind: "polygon", points: square })).problem;
  expect(plain.shapes?.[0]?.outline).toEqual({
    kind: "polygon",
    points: square.map(([x, y]) => [x - 5, y - 3]),
  });
});

test("one shape that no mirror knows is enough, and a section without shapes has both", () => {
  const both = [shape(BOX), shape({ ...BOX, center: [4, 2] } as Outline)];
  expect(mirrorsOf(section(BOX, { shapes: both }))).toEqual([]);
  const { shapes: _none, ...bare } = section();
  expect(mirrorsOf(bare)).toEqual(["left", "bottom"]);
  expect(foldSymmetric(bare).problem).not.toHaveProperty("shapes");
});

test("a body around an axis is cut along it only, layers and what is asked whole are not", () => {
  expect(mirrorsOf(section(BOX, { frame: "round" }))).toEqual(["bottom"]);
  const whole = section(BOX, { useSymmetry: false });
  expect(foldSymmetric(whole).problem).toBe(whole);
  expect(mirrorsOf(section(BOX, { useSymmetry: true }))).toEqual(["left", "bottom"]);
  const layers: HeatProblem = {
    frame: "slab",
    materials: { m },
    layers: [{ name: "a", material: "m", thickness: 1, initial: 300 }],
    boundary: { left: air, right: air },
    stages: [{ until: 1 }],
    probes: {},
  };
  expect(foldSymmetric(layers).problem).toBe(layers);
});

/** A picture of two by two cells whose lines grow. */
const quarter = {
  time: 7,
  x: Float32Array.of(0, 1, 3),
  y: Float32Array.of(0, 2, 6),
  temperature: Float32Array.of(1, 2, 3, 4),
  cure: Float32Array.of(5, 6, 7, 8),
};

test("a picture has its image beyond its left side, and starts at 0 again", () => {
  expect(unfoldAlong(quarter, 0)).toEqual({
    time: 7,
    x: Float32Array.of(0, 2, 3, 4, 6),
    y: quarter.y,
    temperature: Float32Array.of(2, 1, 1, 2, 4, 3, 3, 4),
    cure: Float32Array.of(6, 5, 5, 6, 8, 7, 7, 8),
  });
});

test("and below it; one without cure has none", () => {
  const { cure: _none, ...plain } = quarter;
  expect(unfoldAlong(plain, 1)).toEqual({
    time: 7,
    x: quarter.x,
    y: Float32Array.of(0, 4, 6, 8, 12),
    temperature: Float32Array.of(3, 4, 1, 2, 1, 2, 3, 4),
  });
});

test("both mirrors give four images of the quarter, around the middle", () => {
  const { unfold } = foldSymmetric(section());
  const { temperature, x, y } = unfold(quarter);
  expect([...x]).toEqual([0, 2, 3, 4, 6]);
  expect([...y]).toEqual([0, 4, 6, 8, 12]);
  const far = [4, 3, 3, 4];
  const near = [2, 1, 1, 2];
  expect([...temperature]).toEqual([...far, ...near, ...near, ...far]);
  const none = foldSymmetric(section(BOX, { useSymmetry: false }));
  expect(none.unfold(quarter)).toBe(quarter);
});

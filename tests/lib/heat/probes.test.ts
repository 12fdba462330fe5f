/**
 * A field that is a line across the whole body, though outlines of one material cut it up: what probes read must not know of
 * them. Circle, slanted polygon, rectangle; points inside, on outlines, faces and corners; extremes, means and faces of regions.
 */
import { describe, expect, test } from "vitest";
import type { HeatProblem, Probe, Shape } from "../../../lib/heat/problem.ts";
import { simulate } from "../../../lib/heat/simulate.ts";
import type { Outline } from "../../../lib/shape/outline.ts";

const [WIDTH, HEIGHT] = [0.06, 0.04];
const [COLD, HOT] = [300, 400];
const m = { name: "m", conductivity: 0.4, density: 1200, specificHeat: 1500 };

const CIRCLE = { x: 0.02, y: 0.018, r: 0.0091 };
const SLANTED: Outline = {
  kind: "polygon",
  points: [
    [0.038, 0.011],
    [0.053, 0.017],
    [0.05, 0.033],
    [0.036, 0.029],
  ],
};
const shape = (name: string, outline: Outline): Shape => ({
  name,
  outline,
  material: "m",
  initial: 340,
});
const shapes: readonly Shape[] = [
  shape("circle", {
    kind: "ellipse",
    axes: [2 * CIRCLE.r, 2 * CIRCLE.r],
    center: [CIRCLE.x, CIRCLE.y],
  }),
  shape("slanted", SLANTED),
  shape("box", { kind: "rectangle", size: [0.013, 0.006], center: [0.0125, 0.035] }),
];

function problemAlong(axis: "x" | "y", probes: Record<string, Probe>, resolution = 1): HeatProblem {
  const held = (temperature: number) => ({ kind: "held", temperature }) as const;
  const insulated = { kind: "insulated" } as const;
  return {
    frame: "section",
    materials: { m },
    block: { width: WIDTH, height: HEIGHT, material: "m", initial: 340 },
    shapes,
    boundary:
      axis === "x"
        ? { left: held(COLD), right: held(HOT), top: insulated, bottom: insulated }
        : { bottom: held(COLD), top: held(HOT), left: insulated, right: insulated },
    stages: [{ until: 1 }],
    steady: true,
    resolution,
    estimateGrid: false,
    probes,
  };
}
const lineAt = (axis: "x" | "y", x: number, y: number) =>
  COLD + (HOT - COLD) * (axis === "x" ? x / WIDTH : y / HEIGHT);

/** How far a place is from the outlines that do not run along the grid, m. */
function fromOutlines(x: number, y: number): number {
  const round = Math.abs(Math.hypot(x - CIRCLE.x, y - CIRCLE.y) - CIRCLE.r);
  const corners = (SLANTED as { points: readonly (readonly [number, number])[] }).points;
  const toEdges = corners.map(([a, b], i) => {
    const [c, d] = corners[(i + 1) % corners.length]!;
    const along = ((x - a) * (c - a) + (y - b) * (d - b)) / ((c - a) ** 2 + (d - b) ** 2);
    const at = Math.min(1, Math.max(0, along));
    return Math.hypot(x - a - at * (c - a), y - b - at * (d - b));
  });
  return Math.min(round, ...toEdges);
}

/** Places over the whole section, its edges and corners; and on the outlines. */
const places: [number, number][] = [];
for (let i = 0; i <= 14; i++)
  for (let j = 0; j <= 10; j++) places.push([(i / 14) * WIDTH, (j / 10) * HEIGHT]);
for (let i = 0; i < 16; i++) {
  const angle = 0.1 + (i / 16) * 2 * Math.PI;
  places.push([CIRCLE.x + CIRCLE.r * Math.cos(angle), CIRCLE.y + CIRCLE.r * Math.sin(angle)]);
}
for (const [x, y] of [
  [0.006, 0.035],
  [0.019, 0.0343],
  [0.0125, 0.032],
  [0.01, 0.038],
  [0.006, 0.032],
  [0.019, 0.038],
] as const)
  places.push([x, y]);

describe.each(["x", "y"] as const)("a line along %s", (axis) => {
  test("is read at every place, also beside cells that outlines cut", () => {
    for (const resolution of [1, 0.6]) {
      const probes = Object.fromEntries(
        places.map(([x, y], i) => [`${i}`, { kind: "point", x, y } as const]),
      );
      const { extremes } = simulate(problemAlong(axis, probes, resolution));
      let exact = 0;
      places.forEach(([x, y], i) => {
        const found = extremes[`${i}`]!.max;
        const off = Math.abs(found - lineAt(axis, x, y));
        // alone in a cell that is cut, its middle: no more than half of it away
        const gradient = (HOT - COLD) / (axis === "x" ? WIDTH : HEIGHT);
        const near = fromOutlines(x, y) < 0.0025 / resolution;
        expect(off, `${x} ${y}`).toBeLessThan(near ? (0.0013 / resolution) * gradient : 1e-6);
        if (off < 1e-6) exact += 1;
      });
      // and most of those beside an outline, too
      expect(exact / places.length).toBeGreaterThan(0.8);
    }
  });
  test("hottest, coldest and mean of a region are those of the line in it", () => {
    const of = (kind: "hottest" | "coldest" | "mean", region: string): Probe => ({ kind, region });
    const kinds = ["hottest", "coldest", "mean"] as const;
    const probes = Object.fromEntries(
      kinds.flatMap((kind) =>
        ["circle", "slanted", "box", "block"].map((name) => [`${kind} ${name}`, of(kind, name)]),
      ),
    );
    const { extremes } = simulate(problemAlong(axis, probes));
    const at = (name: string) => extremes[name]!.max;
    const [low, high] =
      axis === "x"
        ? [lineAt("x", CIRCLE.x - CIRCLE.r, 0), lineAt("x", CIRCLE.x + CIRCLE.r, 0)]
        : [lineAt("y", 0, CIRCLE.y - CIRCLE.r), lineAt("y", 0, CIRCLE.y + CIRCLE.r)];
    const middle = lineAt(axis, CIRCLE.x, CIRCLE.y);
    expect(Math.abs(at("mean circle") - middle)).toBeLessThan(0.02 * (high - low));
    expect(Math.abs(at("hottest circle") - high)).toBeLessThan(0.03 * (high - low));
    expect(Math.abs(at("coldest circle") - low)).toBeLessThan(0.03 * (high - low));
    expect(at("mean box")).toBeCloseTo(lineAt(axis, 0.0125, 0.035), 6);
    expect(at("hottest box")).toBeCloseTo(lineAt(axis, 0.019, 0.038), 6);
    expect(at("coldest box")).toBeCloseTo(lineAt(axis, 0.006, 0.032), 6);
    expect(at("hottest block")).toBeCloseTo(HOT, 6);
    expect(at("coldest block")).toBeCloseTo(COLD, 6);
    // all regions together have the mean of the body, by their areas
    const area = { circle: Math.PI * CIRCLE.r ** 2, box: 0.013 * 0.006, slanted: 0 };
    const corners = (SLANTED as { points: readonly (readonly [number, number])[] }).points;
    corners.forEach(([x, y], i) => {
      const [u, v] = corners[(i + 1) % 4]!;
      area.slanted += 0.5 * (x * v - u * y);
    });
    const block = WIDTH * HEIGHT - area.circle - area.box - area.slanted;
    const sum =
      area.circle * at("mean circle") +
      area.box * at("mean box") +
      area.slanted * at("mean slanted") +
      block * at("mean block");
    expect(sum / (WIDTH * HEIGHT)).toBeCloseTo(350, 1);
  });
  test("a hot lining that looks out is as hot in a section as round an axis: its profile does not go on into the air", () => {
    const materials = {
      plastic: { name: "plastic", conductivity: 0.16, density: 1150, specificHeat: 1900 },
      mold: { name: "mold", conductivity: 1.3, density: 1700, specificHeat: 1100 },
    };
    const exposed = { kind: "exchange", h: 12, ambient: 293 } as const;
    const stages = [
      {
        until: 15,
        absent: ["hole"],
        exposed,
        refill: [{ name: "lining", temperature: 443 }],
      },
    ];
    const asked = { materials, stages, times: [5, 10, 15], estimateGrid: false } as const;
    const ends = { hot: { kind: "hottest", region: "lining" } } as const;
    for (const [outer, lining] of [
      [8, 2],
      [12, 2],
      [8, 1.2],
      [6, 3],
    ].map(([r, t]) => [r! / 1e3, t! / 1e3] as const)) {
      const round = simulate({
        ...asked,
        frame: "cylinder",
        layers: [
          { name: "hole", material: "plastic", thickness: outer - lining, initial: 293 },
          { name: "lining", material: "plastic", thickness: lining, initial: 293 },
          { name: "mold", material: "mold", thickness: 0.02, initial: 293 },
        ],
        boundary: { right: { kind: "insulated" } },
        probes: ends,
      }).probes["hot"]!;
      const size = 2 * outer + 0.04;
      const disk = (name: string, radius: number): Shape => ({
        name,
        material: "plastic",
        initial: 293,
        outline: { kind: "ellipse", axes: [2 * radius, 2 * radius], center: [size / 2, size / 2] },
      });
      for (const resolution of [0.8, 1, 1.5]) {
        const section = simulate({
          ...asked,
          resolution,
          frame: "section",
          block: { width: size, height: size, material: "mold", initial: 293 },
          shapes: [disk("lining", outer), disk("hole", outer - lining)],
          boundary: {
            left: { kind: "insulated" },
            right: { kind: "insulated" },
            top: { kind: "insulated" },
            bottom: { kind: "insulated" },
          },
          probes: ends,
        }).probes["hot"]!;
        for (let i = 0; i < 3; i++)
          expect(
            Math.abs(section[i]! - round[i]!),
            `${outer} ${lining} ${resolution} ${i}: ${section[i]} for ${round[i]}`,
          ).toBeLessThan(2);
      }
    }
  });
  test("faces of a region with its neighbor run from its coldest to its hottest edge, from either side", () => {
    const face = (region: string, neighbor: string, of: "hottest" | "coldest" | "mean"): Probe => ({
      kind: "face",
      region,
      neighbor,
      of,
    });
    const probes: Record<string, Probe> = {};
    for (const of of ["hottest", "coldest", "mean"] as const)
      for (const name of ["circle", "box", "slanted"]) {
        probes[`${of} ${name}`] = face(name, "block", of);
        probes[`${of} around ${name}`] = face("block", name, of);
      }
    const { extremes } = simulate(problemAlong(axis, probes));
    const at = (name: string) => extremes[name]!.max;
    const span = (lowest: number, highest: number) => [
      lineAt(axis, lowest, lowest),
      lineAt(axis, highest, highest),
    ];
    const edges = {
      circle:
        axis === "x"
          ? span(CIRCLE.x - CIRCLE.r, CIRCLE.x + CIRCLE.r)
          : span(CIRCLE.y - CIRCLE.r, CIRCLE.y + CIRCLE.r),
      box: axis === "x" ? span(0.006, 0.019) : span(0.032, 0.038),
      slanted: axis === "x" ? span(0.036, 0.053) : span(0.011, 0.033),
    };
    for (const [name, [low, high]] of Object.entries(edges)) {
      const within = name === "box" ? 1e-6 : 0.06 * (high! - low!);
      for (const around of ["", "around "]) {
        expect(Math.abs(at(`hottest ${around}${name}`) - high!), name).toBeLessThan(within);
        expect(Math.abs(at(`coldest ${around}${name}`) - low!), name).toBeLessThan(within);
      }
      const [inside, outside] = [at(`mean ${name}`), at(`mean around ${name}`)];
      expect(Math.abs(inside - outside)).toBeLessThan(
        1e-6 + (name === "box" ? 0 : 0.02 * (high! - low!)),
      );
      if (name !== "slanted")
        expect(Math.abs(inside - (low! + high!) / 2)).toBeLessThan(0.02 * (high! - low!));
    }
  });
});

/**
 * Fields that are lines between interfaces: whatever the grid, every kind of probe reads them to rounding. Series of resistances,
 * along either axis of a section, in layers, and along the axis of what is turned.
 */
import { describe, expect, test } from "vitest";
import {
  type Boundary,
  type HeatProblem,
  type Outline,
  type Probe,
  type Side,
  simulate,
} from "../../../lib/index.ts";

const K = 273.15;
/** From one end to the other: wall, plate, wall. m, W/(m K), W/(m2 K). */
const PLACES = [0, 0.0117, 0.0206, 0.033] as const;
const CONDUCTIVITY = [0.8, 0.3, 0.8] as const;
const CONTACT = 90;
const [COLD, HOT] = [20 + K, 120 + K];
/** Across the line. */
const WIDE = 0.0241;

const resistances = CONDUCTIVITY.map((k, i) => (PLACES[i + 1]! - PLACES[i]!) / k);
const flow = (HOT - COLD) / (resistances.reduce((a, b) => a + b) + 2 / CONTACT);

/** Temperature at a place, of the part before an interface or the one behind it. */
function exact(at: number, side: "before" | "behind" = "before"): number {
  let T = COLD;
  for (const [i, k] of CONDUCTIVITY.entries()) {
    const [from, to] = [PLACES[i]!, PLACES[i + 1]!];
    if (i > 0) T += flow / CONTACT;
    if (at < to || (at === to && side === "before") || i === 2) return T + (flow * (at - from)) / k;
    T += (flow * (to - from)) / k;
  }
  return T;
}

interface Asked {
  readonly probe: Probe;
  readonly T: number;
}

/** What is asked for in a line along `axis`; `regions` names wall, plate, wall. */
function asked(
  axis: "x" | "y" | "layer",
  regions: readonly [string, string, string],
): Record<string, Asked> {
  const found: Record<string, Asked> = {};
  const ats = [0, 0.0003, 0.0041, 0.0113, 0.0119, 0.0153, 0.0204, 0.0209, 0.0272, 0.0327, 0.033];
  for (const at of ats)
    for (const across of axis === "layer" ? [0] : [0, 0.0007, 0.0119, 0.0238, WIDE]) {
      const [x, y] = axis === "y" ? [across, at] : [at, across];
      const probe: Probe = { kind: "point", x, ...(axis === "layer" ? {} : { y }) };
      found[`${at} ${across}`] = { probe, T: exact(at) };
    }
  const plate = regions[1];
  const [first, last] = [exact(PLACES[1], "behind"), exact(PLACES[2])];
  found["hottest of the plate"] = { probe: { kind: "hottest", region: plate }, T: last };
  found["coldest of the plate"] = { probe: { kind: "coldest", region: plate }, T: first };
  found["mean of the plate"] = { probe: { kind: "mean", region: plate }, T: (first + last) / 2 };
  if (regions[0] !== regions[2]) {
    const face = (of: "hottest" | "coldest" | "mean", region: string, neighbor: string): Probe => ({
      kind: "face",
      region,
      neighbor,
      of,
    });
    for (const of of ["hottest", "coldest", "mean"] as const) {
      found[`${of}, wall to plate`] = { probe: face(of, regions[0], plate), T: exact(PLACES[1]) };
      found[`${of}, plate to wall`] = { probe: face(of, plate, regions[0]), T: first };
      found[`${of}, plate to the other wall`] = { probe: face(of, plate, regions[2]), T: last };
      found[`${of}, other wall to plate`] = {
        probe: face(of, regions[2], plate),
        T: exact(PLACES[2], "behind"),
      };
    }
  }
  if (axis !== "y")
    PLACES.slice(1, 3).forEach((at) => {
      for (const side of ["left", "right"] as const)
        found[`${side} of ${at}`] = {
          probe: { kind: "point", x: at, side, ...(axis === "layer" ? {} : { y: 0.0123 }) },
          T: exact(at, side === "left" ? "before" : "behind"),
        };
    });
  return found;
}

const materials = {
  wall: { name: "wall", conductivity: CONDUCTIVITY[0], density: 1500, specificHeat: 1000 },
  plate: { name: "plate", conductivity: CONDUCTIVITY[1], density: 1100, specificHeat: 1700 },
};
const held = (temperature: number): Boundary => ({ kind: "held", temperature });
const insulated: Boundary = { kind: "insulated" };

const layers: HeatProblem = {
  frame: "slab",
  materials,
  layers: ["before", "plate", "behind"].map((name, i) => ({
    name,
    material: i === 1 ? "plate" : "wall",
    thickness: PLACES[i + 1]! - PLACES[i]!,
    initial: 70 + K,
    ...(i < 2 ? { contact: CONTACT } : {}),
  })),
  boundary: { left: held(COLD), right: held(HOT) },
  stages: [{ until: 1 }],
  probes: {},
};

/** A block that is wall, with the plate and the wall behind it as shapes across it. */
function section(axis: "x" | "y", frame: "section" | "round"): HeatProblem {
  const [long, wide] = [PLACES[3], WIDE];
  const across = (from: number, to: number): Outline => ({
    kind: "rectangle",
    size: axis === "x" ? [to - from, wide] : [wide, to - from],
    center: axis === "x" ? [(from + to) / 2, wide / 2] : [wide / 2, (from + to) / 2],
  });
  const ends: readonly [Side, Side] = axis === "x" ? ["left", "right"] : ["bottom", "top"];
  const sides: readonly Side[] = axis === "x" ? ["bottom", "top"] : ["left", "right"];
  return {
    frame,
    materials,
    block: {
      width: axis === "x" ? long : wide,
      height: axis === "x" ? wide : long,
      material: "wall",
      initial: 70 + K,
    },
    shapes: [
      { name: "behind", outline: across(PLACES[2], long), material: "wall", initial: 70 + K },
      { name: "plate", outline: across(PLACES[1], PLACES[2]), material: "plate", initial: 70 + K },
    ],
    contacts: [
      { between: ["block", "plate"], conductance: CONTACT },
      { between: ["plate", "behind"], conductance: CONTACT },
    ],
    boundary: Object.fromEntries([
      ...sides.map((side) => [side, insulated]),
      [ends[0], held(COLD)],
      [ends[1], held(HOT)],
    ]),
    stages: [{ until: 1 }],
    probes: {},
  };
}

describe.each([
  ["layers", layers, 1, asked("layer", ["before", "plate", "behind"])],
  ["a section, along x", section("x", "section"), WIDE, asked("x", ["block", "plate", "behind"])],
  ["a section, along y", section("y", "section"), WIDE, asked("y", ["block", "plate", "behind"])],
  [
    "a round body, along its axis",
    section("y", "round"),
    Math.PI * WIDE ** 2,
    asked("y", ["block", "plate", "behind"]),
  ],
])("%s", (_name, problem, area, all) => {
  const probes = Object.fromEntries(Object.entries(all).map(([name, { probe }]) => [name, probe]));
  const holds = (T: (name: string) => number, within: number) => {
    for (const [name, { T: line }] of Object.entries(all))
      expect(Math.abs(T(name) - line), name).toBeLessThan(within);
  };

  test("where nothing changes any more", () => {
    const { extremes, flows } = simulate({ ...problem, steady: true, probes });
    holds((name) => extremes[name]!.max, 1e-6);
    holds((name) => extremes[name]!.min, 1e-6);
    const through = Object.values(flows!).map((W) => W / area / flow);
    expect(Math.max(...through)).toBeCloseTo(1, 9);
    expect(Math.min(...through)).toBeCloseTo(-1, 9);
  });
  test("after a day, from one temperature", () => {
    const until = 86_400;
    const found = simulate({ ...problem, stages: [{ until }], probes, times: [until] });
    holds((name) => found.probes[name]![0]!, 2e-3);
  });
});

test.each(["x", "y"] as const)(
  "a triangle in a field that is a line along %s: its mean is that of its centroid, and the rest has what is left",
  (axis) => {
    const [width, height] = [0.04, 0.03];
    const corners = [
      [0.0051, 0.0043],
      [0.0337, 0.0071],
      [0.0089, 0.0262],
    ] as const;
    const centroid = [0, 1].map((i) => corners.reduce((sum, c) => sum + c[i]! / 3, 0));
    const [[ax, ay], [bx, by], [cx, cy]] = corners;
    const area = 0.5 * ((bx - ax) * (cy - ay) - (cx - ax) * (by - ay));
    const ends: readonly [Side, Side] = axis === "x" ? ["left", "right"] : ["bottom", "top"];
    const found = simulate({
      frame: "section",
      materials,
      block: { width, height, material: "wall", initial: 70 + K },
      shapes: [
        {
          name: "triangle",
          outline: { kind: "polygon", points: corners },
          material: "wall",
          initial: 70 + K,
        },
      ],
      boundary: {
        left: insulated,
        right: insulated,
        top: insulated,
        bottom: insulated,
        [ends[0]]: held(COLD),
        [ends[1]]: held(HOT),
      },
      stages: [{ until: 1 }],
      steady: true,
      probes: {
        triangle: { kind: "mean", region: "triangle" },
        rest: { kind: "mean", region: "block" },
      },
    });
    const share = axis === "x" ? centroid[0]! / width : centroid[1]! / height;
    const inside = COLD + share * (HOT - COLD);
    const whole = width * height;
    const outside = ((whole * (COLD + HOT)) / 2 - area * inside) / (whole - area);
    expect(Math.abs(found.extremes["triangle"]!.max - inside)).toBeLessThan(0.1);
    expect(Math.abs(found.extremes["rest"]!.max - outside)).toBeLessThan(0.1);
  },
);

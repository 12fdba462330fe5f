/** What holds something when, and cells that outlines cut between two resins: closed sums. */
import { describe, expect, test } from "vitest";
import { makeRateLaw } from "../../../lib/cure/rate-laws.ts";
import type { HeatProblem, Probe } from "../../../lib/heat/problem.ts";
import { simulate } from "../../../lib/heat/simulate.ts";

const insulated = { kind: "insulated" } as const;
const air = { kind: "exchange", h: 10, ambient: 300 } as const;
const plain = { name: "m", conductivity: 0.5, density: 1000, specificHeat: 1500 };

describe("a probe holds what its own side holds", () => {
  const face = (region: string, neighbor: string): Probe => ({
    kind: "face",
    region,
    neighbor,
    of: "mean",
  });
  /** `b` comes after 100 s, `c` goes then. */
  const stages: HeatProblem["stages"] = [
    { until: 100, absent: ["b"], exposed: air },
    { until: 200, absent: ["c"], exposed: air, refill: [{ name: "b", temperature: 400 }] },
    { until: 300, absent: [], exposed: air, refill: [{ name: "c", temperature: 350 }] },
  ];
  const times = [50, 150, 250];
  const holdsOf = (problem: HeatProblem) =>
    Object.fromEntries(
      Object.entries(simulate({ ...problem, times, estimateGrid: false }).holds).map(
        ([name, held]) => [name, Array.from(held).join("")],
      ),
    );
  const expected = {
    a: "111",
    b: "011",
    c: "101",
    "a to b": "111",
    "b to a": "011",
    "b to c": "011",
    "c to b": "101",
  };
  test("in layers, on either side of an interface", () => {
    const layers = ["a", "b", "c"].map((name) => ({
      name,
      material: "m",
      thickness: 0.01,
      initial: 320,
    }));
    const point = (x: number, side: "left" | "right"): Probe => ({ kind: "point", x, side });
    expect(
      holdsOf({
        frame: "slab",
        materials: { m: plain },
        layers,
        boundary: { left: air, right: air },
        stages,
        probes: {
          a: { kind: "mean", region: "a" },
          b: { kind: "hottest", region: "b" },
          c: { kind: "point", x: 0.025 },
          "a to b": face("a", "b"),
          "b to a": face("b", "a"),
          "b to c": face("b", "c"),
          "c to b": face("c", "b"),
          "left of b": point(0.01, "left"),
          "right of a": point(0.01, "right"),
          "left of c": point(0.02, "left"),
          "right of b": point(0.02, "right"),
        },
      }),
    ).toEqual({
      ...expected,
      "left of b": "111",
      "right of a": "011",
      "left of c": "011",
      "right of b": "101",
    });
  });
  test("in a section, along either axis", () => {
    for (const axis of [0, 1]) {
      const size = (long: number): [number, number] => (axis === 0 ? [long, 0.012] : [0.012, long]);
      const center = (along: number): [number, number] =>
        axis === 0 ? [along, 0.006] : [0.006, along];
      const strip = (name: string, at: number) => ({
        name,
        material: "m",
        initial: 320,
        outline: { kind: "rectangle", size: size(0.01), center: center(at) } as const,
      });
      const [width, height] = size(0.03);
      const [x, y] = center(0.025);
      expect(
        holdsOf({
          frame: "section",
          materials: { m: plain },
          block: { width, height, material: "m", initial: 320 },
          shapes: [strip("a", 0.005), strip("b", 0.015), strip("c", 0.025)],
          boundary: { left: air, right: air, top: air, bottom: air },
          stages,
          probes: {
            a: { kind: "mean", region: "a" },
            b: { kind: "hottest", region: "b" },
            c: { kind: "point", x, y },
            "a to b": face("a", "b"),
            "b to a": face("b", "a"),
            "b to c": face("b", "c"),
            "c to b": face("c", "b"),
          },
        }),
      ).toEqual(expected);
    }
  });
});

test("cells cut between two resins set all of their heat free: the mean rises by it, and no joule is lost", () => {
  const cure = (heat: number, A: number) => ({
    law: makeRateLaw({ law: "nth-order", A, E: 0, n: 1 }),
    heat,
    initial: 0,
  });
  const [block, inner] = [30e3, 120e3];
  const [width, height, r] = [0.04, 0.03, 0.009];
  const { extremes, effort } = simulate({
    frame: "section",
    materials: {
      slow: { ...plain, cure: cure(block, 2e-3) },
      fast: { ...plain, cure: cure(inner, 1e-2) },
    },
    block: { width, height, material: "slow", initial: 300 },
    shapes: [
      {
        name: "disk",
        material: "fast",
        initial: 300,
        outline: { kind: "ellipse", axes: [2 * r, 2 * r], center: [0.017, 0.014] },
      },
    ],
    boundary: { left: insulated, right: insulated, top: insulated, bottom: insulated },
    stages: [{ until: 2e4 }],
    probes: { mean: { kind: "point", x: 0.0393, y: 0.0291 } },
    resolution: 0.7,
  });
  expect(effort.energyImbalance).toBeLessThan(1e-9);
  // of one density and specific heat: shares by area, and at the end it is as warm everywhere
  const share = (Math.PI * r * r) / (width * height);
  const rise = (share * inner + (1 - share) * block) / plain.specificHeat;
  expect(Math.abs(extremes["mean"]!.max - 300 - rise) / rise).toBeLessThan(1e-3);
});

test("in a picture a cell cut between two resins has the mean of both: all that is cured is the disk", () => {
  const cure = (A: number) => ({
    law: makeRateLaw({ law: "nth-order", A, E: 0, n: 1 }),
    heat: 1e4,
    initial: 0,
  });
  const [width, height, r] = [0.04, 0.03, 0.009];
  const disk = (slow: string, fast: string): HeatProblem => ({
    frame: "section",
    materials: { slow: { ...plain, cure: cure(1e-12) }, fast: { ...plain, cure: cure(1e-2) } },
    block: { width, height, material: slow, initial: 300 },
    shapes: [
      {
        name: "disk",
        material: fast,
        initial: 300,
        outline: { kind: "ellipse", axes: [2 * r, 2 * r], center: [0.017, 0.014] },
      },
    ],
    boundary: { left: insulated, right: insulated, top: insulated, bottom: insulated },
    stages: [{ until: 3000 }],
    probes: { mean: { kind: "mean", region: "disk" } },
    snapshots: [3000],
    estimateGrid: false,
  });
  for (const [problem, cured] of [
    [disk("slow", "fast"), Math.PI * r * r],
    [disk("fast", "slow"), width * height - Math.PI * r * r],
  ] as const) {
    const { x, y, cure: a } = simulate(problem).snapshots[0]!;
    const across = x.length - 1;
    const area = a!.reduce((sum, share, k) => {
      const [i, j] = [k % across, Math.floor(k / across)];
      return sum + share * (x[i + 1]! - x[i]!) * (y[j + 1]! - y[j]!);
    }, 0);
    expect(area / cured).toBeCloseTo(1, 3);
  }
});

/** Two bodies that have just met: what their face and their means read while heat has not come through either. */
import { describe, expect, test } from "vitest";
import type { HeatProblem } from "../../../lib/heat/problem.ts";
import { simulate } from "../../../lib/heat/simulate.ts";

/** Numbers from 0 to 1, the same each time (Lehmer's generator). */
let state = 7;
const next = () => {
  state = (state * 16807) % 2147483647;
  return state / 2147483647;
};

interface Solid {
  readonly conductivity: number;
  readonly density: number;
  readonly specificHeat: number;
}
const solid = (): Solid => ({
  conductivity: 10 ** (-1 + 2.5 * next()),
  density: 1000,
  specificHeat: 1000 + 1000 * next(),
});
const diffusivity = (s: Solid) => s.conductivity / s.density / s.specificHeat;
const effusivity = (s: Solid) => Math.sqrt(s.conductivity * s.density * s.specificHeat);

/** Both as half-spaces: the face stays at the temperature of contact, and what crossed it grows with the root of time. */
function problemOf() {
  const [a, b] = [solid(), solid()];
  const [hot, cold] = [443 - 50 * next(), 293 + 50 * next()];
  const [thick, deep] = [0.005 * 10 ** next(), 0.005 * 10 ** next()];
  const until = Math.min(thick ** 2 / diffusivity(a), deep ** 2 / diffusivity(b)) / 30;
  const last = until * 10 ** (-2.5 * next());
  const times = next() < 0.5 ? [last] : [last / 10, last / 3, last];
  const face = (effusivity(a) * hot + effusivity(b) * cold) / (effusivity(a) + effusivity(b));
  const problem: HeatProblem = {
    frame: "slab",
    materials: { a: { name: "a", ...a }, b: { name: "b", ...b } },
    layers: [
      { name: "x", material: "a", thickness: thick, initial: hot },
      { name: "y", material: "b", thickness: deep, initial: cold },
    ],
    boundary: { left: { kind: "insulated" }, right: { kind: "insulated" } },
    stages: [{ until }],
    times,
    probes: {
      face: { kind: "face", region: "x", neighbor: "y", of: "mean" },
      x: { kind: "mean", region: "x" },
      y: { kind: "mean", region: "y" },
    },
    grids: 3,
  };
  const mean = (from: number, s: Solid, size: number, t: number) =>
    from + ((face - from) * 2 * Math.sqrt((diffusivity(s) * t) / Math.PI)) / size;
  return {
    problem,
    face,
    x: times.map((t) => mean(hot, a, thick, t)),
    y: times.map((t) => mean(cold, b, deep, t)),
  };
}

describe("closed forms of two half-spaces", () => {
  const runs = Array.from({ length: 200 }, () => {
    const given = problemOf();
    return { ...given, history: simulate(given.problem) };
  });
  test("a face reads nothing beyond its own extremes", () => {
    for (const { history } of runs)
      for (const name of ["face", "x", "y"]) {
        const { max, min } = history.extremes[name]!;
        for (const value of history.probes[name]!) {
          expect(value).toBeLessThanOrEqual(max);
          expect(value).toBeGreaterThanOrEqual(min);
        }
      }
  });
  test("it is at the temperature of contact as near as is said", () => {
    const off = runs.filter(({ history, face }) =>
      history.probes["face"]!.some((T) => Math.abs(T - face) > history.effort.reached!),
    );
    expect(off.length / runs.length).toBeLessThan(0.05);
  });
  test("means are off by less than is said in three of four, where before half were", () => {
    const beyond = runs.filter(({ history, x, y }) =>
      [
        ...x.map((T, k) => T - history.probes["x"]![k]!),
        ...y.map((T, k) => T - history.probes["y"]![k]!),
      ].some((off) => Math.abs(off) > history.effort.reached!),
    );
    // the others are asked for before heat has crossed the cells at the face
    expect(beyond.length / runs.length).toBeLessThan(0.25);
  });
});

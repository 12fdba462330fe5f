/** Laws of the temperature: as far as a problem reaches, refused where they fail, narrow peaks with all their enthalpy. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import {
  InputError,
  makeTabulatedRateLaw,
  type SolveAnswer,
  simulate,
  solve,
} from "../../../lib/index.ts";

const read = (name: string): Record<string, unknown> =>
  JSON.parse(
    readFileSync(new URL(`../../reference/problems/${name}.json`, import.meta.url), "utf8"),
  );
const run = (name: string): SolveAnswer => solve(read(name));

/** What is refused, with its problems. */
function refused(problem: unknown) {
  try {
    solve(problem);
  } catch (error) {
    if (error instanceof InputError) return error.problems;
    throw error;
  }
  return [];
}

test("a conductivity goes on beyond 327 degC: steady flow through 0.5 + 0.002 T", () => {
  // 0.5 (T - 20) + 0.001 (T^2 - 400) = q L = 1000
  const T = -250 + Math.sqrt(250 ** 2 + 1000 * 1010.4);
  expect(run("flux-beyond-327C-k").probes["s"]?.[0]).toBeCloseTo(T, 1);
});

test("a heat capacity goes on beyond 327 degC: a source into 1000 + 2 T", () => {
  // 1000 (T - 20) + T^2 - 400 = 2e6 W/m3 x 1000 s / 1700 kg/m3
  const T = -500 + Math.sqrt(500 ** 2 + 20400 + 2e9 / 1700);
  expect(run("source-beyond-327C-cp").probes["c"]?.[2]).toBeCloseTo(T, 2);
});

test("a law that is not above zero in reach is refused with the temperature, one that is so elsewhere is not", () => {
  const [problem] = refused(read("k-negative-in-range"));
  expect(problem?.path).toBe("materials.m.conductivity");
  // 0.3 - 0.0015 T is zero at 200 degC
  expect(Number.parseFloat(problem?.most ?? "")).toBeCloseTo(200, 0);
  const source = read("source-beyond-327C-cp") as { materials: { m: object } };
  const falling = { ...source.materials.m, conductivity: "0.9 - 0.0015*T" };
  const [reached] = refused({ ...source, materials: { m: falling } });
  expect(Number.parseFloat(reached?.most ?? "")).toBeCloseTo(600, 0);
  const cool = { ...source, until: 200, times: [200], materials: { m: falling } };
  expect(refused(cool)).toEqual([]);
});

/**
 * Method of lines in enthalpy on 200 graded volumes with LSODA at 1e-8, agreeing with 100 volumes to 0.01 K and 0.15 s: surface
 * and center after 600 s, center after 1200 s, time at which the center is at 50 degC.
 */
const PEAKS: readonly (readonly [string, number, number, number, number])[] = [
  ["peak-5", 35.088, 63.496, 45.366, 1132.05],
  ["peak-1", 34.89, 61.088, 46.254, 1146.34],
  ["peak-0.2", 34.837, 60.704, 46.627, 1152.65],
  ["peak-0.02", 34.822, 60.631, 46.74, 1154.57],
  ["expression-5", 35.233, 64.482, 45.047, 1129.01],
  ["expression-0.1", 34.845, 60.781, 46.53, 1151.03],
];

test.each(PEAKS)("%s: a peak of the heat capacity keeps its enthalpy", (name, s, c, late, time) => {
  const { probes, crossings, effort } = run(`latent-${name}`);
  expect(Math.abs((probes["s"]?.[0] ?? 0) - s)).toBeLessThan(0.04);
  expect(Math.abs((probes["c"]?.[0] ?? 0) - c)).toBeLessThan(0.04);
  expect(Math.abs((probes["c"]?.[1] ?? 0) - late)).toBeLessThan(0.04);
  expect(Math.abs((crossings[0]?.time ?? 0) - time)).toBeLessThan(0.5);
  expect(effort.energyImbalance).toBeLessThan(1e-8);
});

test("an expression and a table of the same peak give the same", () => {
  const tent = read("latent-peak-1") as { materials: { m: object } };
  const written = {
    ...tent.materials.m,
    specificHeat: "2000 + max(0, 100000*(1 - abs(T - 60)))",
  };
  const a = solve(tent);
  const b = solve({ ...tent, materials: { m: written } });
  for (const k of [0, 1])
    expect(Math.abs((a.probes["c"]?.[k] ?? 0) - (b.probes["c"]?.[k] ?? 99))).toBeLessThan(0.02);
});

test("a reaction that heats far beyond what the problem begins with: the rise is where the heat of the specific heat's own law ends", () => {
  // 1000 + 0.01 (T - 300)^2 J/(kg K): 1000 x + 0.01 x^3 / 3 = heat
  const start = 300;
  for (const heat of [1e5, 3e5, 6e5]) {
    let [low, high] = [0, heat / 1000];
    for (let k = 0; k < 60; k++) {
      const x = 0.5 * (low + high);
      if (1000 * x + (0.01 * x ** 3) / 3 < heat) low = x;
      else high = x;
    }
    const { extremes, effort } = simulate({
      frame: "slab",
      materials: {
        resin: {
          name: "resin",
          conductivity: 0.2,
          density: 1100,
          specificHeat: (T: number) => 1000 + 0.01 * (T - start) ** 2,
          cure: {
            law: makeTabulatedRateLaw({ law: "nth-order", A: 1, E: 1e4, n: 1 }),
            heat,
            initial: 0,
          },
        },
      },
      layers: [{ name: "resin", material: "resin", thickness: 0.01, initial: start }],
      boundary: {},
      stages: [{ until: 3000 }],
      probes: { resin: { kind: "mean", region: "resin" } },
    });
    expect(Math.abs(extremes["resin"]!.max - start - low)).toBeLessThan(2e-4 * low);
    expect(effort.energyImbalance).toBeLessThan(1e-9);
  }
});

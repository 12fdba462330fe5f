/** Problems that are easily got wrong; what is right follows from a balance of energy or from the same problem written otherwise. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { type SolveAnswer, solve } from "../../../lib/index.ts";

const run = (name: string): SolveAnswer =>
  solve(
    JSON.parse(
      readFileSync(
        new URL(`../../reference/engine-faults/bug-${name}.json`, import.meta.url),
        "utf8",
      ),
    ),
  );

test("an insulated block of one resin in two regions ends at its adiabatic rise, cut cells or not", () => {
  // 90 kJ/kg over 1100 J/(kg K) above 23 degC
  const { probes } = run("cure-same-resin-ellipse");
  for (const region of ["block", "e"])
    expect(probes[region]?.[3]).toBeCloseTo(23 + 90000 / 1100, 2);
});

test("two resins in one cell cure each by itself: the end is the mean of both heats", () => {
  const e = Math.PI * 0.01 ** 2;
  const b = 0.06 ** 2 - e;
  const heat = b * 1700 * 90000 + e * 1400 * 150000;
  const end = 23 + heat / (b * 1700 * 1100 + e * 1400 * 1300);
  const { probes, effort } = run("cure-two-resins-ellipse");
  expect(Math.abs((probes["block"]?.[3] ?? 0) - end)).toBeLessThan(0.05);
  expect(effort.energyImbalance).toBeLessThan(1e-9);
});

test("a core that is filled anew beside cured resin starts uncured alone", () => {
  const { probes } = run("cure-refill-core");
  for (const region of ["block", "e"])
    expect(Math.abs((probes[region]?.[2] ?? 0) - (23 + 90000 / 1100))).toBeLessThan(0.2);
});

test("a pulse of 10 s in 1000 s, written as an expression, leaves its heat", () => {
  // 1e5 W/m2 for 10 s into 10 mm of 1700 x 1100 J/(m3 K)
  expect(run("flux-square-missed").probes["c"]?.[2]).toBeCloseTo(
    20 + 1e6 / (0.01 * 1700 * 1100),
    2,
  );
});

test.each([
  ["oven-3600-1800-36000-expr", "oven-3600-1800-36000-table"],
  ["oven-3600-3600-36000-expr", "oven-3600-3600-36000-table"],
  ["oven-3600-7200-86400-expr", "oven-3600-7200-86400-table"],
  ["oven-7200-7200-86400-expr", "oven-7200-7200-86400-table"],
  ["oven-28800-14400-86400-expr", "oven-28800-14400-86400-table"],
  ["oven-ramp-expression", "oven-ramp-table"],
  ["oven-step-expression", "oven-step-table"],
  ["oven-warm-start-step-expression", "oven-warm-start-step-table"],
  ["h-step-expression", "h-step-table"],
  ["oven2d-expr", "oven2d-table"],
])("%s and %s give the same answer, within both tolerances", (one, other) => {
  const [a, b] = [run(one), run(other)];
  for (const [probe, values] of Object.entries(a.probes))
    values.forEach((T, k) => {
      const apart = Math.abs((T ?? 0) - (b.probes[probe]?.[k] ?? 99));
      expect(apart).toBeLessThan((a.effort.asked ?? 0) + (b.effort.asked ?? 0));
    });
});

test("corners in mirrored places do not make a mirror: the edges between them must match", () => {
  const { probes } = run("symmetry-zigzag");
  expect(Math.abs((probes["R"]?.[1] ?? 0) - (probes["L"]?.[1] ?? 0))).toBeGreaterThan(15);
});

test("nothing is extrapolated across a stage that ended by a stop: no value beyond those that occur", () => {
  const { probes } = run("times-beside-stop");
  for (const T of probes["c"] ?? []) expect(T).toBeLessThan(176);
});

/** Problems that are easily got wrong; what is right follows from a balance of energy or from the same problem written otherwise. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import {
  InputError,
  readSolveProblem,
  type SolveAnswer,
  simulate,
  solve,
} from "../../../lib/index.ts";

const read = (name: string): Record<string, unknown> =>
  JSON.parse(
    readFileSync(new URL(`../../reference/problems/${name}.json`, import.meta.url), "utf8"),
  );
const run = (name: string): SolveAnswer => solve(read(name));

/** The rate equation of the resin alone, by Radau's method at 1e-11: 500, 1000, 2000 s; then 90 kJ/kg over 1100 J/(kg K) above 23 degC. */
const ADIABATIC = [23.34372, 24.9882, 98.42356, 23 + 90000 / 1100];

test.each(["cure-same-resin-ellipse", "cure-same-resin-rect", "cure-two-alike-resins-ellipse"])(
  "%s: an insulated block of one resin in two regions rises as the resin alone, cut cells or not",
  (name) => {
    const { probes } = run(name);
    for (const probe of ["block", "e", "c", "far"])
      ADIABATIC.forEach((T, k) => {
        expect(Math.abs((probes[probe]?.[k] ?? 0) - T), `${probe} ${k}`).toBeLessThan(0.02);
      });
  },
);

const DISK = Math.PI * 0.01 ** 2;

test.each([
  ["cure-two-resins-ellipse", DISK, true],
  ["cure-two-resins-rect", 0.02 ** 2, true],
  // half the cross product of two edges
  ["cure-two-resins-offgrid-polygon", 0.5 * (0.025 * 0.03 - 0.01 * 0.005), true],
  ["cure-inert-ellipse", DISK, false],
])(
  "%s: what is in one cell cures each by itself: the end is the mean of all heats",
  (name, e, cures) => {
    const b = 0.06 ** 2 - e;
    const heat = b * 1700 * 90000 + (cures ? e * 1400 * 150000 : 0);
    const capacity = b * 1700 * 1100 + (cures ? e * 1400 * 1300 : e * 1700 * 1100);
    const { probes, effort } = run(name);
    for (const region of ["block", "e"])
      expect(Math.abs((probes[region]?.[3] ?? 0) - 23 - heat / capacity)).toBeLessThan(0.01);
    expect(effort.energyImbalance).toBeLessThan(1e-9);
  },
);

test("a core that is filled anew beside cured resin starts uncured alone", () => {
  const { probes } = run("cure-refill-core");
  for (const region of ["block", "e"])
    expect(Math.abs((probes[region]?.[2] ?? 0) - (23 + 90000 / 1100))).toBeLessThan(0.2);
});

test("what is filled anew cures anew, in the cells that its outline cuts, too", () => {
  const stages = [
    { until: 20000 },
    { until: 40000, refill: [{ name: "e", temperature: 23, material: "r" }] },
  ];
  const { probes } = solve({ ...read("cure-refill-core"), stages, times: [20000, 40000] });
  // cured at the end of either: its heat takes it to where all the rest is
  for (const region of ["block", "e"])
    for (const k of [0, 1])
      expect(Math.abs((probes[region]?.[k] ?? 0) - (23 + 90000 / 1100))).toBeLessThan(0.02);
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

test("a place in a thin notch of few cells is no further off than the answer says, held against finer cells", () => {
  const problem = readSolveProblem(read("symmetry-zigzag"));
  const [answer, finer] = [simulate(problem), simulate({ ...problem, resolution: 2 })];
  const said = [answer, finer].map(({ effort }) => effort.gridError + effort.timeError);
  for (const [name, values] of Object.entries(answer.probes))
    values.forEach((T, k) => {
      const apart = Math.abs(T - (finer.probes[name]?.[k] ?? 0));
      expect(apart, `${name} ${k}`).toBeLessThanOrEqual(said[0]! + said[1]!);
    });
  // the first instants are out of reach of so few cells, and it is said
  expect(answer.effort.reached).toBeGreaterThan(15);
});

test("a mirror that is broken by a millionth gives what the whole section gives", () => {
  const [whole, broken] = [run("symmetry-zigzag"), run("symmetry-zigzag-broken-by-1e-6")];
  for (const probe of ["L", "R", "z", "b"])
    for (const k of [1, 2]) {
      const apart = (whole.probes[probe]?.[k] ?? 0) - (broken.probes[probe]?.[k] ?? 99);
      expect(Math.abs(apart), probe).toBeLessThan(0.05);
    }
  // all of it at one temperature in the end: weighed by area
  const z = 250e-6;
  const [p, m] = [z * 1000 * 1800, (0.06 ** 2 - z) * 1700 * 1100];
  expect(whole.probes["b"]?.[2]).toBeCloseTo((p * 175 + m * 25) / (p + m), 1);
});

test("a heat capacity that grows while the sheet is heated: every wanted time keeps the tolerance", () => {
  const problem = read("dense-output-cp");
  // its probe lies outside
  const refused = () => solve(problem);
  expect(refused).toThrow(InputError);
  const times = Array.from({ length: 60 }, (_, k) => 13 + k * 16.4);
  const found = solve({ ...problem, probes: { m: "m", s: [0.001] }, times });
  const apart = times.map((t, k) => {
    // 1000 (T - 20) + 2.5 (T^2 - 400) = q t / (rho L)
    const T = -200 + Math.sqrt(220 ** 2 + (2000 * t) / 1.7 / 2.5);
    return Math.abs((found.probes["m"]?.[k] ?? 0) - T);
  });
  expect(Math.max(...apart)).toBeLessThan(Math.max(found.effort.reached, 1e-4));
});

test("a problem without an end is refused for that alone", () => {
  try {
    run("no-until");
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    const { problems } = error as InputError;
    expect(problems.map(({ code, path }) => [code, path])).toEqual([["missing", "until"]]);
    return;
  }
  throw new Error("not refused");
});

test("nothing is extrapolated across a stage that ended by a stop: no value beyond those that occur", () => {
  const { probes } = run("times-beside-stop");
  for (const T of probes["c"] ?? []) expect(T).toBeLessThan(176);
});

test("a stage that warms one side alone breaks the mirror that all before it had", () => {
  const base = {
    frame: "section",
    materials: { m: { conductivity: 0.9, density: 1700, specificHeat: 1100 } },
    block: { width: 0.04, height: 0.02, material: "m", initial: 20 },
    stages: [{ until: 100 }, { until: 2000, boundary: { left: { temperature: 80 } } }],
    probes: { left: [0.01, 0.01], right: [0.03, 0.01] },
    times: [100, 2000],
    boundary: { left: { temperature: 20 }, right: { temperature: 20 } },
    until: 2000,
  };
  const { probes } = solve(base);
  // a plate between 80 and 20 degC in the end: a quarter and three quarters of the way
  expect(probes["left"]?.[0]).toBeCloseTo(20, 6);
  expect(probes["left"]?.[1]).toBeCloseTo(65, 0);
  expect(probes["right"]?.[1]).toBeCloseTo(35, 0);
});

/** Boundaries that pulse, jump and swing: against the series of a plate, a balance of heat, and an independent method of lines. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { type SolveAnswer, solve } from "../../../lib/index.ts";

const run = (name: string, more: object = {}): SolveAnswer => {
  const file = new URL(`../../reference/problems/${name}.json`, import.meta.url);
  return solve({ ...JSON.parse(readFileSync(file, "utf8")), ...more });
};

/** What an answer may be off by: what was asked, or what it says. */
const allowed = ({ effort }: SolveAnswer) => Math.max(effort.asked ?? 0, effort.reached);

function holds(found: SolveAnswer, probe: string, expected: readonly number[]): void {
  expected.forEach((T, k) => {
    const off = Math.abs((found.probes[probe]?.[k] ?? 1e9) - T);
    expect(off, `${probe} at ${found.times[k]} s`).toBeLessThan(allowed(found));
  });
}

/** m, and m2/s of the plates here. */
const PLATE = 0.01;
const DIFFUSIVITY = 0.9 / (1700 * 1100);

/** Center of a plate whose face jumps by 1 at t = 0: Carslaw & Jaeger, section 3.4. */
function afterJump(t: number): number {
  if (t <= 0) return 0;
  let sum = 1;
  for (let n = 0; n < 200; n++) {
    const mu = (n + 0.5) * Math.PI;
    sum -= ((2 * (-1) ** n) / mu) * Math.exp((-mu * mu * DIFFUSIVITY * t) / PLATE ** 2);
  }
  return sum;
}

/** Center of a plate of half thickness L whose face swings as sin(w t) from t = 0, after whole periods: Duhamel's theorem. */
function afterSwings(t: number, w: number, L: number): number {
  let sum = 0;
  for (let n = 0; n < 2000; n++) {
    const mu = (n + 0.5) * Math.PI;
    const lambda = (mu * mu * DIFFUSIVITY) / L ** 2;
    const b = (2 * (-1) ** n) / mu;
    sum -= (b * lambda * w * (1 - Math.exp(-lambda * t))) / (lambda ** 2 + w ** 2);
  }
  return sum;
}

/** Center and face of a plate in air that jumps by 1 at t = 0: Carslaw & Jaeger, section 3.11. */
function inAir(t: number, biot: number): { center: number; face: number } {
  let [center, face] = [1, 1];
  for (let n = 0; n < 30; n++) {
    let [low, high] = [n * Math.PI, (n + 0.5) * Math.PI];
    for (let k = 0; k < 80; k++) {
      const z = 0.5 * (low + high);
      if (z * Math.tan(z) < biot) low = z;
      else high = z;
    }
    const z = 0.5 * (low + high);
    const c = (4 * Math.sin(z)) / (2 * z + Math.sin(2 * z));
    const fades = c * Math.exp((-z * z * DIFFUSIVITY * t) / PLATE ** 2);
    center -= fades;
    face -= fades * Math.cos(z);
  }
  return { center, face };
}

test("a face held 100 K higher for 10 s of 1000 s", () => {
  const found = run("held-square");
  const center = (t: number) => 20 + 100 * (afterJump(t - 500) - afterJump(t - 510));
  holds(found, "c", found.times.map(center));
  holds(found, "s", [20, 20, 20]);
  expect(found.extremes["s"]?.max).toBeCloseTo(120, 6);
});

test.each([
  ["held-sine-fast", 0.5, 0.01],
  ["held-sine-period-until-64th", 15.625, 0.02],
])("%s: five hundred swings, and a period that even samples would miss", (name, period, L) => {
  // the first quarter: whole periods
  const found = run(name, { until: 250, times: [125, 250] });
  const w = (2 * Math.PI) / period;
  const center = found.times.map((t) => 20 + 50 * afterSwings(t, w, L));
  holds(found, "c", center);
  holds(
    found,
    "s",
    found.times.map(() => 20),
  );
  const { max, min } = found.extremes["s"] ?? { max: 0, min: 0 };
  expect(Math.abs(max - 70)).toBeLessThan(allowed(found));
  expect(Math.abs(min + 30)).toBeLessThan(allowed(found));
});

/**
 * 60, 120 and 240 graded volumes with Radau's method at 1e-10, extrapolated; the pulse of a flux by its heat: face and center at
 * 400, 600 and 1000 s, the face's highest.
 */
const PULSES: readonly (readonly [string, number[], number[], number])[] = [
  ["ambient-pulse-hull", [31.7477, 31.1258, 25.441], [46.2814, 40.6193, 32.1859], 72.2075],
  ["ambient-pulse-hull-held", [20, 20, 20], [35.532, 29.9419, 23.238], 120],
  ["ambient-pulse-missed", [20, 22.9557, 20.2727], [20, 26.4345, 20.611], 94.5544],
  ["ambient-pulse-table", [20, 22.9557, 20.2727], [20, 26.4345, 20.611], 93.8138],
];

test.each(PULSES)("%s: what it leaves, and its highest", (name, face, center, highest) => {
  const found = run(name);
  holds(found, "s", face);
  holds(found, "c", center);
  expect(Math.abs((found.extremes["s"]?.max ?? 0) - highest)).toBeLessThan(allowed(found));
});

test("a smooth pulse of flux is spread evenly in the end", () => {
  const found = run("flux-pulse-missed");
  const end = 20 + (1e5 * 3 * Math.sqrt(Math.PI)) / (PLATE * 1700 * 1100);
  expect(found.probes["c"]?.[2]).toBeCloseTo(end, 4);
  expect(found.probes["c"]?.[0]).toBeCloseTo(20, 6);
});

test.each([
  [
    "between its points",
    [
      [0, 0],
      [500, 0],
      [500.2, 4e5],
      [500.4, 0],
      [1000, 0],
    ],
  ],
  [
    "between its jumps",
    [
      [0, 0],
      [500, 0],
      [500, 2e5],
      [500.4, 2e5],
      [500.4, 0],
      [1000, 0],
    ],
  ],
])("a table's spike of half a second in 1000 s leaves all its heat, %s", (_, flux) => {
  const found = run("flux-pulse-missed", {
    boundary: { left: "insulated", right: { flux } },
    times: [1000],
    tolerance: 1e-2,
  });
  expect(found.probes["c"]?.[0]).toBeCloseTo(20 + (2e5 * 0.4) / (PLATE * 1700 * 1100), 2);
});

test("a table with a jump: the plate in air that turns from 20 to 80 degC at an hour", () => {
  const found = run("jump-table");
  const biot = (50 * PLATE) / 0.9;
  const at = found.times.map((t) => inAir(t - 3600, biot));
  holds(
    found,
    "c",
    at.map(({ center }) => 20 + 60 * center),
  );
  holds(
    found,
    "s",
    at.map(({ face }) => 20 + 60 * face),
  );
  const { time, error } = found.crossings[0] ?? { time: null, error: 0 };
  const T = 20 + 60 * inAir((time ?? 0) - 3600, biot).center;
  expect(Math.abs(T - 50)).toBeLessThan(allowed(found));
  const [early, late] = [-error, error].map((e) => inAir((time ?? 0) + e - 3600, biot).center);
  expect(early).toBeLessThan(0.5);
  expect(late).toBeGreaterThan(0.5);
});

test("a sheet that only radiates: the time to each temperature in closed form", () => {
  const found = run("radiation-lumped");
  const K = 273.15;
  const Ta = 20 + K;
  const perSecond = (0.9 * 5.670374419e-8) / (2700 * 900 * 0.001);
  // integral of dT / (T^4 - Ta^4)
  const F = (T: number) =>
    (0.5 * Math.log((T - Ta) / (T + Ta)) - Math.atan(T / Ta)) / (2 * Ta ** 3);
  found.times.forEach((t, k) => {
    const T = (found.probes["c"]?.[k] ?? 0) + K;
    const off = ((F(300 + K) - F(T)) / perSecond - t) * perSecond * (T ** 4 - Ta ** 4);
    expect(Math.abs(off), `at ${t} s`).toBeLessThan(allowed(found));
  });
});

/** What a rate law costs: exact and tabulated, in nanoseconds an evaluation. */
import { publishedLaw } from "../../lib/cure/published.ts";
import type { RateSpec } from "../../lib/cure/rate-form.ts";
import { makeRateLaw } from "../../lib/cure/rate-laws.ts";
import { makeTabulatedRateLaw } from "../../lib/cure/tabulated.ts";
import type { RateLaw } from "../../lib/materials/material.ts";
import { printTable } from "./measure.ts";

const fractional: RateSpec = {
  law: "autocatalytic",
  A1: 1e4,
  E1: 55000,
  A2: 8.28e5,
  E2: 50000,
  m: 0.8,
  n: 1.4,
};
const LAWS: Readonly<Record<string, RateSpec>> = {
  "first order": { law: "nth-order", A: 1e6, E: 6e4, n: 1 },
  "k1 + k2 a, order 2": publishedLaw("epoxy-amine").spec,
  "m 0.8, n 1.4": fractional,
  "glass and polyester": publishedLaw("glass-polyester").spec,
  piecewise: publishedLaw("prepreg-piecewise").spec,
  "final cure 0.9": { ...fractional, final: 0.9 },
  "linear cap": publishedLaw("prepreg-capped").spec,
  "glass cap": {
    ...fractional,
    cap: { kind: "glass", C: 30, uncured: 251, cured: 403, lambda: 0.4, offset: 12 },
  },
};

const COUNT = 4096;
const CURES = Float64Array.from({ length: COUNT }, (_, i) => (i * 0.6180339887) % 1);
const TEMPERATURES = Float64Array.from(
  { length: COUNT },
  (_, i) => 280 + 200 * ((i * 0.7548776662) % 1),
);
const out = new Float64Array(3);

function sweep(law: RateLaw): number {
  let sum = 0;
  for (let i = 0; i < COUNT; i++) {
    law.evaluate(CURES[i], TEMPERATURES[i], out);
    sum += out[0] + out[1] + out[2];
  }
  return sum;
}

/** Least nanoseconds an evaluation of both, turn by turn, so that the machine's swing hits both alike. */
function nanoseconds(laws: readonly RateLaw[]): number[] {
  const least = laws.map(() => Number.POSITIVE_INFINITY);
  let used = 0;
  for (let round = 0; round < 40; round++)
    laws.forEach((law, which) => {
      const start = performance.now();
      for (let k = 0; k < 5; k++) used += sweep(law);
      least[which] = Math.min(least[which], ((performance.now() - start) / 5 / COUNT) * 1e6);
    });
  if (Number.isNaN(used)) throw new Error("a rate was not a number");
  return least;
}

/** Largest relative difference of the rates. */
function difference(exact: RateLaw, fast: RateLaw): number {
  const other = new Float64Array(3);
  let most = 0;
  for (let i = 0; i < COUNT; i++) {
    exact.evaluate(CURES[i], TEMPERATURES[i], out);
    fast.evaluate(CURES[i], TEMPERATURES[i], other);
    if (out[0] > 1e-200) most = Math.max(most, Math.abs(other[0] / out[0] - 1));
  }
  return most;
}

export function cureBench(): void {
  const rows = Object.entries(LAWS).map(([name, spec]) => {
    const exact = makeRateLaw(spec);
    const fast = makeTabulatedRateLaw(spec);
    const [slow, quick] = nanoseconds([exact, fast]);
    return [
      name,
      slow.toFixed(0),
      quick.toFixed(0),
      (slow / quick).toFixed(1),
      difference(exact, fast).toExponential(0),
    ];
  });
  printTable(
    "Rate of cure and its two derivatives, ns an evaluation (least of 40 rounds)",
    ["law", "exact", "tabulated", "ratio", "largest difference"],
    rows,
  );
}

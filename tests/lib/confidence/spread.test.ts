import fc from "fast-check";
import { expect, test } from "vitest";
import { movedTo, scaledTo, spread } from "../../../lib/confidence/spread.ts";
import type { Uncertain } from "../../../lib/confidence/uncertain.ts";
import { drawn, drawnAsRatio, NINE_OF_TEN } from "../../../lib/numerics/deviates.ts";
import { normalQuantile } from "../../../lib/numerics/special-functions.ts";

type Box = Readonly<Record<string, number>>;

const input = (name: string, width: number): Uncertain<Box> => ({
  name,
  at: (box, z) => ({ ...box, [name]: box[name]! + (width / NINE_OF_TEN) * z }),
});
const near = (a: number, b: number, within: number) =>
  expect(Math.abs(a - b), `${a} for ${b}`).toBeLessThan(within);

test("a sum of independent inputs: the root of the sum of squares", () => {
  // Gauss's law for independent errors; exact for normal inputs and a linear result
  const [found] = spread({ a: 10, b: 20 }, [input("a", 3), input("b", 4)], ({ a, b }) => [a! + b!]);
  near(found!.range.low, 25, 0.15);
  near(found!.range.high, 35, 0.15);
  expect(found!.shares.map((s) => s.name)).toEqual(["b", "a"]);
  near(found!.shares[0]!.total, 16 / 25, 1e-2);
  near(found!.shares[0]!.first, 16 / 25, 1e-2);
});

test("a product of many inputs: the 10th and the 90th percentile of the lognormal", () => {
  // closed: exp(+-1.2816 sigma), sigma2 the sum of the inputs' (Johnson, Kotz & Balakrishnan 1994, ch. 14)
  const names = ["a", "b", "c", "d", "e", "f", "g", "h"];
  const inputs = names.map(
    (name, i): Uncertain<Box> => ({
      name,
      at: (box, z) => ({ ...box, [name]: Math.exp((0.05 + 0.02 * i) * z) }),
    }),
  );
  const given = Object.fromEntries(names.map((name) => [name, 1]));
  const [found] = spread(given, inputs, (box) => [
    100 * names.reduce((product, name) => product * box[name]!, 1),
  ]);
  const sigma = Math.hypot(...names.map((_, i) => 0.05 + 0.02 * i));
  near(found!.range.low / (100 * Math.exp(-NINE_OF_TEN * sigma)), 1, 0.02);
  near(found!.range.high / (100 * Math.exp(NINE_OF_TEN * sigma)), 1, 0.02);
});

test("a bent result: its own percentiles, not those of its slope", () => {
  // (2 + z)2 for standard normal z: closed by the noncentral chi-squared, as counted from the two roots
  const [found] = spread({ a: 2 }, [input("a", NINE_OF_TEN)], ({ a }) => [a! * a!]);
  // P((2 + z)2 < q): 10 % at q = 0.5417, 90 % at q = 10.7686 (scipy 1.17.1, stats.ncx2(1, 4).ppf)
  near(found!.range.low, 0.5417, 0.1);
  near(found!.range.high, 10.7686, 0.25);
  expect(found!.range.value).toBe(4);
});

test("an end hardly moves with other members: the standard error that is told holds", () => {
  // a kink that no surface follows, so the computed members are counted
  const f = ({ a, b, c }: Box) => [Math.max(a! + b!, 0.5 * c!) + Math.abs(b! - c!)];
  const inputs = ["a", "b", "c"].map((name) => input(name, 1));
  const given = { a: 0, b: 0, c: 0 };
  const fine = spread(given, inputs, f, { least: 128, most: 1024 })[0]!;
  const coarse = spread(given, inputs, f, { least: 64, most: 64 })[0]!;
  const width = fine.range.high - fine.range.low;
  const off = Math.max(
    Math.abs(coarse.range.low - fine.range.low),
    Math.abs(coarse.range.high - fine.range.high),
  );
  expect(off / width).toBeLessThan(2.5 * coarse.unsteady);
  expect(coarse.unsteady).toBeLessThan(0.06);
});

test("no jump of an end as one input overtakes another", () => {
  const inputs = (width: number) => [input("a", 1), input("b", width), input("c", 0.5)];
  const at = (width: number) =>
    spread({ a: 3, b: 3, c: 3 }, inputs(width), ({ a, b, c }) => [a! * b! * Math.sqrt(c! + 3)])[0]!
      .range;
  const ends = Array.from({ length: 21 }, (_, i) => at(0.9 + 0.01 * i));
  // every step of the width moves the ends as far as the step before, to the three hundredths that an end may move
  const within = 0.03 * (ends[0]!.high - ends[0]!.low);
  for (let i = 2; i < ends.length; i++) {
    const [before, here, after] = [ends[i - 2]!, ends[i - 1]!, ends[i]!];
    near(after.low - here.low, here.low - before.low, within);
    near(after.high - here.high, here.high - before.high, within);
  }
});

test("never in more than one member of ten: an end without bound, and the soonest of ten told", () => {
  const never = Number.POSITIVE_INFINITY;
  // a standard normal is above 1 in 16 of 100, above 2 in 2 of 100
  const at = (limit: number, value: number) =>
    spread({ a: 0 }, [input("a", NINE_OF_TEN)], ({ a }) => [
      a! > limit ? never : value + 10 * a!,
    ])[0]!.range;
  expect(at(1, 40).high).toBe(never);
  expect(at(2, 40).high).toBeLessThan(60);
  near(at(1, 40).low, 40 - 12.8, 2);
  const mostlyNever = at(-0.5, 40);
  expect(mostlyNever.value).toBe(never);
  expect(mostlyNever.high).toBe(never);
  near(mostlyNever.low, 40 - 12.8, 2);
});

test("a member that never ends does not cost a range its surface: ends as of 200 000 cases drawn by themselves", () => {
  // a body that cools in a mold nearly as warm as its limit, and one of which a share of its heat comes back
  const cooling = ([mold, limit, size]: readonly number[]) => {
    const left = (50 + 2 * limit - 25 - 12 * mold) / (150 - 12 * mold);
    return left > 0
      ? 300 * Math.exp(0.12 * size) * Math.log(1.27 / left)
      : Number.POSITIVE_INFINITY;
  };
  const returned = ([share, size, rest]: readonly number[]) => {
    const left = 1 - 0.45 * share - 0.1 * rest;
    return left > 0 ? (100 * Math.exp(0.2 * size)) / left : Number.POSITIVE_INFINITY;
  };
  const inputs = [0, 1, 2, 3, 4, 5].map((i) => ({
    name: `z${i}`,
    at: (z: readonly number[], by: number) => z.map((x, k) => (k === i ? by : x)),
  }));
  for (const f of [cooling, returned]) {
    let seed = 7;
    const normal = () => {
      const uniform = () => {
        seed = (seed * 48271) % 2147483647;
        return seed / 2147483647;
      };
      return Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    };
    const drawn = Array.from({ length: 200_000 }, () => f([normal(), normal(), normal()]));
    drawn.sort((a, b) => a - b);
    const [low, high] = [drawn[20_000], drawn[180_000]];
    let endless = 0;
    const evaluate = (z: readonly number[]) => {
      const value = f(z);
      if (!Number.isFinite(value)) endless += 1;
      return [value];
    };
    const [{ range }] = spread([0, 0, 0, 0, 0, 0], inputs, evaluate, { least: 64, most: 64 });
    expect(endless).toBeGreaterThan(0);
    const off = [range.low - low, range.high - high].map((x) => Math.abs(x) / (high - low));
    expect(off[0]).toBeLessThan(0.02);
    // counted members: 0.1 and more
    expect(off[1]).toBeLessThan(0.06);
  }
});

test("an input's low and high are its 10th and 90th percentile", () => {
  const spreadOf = { value: 20, low: 18, high: 25 };
  expect(drawn(spreadOf, -NINE_OF_TEN)).toBeCloseTo(18, 12);
  expect(drawn(spreadOf, 0)).toBe(20);
  expect(drawnAsRatio(spreadOf, NINE_OF_TEN)).toBeCloseTo(25, 12);
  expect(drawnAsRatio({ value: 1, low: 0.1, high: 10 }, -5)).toBeGreaterThan(0);
});

test("a result that goes on through 0 is not taken on a scale of ratios, also where all its members happen to lie above", () => {
  // 40 + 12 z + 6 (z2 - 1): a polynomial, whose tenths a scale of ratios would bend; ends by counting a fine grid of z
  const at = (z: number) => 40 + 12 * z + 6 * (z * z - 1);
  const draws = Array.from({ length: 20001 }, (_, k) => normalQuantile((k + 0.5) / 20001)).map(at);
  draws.sort((a, b) => a - b);
  const [low, high] = [draws[2000]!, draws[18000]!];
  const off = (options: object) => {
    const [one] = spread({ a: 0 }, [input("a", NINE_OF_TEN)], ({ a }) => [at(a!)], options);
    return (
      Math.max(Math.abs(one!.range.low - low), Math.abs(one!.range.high - high)) / (high - low)
    );
  };
  expect(off({ throughZero: [0] })).toBeLessThan(0.01);
});

test("nothing uncertain: no width", () => {
  expect(spread({ a: 1 }, [], () => [5])[0]!.range).toEqual({ value: 5, low: 5, high: 5 });
  const [still] = spread({ a: 1 }, [input("a", 0)], ({ a }) => [a!]);
  expect(still!.range).toEqual({ value: 1, low: 1, high: 1 });
});

test("low <= value <= high, and so when carried over", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 1, max: 1000, noNaN: true }),
      fc.double({ min: 0, max: 500, noNaN: true }),
      fc.double({ min: 0, max: 500, noNaN: true }),
      fc.double({ min: 1, max: 1000, noNaN: true }),
      (value, below, above, other) => {
        const range = { value, low: value - below, high: value + above };
        for (const carried of [scaledTo(range, other), movedTo(range, other)]) {
          expect(carried.low).toBeLessThanOrEqual(other + 1e-9);
          expect(carried.high).toBeGreaterThanOrEqual(other - 1e-9);
        }
      },
    ),
    { numRuns: 100, seed: 20261125 },
  );
});

import { expect, test } from "vitest";
import { sobolShares } from "../../../lib/confidence/shares.ts";
import { sobolSequence } from "../../../lib/confidence/sobol-sequence.ts";
import { designOf, fitSurface } from "../../../lib/confidence/surface.ts";
import { normalQuantile } from "../../../lib/numerics/special-functions.ts";

test("Sobol's sequence: the first points in 8 dimensions, and one in 40", () => {
  // scipy 1.17.1, scipy.stats.qmc.Sobol(scramble=False), whose direction numbers are Joe & Kuo's, too
  const bare = sobolSequence(8, null);
  const expected = [
    [0.75, 0.25, 0.25, 0.25, 0.75, 0.75, 0.25, 0.75],
    [0.1875, 0.3125, 0.9375, 0.4375, 0.5625, 0.3125, 0.4375, 0.9375],
    [0.6875, 0.8125, 0.4375, 0.9375, 0.0625, 0.8125, 0.9375, 0.4375],
  ];
  expect([2, 8, 9].map((n) => Array.from(bare.point(n)))).toEqual(expected);
  expect(Array.from(sobolSequence(40, null).point(37)).slice(30)).toEqual([
    0.359375, 0.140625, 0.609375, 0.359375, 0.859375, 0.734375, 0.890625, 0.671875, 0.953125,
    0.078125,
  ]);
});

test("any 2^k points have one in each of 2^k slices of every axis, shifted or not", () => {
  // property of a (t, s)-sequence in base 2 in one dimension (Niederreiter 1992)
  for (const seed of [null, 1, 77]) {
    const sequence = sobolSequence(40, seed);
    const points = Array.from({ length: 256 }, (_, n) => Array.from(sequence.point(n)));
    for (let d = 0; d < 40; d++)
      expect(new Set(points.map((p) => Math.floor(p[d]! * 256))).size).toBe(256);
  }
});

test("shares of the Ishigami function", () => {
  // Ishigami & Homma 1990, a = 7, b = 0.1: closed indices, as printed in Saltelli et al., Global Sensitivity Analysis 2008
  const turn = (u: number) => Math.PI * (2 * u - 1);
  const { first, total, variance } = sobolShares(
    (u) => {
      const [x, y, z] = Array.from(u, turn) as [number, number, number];
      return Math.sin(x) + 7 * Math.sin(y) ** 2 + 0.1 * z ** 4 * Math.sin(x);
    },
    3,
    4096,
  );
  expect(variance).toBeCloseTo(13.845, 1);
  const near = (found: readonly number[], closed: readonly number[]) =>
    closed.forEach((s, i) => {
      expect(Math.abs(found[i]! - s)).toBeLessThan(0.01);
    });
  near(first, [0.3139, 0.4424, 0]);
  near(total, [0.5576, 0.4424, 0.2437]);
});

test("shares of Sobol's g function", () => {
  // Saltelli & Sobol 1995: V_i = 1/(3 (1 + a_i)^2), V = prod(1 + V_i) - 1; total from the product of the others
  const a = [0, 1, 4.5, 9, 99, 99];
  const part = a.map((ai) => 1 / (3 * (1 + ai) ** 2));
  const all = part.reduce((product, v) => product * (1 + v), 1) - 1;
  const { first, total } = sobolShares(
    (u) => a.reduce((product, ai, i) => (product * (Math.abs(4 * u[i]! - 2) + ai)) / (1 + ai), 1),
    6,
    4096,
  );
  part.forEach((v, i) => {
    expect(Math.abs(first[i]! - v / all)).toBeLessThan(0.01);
    const others = (all + 1) / (1 + v);
    expect(Math.abs(total[i]! - (v * others) / all)).toBeLessThan(0.01);
  });
});

test("a surface over 8 inputs: shares and values of a polynomial that it holds, from 48 members", () => {
  // exact by the orthogonality of Hermite polynomials (Abramowitz & Stegun 22.2.15)
  const sequence = sobolSequence(8, 3);
  const points = Array.from({ length: 48 }, (_, n) => sequence.point(n).map(normalQuantile));
  const f = (z: ArrayLike<number>) =>
    5 + 3 * z[0]! + 2 * z[1]! * z[2]! + ((z[3]! ** 2 - 1) * 1) / Math.SQRT2 + z[5]!;
  const surface = fitSurface(designOf(points), points.map(f));
  const variance = 9 + 4 + 1 + 1;
  expect(surface.variance).toBeCloseTo(variance, 6);
  expect(surface.error).toBeLessThan(1e-6);
  expect(surface.first[0]).toBeCloseTo(9 / variance, 6);
  expect(surface.first[1]).toBeCloseTo(0, 6);
  expect(surface.total[1]).toBeCloseTo(4 / variance, 6);
  const elsewhere = [0.3, -1, 2, 0.5, 0, -0.7, 1, 1];
  expect(surface.at(elsewhere)).toBeCloseTo(f(elsewhere), 6);
});

test("a surface that can't follow says by how much it misses, at members that it has not seen", () => {
  const sequence = sobolSequence(4, 5);
  const f = (z: ArrayLike<number>) => z[0]! + 0.3 * Math.sign(z[1]!) * z[2]! + Math.abs(z[3]!);
  const points = Array.from({ length: 64 }, (_, n) => sequence.point(n).map(normalQuantile));
  const surface = fitSurface(designOf(points), points.map(f));
  const unseen = Array.from({ length: 2000 }, (_, n) =>
    sequence.point(5000 + n).map(normalQuantile),
  );
  const missed = Math.sqrt(unseen.reduce((sum, z) => sum + (f(z) - surface.at(z)) ** 2, 0) / 2000);
  expect(surface.error / missed).toBeGreaterThan(0.8);
  expect(surface.error / missed).toBeLessThan(1.6);
});

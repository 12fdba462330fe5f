import { expect, test } from "vitest";
import { readStencil, stencilAt } from "../../../lib/heat/point-stencil.ts";

/** Centers of cells that grow by 1.4 each. */
const centers = Float64Array.of(0, 1, 2.4, 4.36, 7.104);

function read(place: number, y: (x: number) => number, start = 2) {
  const stencil = stencilAt({ centers, even: false, same: () => true }, start, place);
  const values = Float64Array.from(stencil.at, (k) => y(centers[k]));
  const out = { value: 0, rate: 0 };
  // rates that are twice the values, so that what is read of them must be, too
  readStencil(
    stencil,
    values,
    values.map((v) => 2 * v),
    out,
  );
  return out;
}

test("a smooth peak between cells is read as the parabola or cubic that it is, wherever it lies", () => {
  for (let place = 1; place < 4.3; place += 0.1)
    for (const y of [
      (x: number) => 300 - (x - place) ** 2,
      (x: number) => 300 + (x - place) ** 2,
      (x: number) => 300 - 2 * (x - place) ** 2 + 0.1 * (x - place) ** 3,
      (x: number) => 300 + 7 * x,
    ]) {
      const { value, rate } = read(place, y, place < 1.7 ? 1 : 2);
      expect(value).toBeCloseTo(y(place), 9);
      expect(rate).toBeCloseTo(2 * value, 9);
    }
});

test("before a front nothing is read beyond the cells around the place, and the rate is theirs", () => {
  const front = (x: number) => (x > 4 ? 340 : x > 2 ? 300.2 : 300);
  for (let place = 1; place < 2.4; place += 0.1) {
    const { value, rate } = read(place, front, 1);
    expect(value).toBeGreaterThanOrEqual(300);
    expect(value).toBeLessThanOrEqual(300.2);
    expect(rate).toBeGreaterThanOrEqual(600);
    expect(rate).toBeLessThanOrEqual(600.4);
  }
});

const all = () => true;
const even = Float64Array.of(0.5, 1.5, 2.5, 3.5, 4.5, 5.5, 6.5);
const sum = (at: readonly number[], weights: readonly number[], y: (x: number) => number) =>
  at.reduce((total, k, i) => total + weights[i]! * y(even[k]!), 0);

test("a cubic is read exactly from the two cells on either side, at an end from the four that are there", () => {
  const cubic = (x: number) => 5 - 3 * x + 0.7 * x ** 2 - 0.2 * x ** 3;
  for (let place = 0.05; place < 7; place += 0.1) {
    const start = Math.min(6, Math.floor(place));
    const { at, weights } = stencilAt({ centers: even, even: false, same: all }, start, place);
    const first = Math.min(3, Math.max(0, Math.floor(place - 0.5) - 1));
    expect(at).toEqual([first, first + 1, first + 2, first + 3]);
    expect(sum(at, weights, cubic)).toBeCloseTo(cubic(place), 10);
  }
});

test("beside an axis of symmetry a parabola in r2 is read from the first two cells, further out a cubic", () => {
  const parabola = (r: number) => 9 - 2 * r * r;
  for (const [start, place] of [
    [0, 0],
    [0, 0.3],
    [0, 0.9],
    [1, 1.2],
  ] as const) {
    const found = stencilAt({ centers: even, even: true, same: all }, start, place);
    expect(found.at).toEqual([0, 1]);
    expect(found.below).toBe(-1);
    expect(sum(found.at, found.weights, parabola)).toBeCloseTo(parabola(place), 12);
  }
  // where the region has no third cell, too
  const two = stencilAt({ centers: even, even: true, same: (k) => k < 2 }, 0, 0.3);
  expect(sum(two.at, two.weights, parabola)).toBeCloseTo(parabola(0.3), 12);
  const cubic = (x: number) => x ** 3 - x;
  const beyond = stencilAt({ centers: even, even: true, same: all }, 1, 1.7);
  expect(beyond.at).toEqual([0, 1, 2, 3]);
  expect(sum(beyond.at, beyond.weights, cubic)).toBeCloseTo(cubic(1.7), 12);
  // of a field that nothing mirrors the first cells are like any others
  const plain = stencilAt({ centers: even, even: false, same: all }, 0, 0.3);
  expect(sum(plain.at, plain.weights, cubic)).toBeCloseTo(cubic(0.3), 12);
});

test("only cells of the region itself are read: as many as there are, and the axis only by a region that lies at it", () => {
  const of = (start: number, place: number, ...region: number[]) =>
    stencilAt({ centers: even, even: true, same: (k) => region.includes(k) }, start, place);
  expect(of(3, 3.4, 0, 1, 2, 4, 5)).toEqual({ at: [3], weights: [1], below: -1 });
  expect(of(0, 0.2, 1, 2)).toEqual({ at: [0], weights: [1], below: -1 });
  expect(of(0, 0.2, 0)).toEqual({ at: [0], weights: [1], below: -1 });
  expect(of(1, 1.1, 1)).toEqual({ at: [1], weights: [1], below: -1 });
  const line = of(1, 1.2, 1, 2);
  expect(line.at).toEqual([1, 2]);
  expect(line.below).toBe(-1);
  expect(sum(line.at, line.weights, (x) => 4 - x)).toBeCloseTo(2.8, 12);
  const parabola = of(2, 2.9, 2, 3, 4, 6);
  expect(parabola.at).toEqual([2, 3, 4]);
  expect(parabola.below).toBe(0);
  expect(sum(parabola.at, parabola.weights, (x) => x * x)).toBeCloseTo(2.9 * 2.9, 12);
  expect(of(3, 3.2, 1, 2, 3).at).toEqual([1, 2, 3]);
  expect(of(3, 3.2, 1, 2, 3).below).toBe(1);
  // beyond the last center of its region a place lies between none
  expect(of(4, 4.9, 2, 3, 4).below).toBe(-1);
  expect(of(2, 2.1, 2, 3, 4).below).toBe(-1);
});

test("no further beyond the two cells around a place than a quarter of the drop beside them, and the rate is that of what is read", () => {
  /** Lagrange's sum, then held within what the cells around the place allow. */
  const plain = (place: number, values: readonly number[], below: number) => {
    const n = values.length;
    let value = 0;
    for (let k = 0; k < n; k++) {
      let w = 1;
      for (let q = 0; q < n; q++) if (q !== k) w *= (place - q) / (k - q);
      value += w * values[k]!;
    }
    const around = [values[below]!, values[below + 1]!];
    const drops = [
      ...(below > 0 ? [Math.abs(values[below]! - values[below - 1]!)] : []),
      ...(below + 2 < n ? [Math.abs(values[below + 1]! - values[below + 2]!)] : []),
    ];
    const most = Math.min(...drops) / 4;
    return Math.min(Math.max(...around) + most, Math.max(Math.min(...around) - most, value));
  };
  const levels = [0, 0.2, 1.1, 40];
  const speeds = [3, -7, 11, 5];
  const centers = Float64Array.of(0, 1, 2, 3);
  const wrong: string[] = [];
  let compared = 0;
  for (let code = 0; code < 256; code++)
    for (const n of [3, 4])
      for (let below = 0; below < n - 1; below++)
        for (const part of [0.2, 0.5, 0.7]) {
          const given = centers.slice(0, n).map((k) => levels[(code >> (2 * k)) & 3]! + 0.013 * k);
          const rates = centers.slice(0, n).map((k) => speeds[(code + k) & 3]!);
          const place = below + part;
          const same = (k: number) => k < n;
          const stencil = stencilAt({ centers, even: false, same }, Math.round(place), place);
          if (stencil.below !== below) wrong.push(`${code} ${n} ${place}: below`);
          const out = { value: 0, rate: 0 };
          readStencil(stencil, given, rates, out);
          const later = (dt: number) =>
            plain(place, [...given.map((v, k) => v + dt * rates[k]!)], below);
          if (!(Math.abs(out.value - later(0)) < 1e-9)) wrong.push(`${code} ${n} ${place}: value`);
          const [ahead, behind] = [later(1e-5) - later(0), later(0) - later(-1e-5)];
          // where it only just begins to be held it has two rates
          if (Math.abs(ahead - behind) > 1e-9) continue;
          if (!(Math.abs(out.rate - (ahead + behind) / 2e-5) < 1e-3))
            wrong.push(`${code} ${n} ${place}: rate`);
          compared += 1;
        }
  expect(wrong).toEqual([]);
  expect(compared).toBeGreaterThan(2000);
});

test("beyond the last center a cubic goes on as it is, however steep", () => {
  const cubic = (x: number) => 300 + 40 * (x - 3) ** 3;
  const { at, weights, below } = stencilAt({ centers: even, even: false, same: all }, 6, 6.9);
  const values = Float64Array.from(at, (k) => cubic(even[k]!));
  const out = { value: 0, rate: 0 };
  for (const sign of [1, -1]) {
    const signed = values.map((v) => sign * v);
    readStencil({ at, weights, below }, signed, signed, out);
    expect(out.value).toBeCloseTo(sign * cubic(6.9), 7);
    expect(out.rate).toBeCloseTo(sign * cubic(6.9), 7);
  }
});

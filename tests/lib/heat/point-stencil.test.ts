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

import fc from "fast-check";
import { expect, test } from "vitest";
import { contentOf } from "../../../lib/heat/grid-content.ts";
import type { Ring } from "../../../lib/shape/outline.ts";

const SIZE = 12;
const box = (left: number, bottom: number, right: number, top: number): Ring =>
  Float64Array.of(left, bottom, right, bottom, right, top, left, top);

/** Share of each region, 0 being the block, in each cell. */
function sharesOf(shapes: readonly (readonly Ring[])[], lines: readonly number[]): number[][] {
  const x = Float64Array.from(lines);
  const [nx, ny] = [x.length - 1, x.length - 1];
  const xc = Float64Array.from({ length: nx }, (_, i) => (x[i] + x[i + 1]) / 2);
  const rows = Array.from({ length: ny }, () => ({ at: [0, SIZE], region: [0], normal: [] }));
  const grid = { frame: "slab", nx, ny, x, y: x, xc } as const;
  const found = contentOf(grid, shapes.length + 1, shapes, rows);
  return Array.from(found.content, (content) => {
    const shares = new Array<number>(shapes.length + 1).fill(0);
    if (content >= 0) shares[content] = 1;
    else
      for (let k = found.mixStart[-1 - content]; k < found.mixStart[-content]; k++)
        shares[found.mixRegion[k]] += found.mixShare[k];
    return shares;
  });
}

const corner = fc.integer({ min: 0, max: SIZE });
const side = fc
  .tuple(corner, corner)
  .filter(([a, b]) => a !== b)
  .map(([a, b]) => [Math.min(a, b), Math.max(a, b)] as const);

test("boxes one over the other: each cell holds what the last of them leaves of the others, counted square by square", () => {
  const boxes = fc.array(fc.tuple(side, side), { minLength: 1, maxLength: 5 });
  const inner = fc.uniqueArray(fc.integer({ min: 1, max: SIZE - 1 }), { maxLength: 4 });
  fc.assert(
    fc.property(boxes, inner, (given, between) => {
      const lines = [0, ...between.sort((a, b) => a - b), SIZE];
      const shapes = given.map(([[l, r], [b, t]]) => [box(l, b, r, t)]);
      const found = sharesOf(shapes, lines);
      const n = lines.length - 1;
      for (let j = 0; j < n; j++)
        for (let i = 0; i < n; i++) {
          const counted = new Array<number>(given.length + 1).fill(0);
          for (let py = lines[j]; py < lines[j + 1]; py++)
            for (let px = lines[i]; px < lines[i + 1]; px++) {
              const top = given.findLastIndex(
                ([[l, r], [b, t]]) => l <= px && px < r && b <= py && py < t,
              );
              counted[top + 1] += 1;
            }
          const whole = (lines[i + 1] - lines[i]) * (lines[j + 1] - lines[j]);
          counted.forEach((squares, region) => {
            expect(found[j * n + i][region]).toBeCloseTo(squares / whole, 9);
          });
        }
    }),
    { numRuns: 300 },
  );
});

test.each([
  { what: "in it", at: 9.6, inside: true },
  { what: "in part", at: 10.7, inside: false },
])(
  "a box with a polygon in a polygon, and another $what: areas by n / 2 r^2 sin(2 pi / n)",
  ({ at, inside }) => {
    const polygon = (n: number, r: number, x: number, y: number): Ring =>
      Float64Array.from({ length: 2 * n }, (_, i) => {
        const turn = (2 * Math.PI * Math.floor(i / 2)) / n;
        return i % 2 === 0 ? x + r * Math.cos(turn) : y + r * Math.sin(turn);
      });
    const areaOf = (n: number, r: number) => (n / 2) * r * r * Math.sin((2 * Math.PI) / n);
    const shapes = [
      [box(1, 1, 11, 11)],
      [polygon(40, 4, 6, 6)],
      [polygon(6, 2, 6, 6)],
      [polygon(12, 0.9, at, SIZE - at)],
    ];
    const lines = [0, 0.7, 2.2, 3, 4.1, 5.5, 6, 7.3, 8.8, 10.2, 12];
    const total = new Array<number>(5).fill(0);
    sharesOf(shapes, lines).forEach((shares, cell) => {
      const [i, j] = [cell % 10, Math.floor(cell / 10)];
      const whole = (lines[i + 1] - lines[i]) * (lines[j + 1] - lines[j]);
      shares.forEach((share, region) => {
        total[region] += share * whole;
      });
    });
    const [ring, core, beside] = [areaOf(40, 4), areaOf(6, 2), areaOf(12, 0.9)];
    expect(total[2]).toBeCloseTo(ring - core, 9);
    expect(total[3]).toBeCloseTo(core, 9);
    expect(total[4]).toBeCloseTo(beside, 9);
    expect(total.reduce((a, b) => a + b)).toBeCloseTo(SIZE * SIZE, 9);
    if (inside) expect(total[1]).toBeCloseTo(100 - ring - beside, 9);
    else expect(total[1]).toBeGreaterThan(100 - ring - beside + 0.1);
  },
);

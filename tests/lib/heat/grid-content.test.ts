import fc from "fast-check";
import polygonClipping from "polygon-clipping";
import { describe, expect, test } from "vitest";
import { contentOf, cureEntries, cureEntry } from "../../../lib/heat/grid-content.ts";
import type { Grid } from "../../../lib/heat/grid-type.ts";
import { type Ring, ringsOf } from "../../../lib/shape/outline.ts";
import { scanLine } from "../../../lib/shape/scan.ts";

const SIZE = 12;
const box = (left: number, bottom: number, right: number, top: number): Ring =>
  Float64Array.of(left, bottom, right, bottom, right, top, left, top);

/** What the cells of a square grid hold. */
function contentsOf(shapes: readonly (readonly Ring[])[], lines: readonly number[]) {
  const x = Float64Array.from(lines);
  const [nx, ny] = [x.length - 1, x.length - 1];
  const xc = Float64Array.from({ length: nx }, (_, i) => (x[i] + x[i + 1]) / 2);
  const rows = Array.from({ length: ny }, () => ({ at: [0, SIZE], region: [0], normal: [] }));
  const grid = { frame: "slab", nx, ny, x, y: x, xc } as const;
  return contentOf(grid, shapes.length + 1, shapes, rows);
}

/** Share of each region, 0 being the block, in each cell. */
function sharesOf(shapes: readonly (readonly Ring[])[], lines: readonly number[]): number[][] {
  const found = contentsOf(shapes, lines);
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

/** Areas of all regions, the block first. */
function areasOf(shapes: readonly (readonly Ring[])[], lines: readonly number[]): number[] {
  const n = lines.length - 1;
  const total = new Array<number>(shapes.length + 1).fill(0);
  sharesOf(shapes, lines).forEach((shares, cell) => {
    const [i, j] = [cell % n, Math.floor(cell / n)];
    const whole = (lines[i + 1] - lines[i]) * (lines[j + 1] - lines[j]);
    shares.forEach((share, region) => {
      total[region] += share * whole;
    });
  });
  return total;
}

describe("a shape whose sides are lines of the grid, under another", () => {
  const lines = [0, 2, 4, 6, 8, 10, 12];
  const ring = (...points: (readonly [number, number])[]): Ring => Float64Array.from(points.flat());
  /** How often polygons are cut out of each other. */
  const cuts = (run: () => void): number => {
    const { difference } = polygonClipping;
    let count = 0;
    polygonClipping.difference = (...all) => {
      count += 1;
      return difference(...all);
    };
    try {
      run();
    } finally {
      polygonClipping.difference = difference;
    }
    return count;
  };
  const corners = [
    [2, 4],
    [10, 4],
    [10, 8],
    [2, 8],
  ] as const;
  test("as a box costs no polygons, wherever its ring begins and however it runs", () => {
    const over = [box(3, 3, 7, 7)];
    for (let first = 0; first < 4; first++)
      for (const way of [1, 3]) {
        const own = ring(...[0, 1, 2, 3].map((k) => corners[(first + way * k) % 4]!));
        const shape = way === 1 ? own : ring(...[0, 1, 2, 3].map((k) => corners[(first + k) % 4]!));
        expect(cuts(() => sharesOf([[shape], over], lines))).toBe(0);
        const [block, under, top] = areasOf([[shape], over], lines);
        expect(top).toBeCloseTo(16, 9);
        expect(under).toBeCloseTo(32 - 4 * 3, 9);
        expect(block).toBeCloseTo(144 - 32 - 4, 9);
      }
    // nor where nothing lies over it
    expect(cuts(() => sharesOf([[box(1, 1, 3, 3)], [box(5, 5, 9, 9)]], lines))).toBe(0);
    expect(cuts(() => sharesOf([[box(1, 1, 3, 3)], [box(2, 2, 9, 9)]], lines))).toBe(1);
    // what reaches beyond the body cuts no cell there
    expect(cuts(() => sharesOf([[box(-1, -3, 6, 8)], [box(2, 2, 9, 9)]], lines))).toBe(0);
    expect(cuts(() => sharesOf([[box(4, 6, 13, 17)], [box(2, 2, 9, 9)]], lines))).toBe(0);
    expect(areasOf([[box(-1, -3, 6, 8)], [box(5, 5, 9, 9)]], lines)[1]).toBeCloseTo(48 - 3, 9);
  });
  test("shapes that lie beside or over each other, touching or apart, are measured without", () => {
    const one = [ring([1, 1], [5, 3], [3, 5])];
    for (const [dx, dy] of [
      [4, 0],
      [6, 1],
      [0, 4],
      [1, 6],
      [5, 5],
    ] as const) {
      const other = [ring([1 + dx, 1 + dy], [5 + dx, 3 + dy], [3 + dx, 5 + dy])];
      for (const shapes of [
        [one, other],
        [other, one],
      ]) {
        expect(
          cuts(() => sharesOf(shapes, lines)),
          `${dx} ${dy}`,
        ).toBe(0);
        expect(areasOf(shapes, lines).slice(1)).toEqual([
          expect.closeTo(6, 9),
          expect.closeTo(6, 9),
        ]);
      }
    }
  });
  test.each([
    ["a diamond", [ring([2, 6], [6, 4], [10, 6], [6, 8])], 16],
    ["a trapezoid", [ring([2, 4], [10, 4], [8, 8], [4, 8])], 24],
    ["a triangle with a corner more", [ring([2, 4], [10, 4], [2, 8], [2, 6])], 16],
    ["a box with a hole", [ring(...corners), ring([4, 6], [4, 7], [6, 7], [6, 6])], 30],
    // its first four corners are a box of their own
    [
      "a box with a stem",
      [ring([2, 6], [2, 4], [10, 4], [10, 6], [8, 6], [8, 8], [6, 8], [6, 6])],
      20,
    ],
    ["a box with a bite", [ring([2, 4], [10, 4], [10, 8], [6, 8], [6, 6], [2, 6])], 24],
  ] as const)("is measured as %s, not as its box", (_, shape, area) => {
    const over = [box(9, 9, 11, 11)];
    // beside it, over a corner of its box alone, and across all of it
    expect(areasOf([shape, over], lines)[1]).toBeCloseTo(area, 9);
    const corner = [box(9.5, 7.5, 11, 11)];
    const left = areasOf([shape, corner], lines);
    expect(left[2]).toBeCloseTo(1.5 * 3.5, 9);
    expect(left.reduce((a, b) => a + b)).toBeCloseTo(144, 9);
    const half = areasOf([shape, [box(0, 0, 12, 6)]], lines);
    const upper = areasOf([shape, [box(0, 6, 12, 12)]], lines);
    expect(half[1]! + upper[1]!).toBeCloseTo(area, 9);
    expect(areasOf([shape, [box(1, 1, 11, 11)]], lines)[1]).toBeCloseTo(0, 9);
  });
});

test("every region of a cell has its own place among the cures: the first the cell's, the others after all cells", () => {
  const lines = [0, 3, 6, 9, 12];
  const shapes = [[box(1, 1, 11, 5)], [box(2, 2, 5, 11)], [box(4, 4, 10, 10)]];
  const found = contentsOf(shapes, lines);
  const grid = found as unknown as Grid;
  const taken = new Map<number, string>();
  for (let cell = 0; cell < 16; cell++) {
    const shares = sharesOf(shapes, lines)[cell]!;
    let own = 0;
    shares.forEach((share, region) => {
      const entry = cureEntry(grid, cell, region);
      expect(entry >= 0, `${cell} ${region}`).toBe(share > 0);
      if (entry < 0) {
        expect(entry).toBe(-1);
        return;
      }
      expect(taken.has(entry)).toBe(false);
      taken.set(entry, `${cell} ${region}`);
      if (entry === cell) own += 1;
      else expect(entry).toBeGreaterThanOrEqual(16);
    });
    expect(own).toBe(1);
  }
  // all of them, and no gap
  expect(taken.size).toBe(cureEntries(grid));
  expect(Math.max(...taken.keys())).toBe(taken.size - 1);
});

describe("cells whose rows are scanned", () => {
  const x = Float64Array.of(0, 3, 5, 6, 9, 14, 20, 24, 31, 40, 45, 60);
  const y = Float64Array.of(0, 4, 7, 12, 13, 19, 26, 33, 36, 40);
  const middles = (lines: Float64Array) =>
    Float64Array.from({ length: lines.length - 1 }, (_, i) => (lines[i]! + lines[i + 1]!) / 2);
  const [xc, yc] = [middles(x), middles(y)];
  const [nx, ny] = [xc.length, yc.length];
  const filled = (frame: "section" | "round", shapes: readonly (readonly Ring[])[]) => {
    const rows = Array.from(yc, (at) => scanLine(shapes, 0, at, 0, 60));
    return contentOf({ frame, nx, ny, x, y, xc }, shapes.length + 1, shapes, rows);
  };
  /** By region: of a plane section areas, around the axis volumes. */
  const volumesOf = (frame: "section" | "round", shapes: readonly (readonly Ring[])[]) => {
    const { content, mixStart, mixRegion, mixShare } = filled(frame, shapes);
    const total = new Array<number>(shapes.length + 1).fill(0);
    content.forEach((one, cell) => {
      const [i, j] = [cell % nx, Math.floor(cell / nx)];
      const width = frame === "round" ? Math.PI * (x[i + 1]! ** 2 - x[i]! ** 2) : x[i + 1]! - x[i]!;
      const volume = width * (y[j + 1]! - y[j]!);
      if (one >= 0) total[one]! += volume;
      else
        for (let k = mixStart[-1 - one]!; k < mixStart[-one]!; k++)
          total[mixRegion[k]!]! += volume * mixShare[k]!;
    });
    return total;
  };
  const triangle = [Float64Array.of(11, 5, 34, 12, 17, 33)];
  const area = 0.5 * (23 * 28 - 6 * 7);
  const middle = (11 + 34 + 17) / 3;
  const turned = (of: number, at: number) => 2 * Math.PI * of * at;

  test("around an axis: volumes by Pappus, 2 pi times the area at the centroid's radius", () => {
    expect(volumesOf("section", [triangle])[1]! / area).toBeCloseTo(1, 9);
    expect(volumesOf("round", [triangle])[1]! / turned(area, middle)).toBeCloseTo(1, 9);
    // under others: a box of whole cells by areas alone, another by polygons
    const inner = turned(area, middle);
    for (const [left, right] of [
      [9, 45],
      [8.1, 44.3],
    ] as const) {
      const whole = turned((right - left) * 32, (left + right) / 2);
      const [, under, over] = volumesOf("round", [[box(left, 4, right, 36)], triangle]);
      expect(over! / inner).toBeCloseTo(1, 9);
      expect(under! / (whole - inner)).toBeCloseTo(1, 9);
    }
    // two over one, beside each other
    const [block, under, one, other] = volumesOf("round", [
      [box(9, 4, 45, 36)],
      triangle,
      [box(35.5, 8.5, 42, 30)],
    ]);
    const beside = turned(6.5 * 21.5, 38.75);
    expect(one! / inner).toBeCloseTo(1, 9);
    expect(other! / beside).toBeCloseTo(1, 9);
    expect(under! / (turned(36 * 32, 27) - inner - beside)).toBeCloseTo(1, 9);
    expect(block! / (turned(60 * 40, 30) - turned(36 * 32, 27))).toBeCloseTo(1, 9);
  });
  test("the center of a cut cell is in the region that covers it, of a full one in its own", () => {
    const ellipse = ringsOf({ kind: "ellipse", axes: [17, 21], center: [41, 20] });
    const { content, center, mixStart } = filled("section", [triangle, ellipse]);
    // only what holds several is a mixture
    mixStart.slice(1).forEach((end, m) => {
      expect(end - mixStart[m]!).toBeGreaterThanOrEqual(2);
    });
    const isIn = (px: number, py: number) => {
      if (Math.hypot((px - 41) / 8.5, (py - 20) / 10.5) < 1) return 2;
      const [ring] = triangle;
      const side = (k: number) => {
        const [ax, ay, bx, by] = [0, 1, 2, 3].map((q) => ring![(2 * k + q) % 6]!);
        return (bx! - ax!) * (py - ay!) - (by! - ay!) * (px - ax!);
      };
      return side(0) > 0 && side(1) > 0 && side(2) > 0 ? 1 : 0;
    };
    let cut = 0;
    content.forEach((one, cell) => {
      const region = isIn(xc[cell % nx]!, yc[Math.floor(cell / nx)]!);
      expect(center[cell], `${cell}`).toBe(region);
      if (one >= 0) expect(one).toBe(region);
      else cut += 1;
    });
    expect(cut).toBeGreaterThan(20);
  });
  test("layers are what their row says", () => {
    const row = { at: [0, 5, 24, 60], region: [0, 1, 2], normal: [1, 1] };
    const found = contentOf(
      { frame: "slab", nx, ny: 1, x, y: Float64Array.of(0, 1), xc },
      3,
      [],
      [row],
    );
    const wanted = Array.from(xc, (at) => (at < 5 ? 0 : at < 24 ? 1 : 2));
    expect([...found.content]).toEqual(wanted);
    expect([...found.center]).toEqual(wanted);
    expect([found.mixCell.length, found.mixRegion.length, [...found.mixStart]]).toEqual([
      0,
      0,
      [0],
    ]);
  });
});

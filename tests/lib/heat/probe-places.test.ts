/**
 * Where probes read: each place, face and region of a section as cells and links with weights that give a line exactly. Grids
 * are laid, nothing is solved.
 */
import { describe, expect, test } from "vitest";
import { makeGrids } from "../../../lib/heat/grid.ts";
import { cureEntry } from "../../../lib/heat/grid-content.ts";
import type { Grid } from "../../../lib/heat/grid-type.ts";
import { axisOf, type FaceSide, placesOf, type Reading } from "../../../lib/heat/probe-places.ts";
import type { HeatProblem, Probe, Shape } from "../../../lib/heat/problem.ts";
import type { Outline } from "../../../lib/shape/outline.ts";

const m = { name: "m", conductivity: 0.4, density: 1200, specificHeat: 1500 };
const insulated = { kind: "insulated" } as const;
const shape = (name: string, outline: Outline): Shape => ({
  name,
  outline,
  material: "m",
  initial: 340,
});
const box = (left: number, bottom: number, right: number, top: number): Outline => ({
  kind: "rectangle",
  size: [right - left, top - bottom],
  center: [(left + right) / 2, (bottom + top) / 2],
});

function section(shapes: readonly Shape[], more: Partial<HeatProblem> = {}): HeatProblem {
  return {
    frame: "section",
    materials: { m },
    block: { width: 0.06, height: 0.04, material: "m", initial: 340 },
    shapes,
    boundary: { left: insulated },
    stages: [{ until: 1 }],
    probes: {},
    ...more,
  };
}
const layered = (frame: "slab" | "cylinder"): HeatProblem => ({
  frame,
  materials: { m },
  layers: [
    { name: "a", material: "m", thickness: 0.01, initial: 300 },
    { name: "b", material: "m", thickness: 0.02, initial: 300 },
  ],
  boundary: { right: insulated },
  stages: [{ until: 1 }],
  probes: {},
});

const point = (x: number, y?: number, side?: "left" | "right"): Probe => ({
  kind: "point",
  x,
  ...(y === undefined ? {} : { y }),
  ...(side === undefined ? {} : { side }),
});

const xOf = (grid: Grid, cell: number) => grid.xc[cell % grid.nx]!;
const yOf = (grid: Grid, cell: number) => grid.yc[Math.floor(cell / grid.nx)]!;
const alongOf = (grid: Grid, cell: number, axis: 0 | 1) =>
  axis === 0 ? xOf(grid, cell) : yOf(grid, cell);

/** What a reading gives of a field by the centers of its cells, of a face that of its links across it. */
function sum(
  { cells, weights }: { cells: Int32Array; weights: Float64Array },
  of: (cell: number) => number,
): number {
  let total = 0;
  cells.forEach((cell, k) => {
    total += weights[k]! * of(cell);
  });
  return total;
}
function sidesOf(reading: Reading): readonly FaceSide[] {
  if (reading.kind !== "faces") throw new Error(`a face, not ${reading.kind}`);
  return reading.sides;
}
const firstCell = (side: FaceSide) => (side.kind === "link" ? side.link.a : side.cells[0]!);

describe("one material alone", () => {
  const grid = makeGrids(section([]))(0);
  const cubic = (v: number) => 1 + 30 * v - 900 * v ** 2 + 2e4 * v ** 3;
  test("inside, a product of cubics is read exactly at every place", () => {
    for (let x = 0.0007; x < 0.06; x += 0.0031)
      for (let y = 0.0004; y < 0.04; y += 0.0037) {
        const reading = placesOf(grid, point(x, y));
        if (reading.kind !== "point") throw new Error("a point");
        expect(reading.region).toBe(0);
        const value = sum(reading, (cell) => cubic(xOf(grid, cell)) * cubic(yOf(grid, cell)));
        expect(value).toBeCloseTo(cubic(x) * cubic(y), 10);
        expect(reading.cells.length).toBe(16);
        expect(reading.rows.length).toBe(reading.along.at.length);
      }
  });
  describe.each([
    { side: "left", axis: 0, end: 0 },
    { side: "right", axis: 0, end: 0.06 },
    { side: "bottom", axis: 1, end: 0 },
    { side: "top", axis: 1, end: 0.04 },
  ] as const)("on the $side face", ({ side, axis, end }) => {
    const [other, length] = axis === 0 ? ([1, 0.04] as const) : ([0, 0.06] as const);
    const at = (along: number) =>
      sidesOf(placesOf(grid, axis === 0 ? point(end, along) : point(along, end)));
    const places = Array.from({ length: 29 }, (_, k) => ((k + 1) / 30) * length);
    test("a line along it is read exactly, between the centers around the place where there are two", () => {
      const lines = axis === 0 ? grid.yc : grid.xc;
      for (const along of places) {
        const sides = at(along);
        const centers = sides.map((one) => alongOf(grid, firstCell(one), other));
        expect(sides.length).toBe(2);
        expect(sides[0]!.weight + sides[1]!.weight).toBeCloseTo(1, 12);
        expect(sides[0]!.weight * centers[0]! + sides[1]!.weight * centers[1]!).toBeCloseTo(
          along,
          12,
        );
        if (along < lines[0]! || along > lines.at(-1)!) continue;
        expect(Math.min(...centers)).toBeLessThanOrEqual(along);
        expect(Math.max(...centers)).toBeGreaterThanOrEqual(along);
      }
    });
    test("cure comes from the two cells inside, at the face itself", () => {
      for (const one of places.flatMap(at)) {
        if (one.kind !== "link") throw new Error("a link");
        expect([one.link.side, one.side, axisOf(one)]).toEqual([side, "both", axis]);
        expect(one.nearby.cells.length).toBe(2);
        expect(sum(one.nearby, (cell) => alongOf(grid, cell, axis))).toBeCloseTo(end, 12);
      }
    });
  });
  test("a corner belongs to its side, not to what lies above or below; nearly on a face is on it", () => {
    const sideAt = (x: number, y: number) =>
      sidesOf(placesOf(grid, point(x, y))).map((one) => one.kind === "link" && one.link.side);
    for (const [x, y] of [
      [0, 0],
      [0, 0.04],
      [0.06, 0],
      [0.06, 0.04],
    ] as const) {
      const sides = sidesOf(placesOf(grid, point(x, y)));
      const read = (of: (one: FaceSide) => number) =>
        sides.reduce((total, one) => total + one.weight * of(one), 0);
      expect(read(() => 1)).toBeCloseTo(1, 12);
      expect(read((one) => yOf(grid, firstCell(one)))).toBeCloseTo(y, 12);
    }
    expect(sideAt(0, 0)).toEqual(["left", "left"]);
    expect(sideAt(0.06, 0.04)).toEqual(["right", "right"]);
    expect(sideAt(1e-12, 0.02)).toEqual(["left", "left"]);
    expect(sideAt(0.06 - 1e-12, 0.02)).toEqual(["right", "right"]);
    expect(sideAt(0.03, 1e-12)).toEqual(["bottom", "bottom"]);
    expect(sideAt(0.03, 0.04 - 1e-12)).toEqual(["top", "top"]);
    for (const [x, y] of [
      [1e-6, 0.02],
      [0.06 - 1e-6, 0.02],
      [0.03, 1e-6],
      [0.03, 0.04 - 1e-6],
    ] as const)
      expect(placesOf(grid, point(x, y)).kind).toBe("point");
  });
  test("in a mirror the field goes on: it is read like the inside", () => {
    const half = makeGrids(section([], { mirrors: ["left", "bottom"] }))(0);
    for (const [x, y] of [
      [0, 0.01],
      [0.01, 0],
      [0, 0],
    ] as const) {
      const reading = placesOf(half, point(x, y));
      if (reading.kind !== "point") throw new Error("a point");
      const parabola = (cell: number) => (1 + xOf(half, cell) ** 2) * (2 - yOf(half, cell) ** 2);
      expect(sum(reading, parabola)).toBeCloseTo((1 + x * x) * (2 - y * y), 12);
    }
    expect(placesOf(half, point(0.06, 0)).kind).toBe("faces");
    expect(placesOf(half, point(0, 0.04)).kind).toBe("faces");
  });
  test("mean, hottest and coldest take every cell; extremes the four sides, too", () => {
    const mean = placesOf(grid, { kind: "mean", region: "block" });
    if (mean.kind !== "sum") throw new Error("a sum");
    expect(mean.cells.length).toBe(grid.nx * grid.ny);
    expect(sum(mean, (cell) => xOf(grid, cell))).toBeCloseTo(0.03, 12);
    expect(sum(mean, (cell) => yOf(grid, cell))).toBeCloseTo(0.02, 12);
    for (const [kind, sign] of [
      ["hottest", 1],
      ["coldest", -1],
    ] as const) {
      const peak = placesOf(grid, { kind, region: "block" });
      if (peak.kind !== "peak") throw new Error("a peak");
      expect([...peak.cells]).toEqual([...mean.cells]);
      expect(peak.sign).toBe(sign);
      const sides = new Map<string, number>();
      for (const [cell, found] of peak.edges)
        for (const one of found) {
          if (one.kind !== "link" || one.link.b >= 0) throw new Error("an outer face");
          expect(one.link.a).toBe(cell);
          expect([...one.nearby.cells]).toEqual([cell]);
          expect([...one.nearby.weights]).toEqual([1]);
          expect([one.before, one.side, one.weight]).toEqual([0, "both", 1]);
          sides.set(one.link.side!, (sides.get(one.link.side!) ?? 0) + 1);
        }
      expect(Object.fromEntries(sides)).toEqual({
        left: grid.ny,
        right: grid.ny,
        bottom: grid.nx,
        top: grid.nx,
      });
    }
  });
});

describe("two boxes side by side fill the height", () => {
  // regions: block beyond 0.035, a up to 0.02, b between
  const grid = makeGrids(
    section([shape("a", box(0, 0, 0.02, 0.04)), shape("b", box(0.02, 0, 0.035, 0.04))]),
  )(0);
  const lines = [(x: number) => 5 - 40 * x, (x: number) => 1 + 100 * x, (x: number) => 9 + 7 * x];
  const regionOf = (cell: number) => grid.content[cell]!;
  const kinked = (cell: number) => lines[regionOf(cell)]!(xOf(grid, cell));
  test.each(["bottom", "top"] as const)(
    "on the %s face a line in each is read exactly, where two end as the mean of both",
    (side) => {
      const y = side === "top" ? 0.04 : 0;
      const at = (x: number) => {
        let value = 0;
        for (const one of sidesOf(placesOf(grid, point(x, y)))) {
          if (one.kind !== "link") throw new Error("a link");
          value += one.weight * kinked(one.link.a);
        }
        return value;
      };
      for (let x = 0.0005; x < 0.06; x += 0.00097) {
        const region = x < 0.02 ? 1 : x < 0.035 ? 2 : 0;
        expect(at(x), `${x}`).toBeCloseTo(lines[region]!(x), 10);
      }
      expect(at(0.02)).toBeCloseTo((lines[1]!(0.02) + lines[2]!(0.02)) / 2, 10);
      expect(at(0.035)).toBeCloseTo((lines[2]!(0.035) + lines[0]!(0.035)) / 2, 10);
    },
  );
  test("inside, each is read by its own cells", () => {
    for (let x = 0.0005; x < 0.0599; x += 0.00097) {
      const reading = placesOf(grid, point(x, 0.017));
      if (reading.kind !== "point") continue;
      const region = x < 0.02 ? 1 : x < 0.035 ? 2 : 0;
      expect(reading.region).toBe(region);
      expect(sum(reading, kinked)).toBeCloseTo(lines[region]!(x), 10);
    }
  });
  test.each([
    ["left", "before"],
    ["right", "after"],
    [undefined, "both"],
  ] as const)("on their interface a probe of side %s reads %s it", (side, read) => {
    for (const y of [0.003, 0.0177, 0.02, 0.0391]) {
      const sides = sidesOf(placesOf(grid, point(0.02, y, side)));
      let [total, place] = [0, 0];
      for (const one of sides) {
        if (one.kind !== "link") throw new Error("a link");
        expect(one.side).toBe(read);
        expect(one.link.axis).toBe(0);
        expect(one.link.parts[one.before]!.region).toBe(1);
        expect(one.link.parts[one.before + 1]!.region).toBe(2);
        expect(one.link.places[one.before]).toBeCloseTo(0.02, 12);
        total += one.weight;
        place += one.weight * yOf(grid, one.link.a);
        expect(sum(one.nearby, (cell) => xOf(grid, cell))).toBeCloseTo(0.02, 12);
        for (const cell of one.nearby.cells) expect(regionOf(cell)).toBe(read === "after" ? 2 : 1);
      }
      expect(total).toBeCloseTo(1, 12);
      expect(place).toBeCloseTo(y, 12);
    }
  });
  test("a face takes every link between the two, read on the side that is asked", () => {
    const face = (region: string, neighbor: string) =>
      sidesOf(placesOf(grid, { kind: "face", region, neighbor, of: "mean" }));
    const from = face("a", "b");
    const back = face("b", "a");
    expect(from.length).toBe(grid.ny);
    expect(back.length).toBe(grid.ny);
    for (const [sides, side, region] of [
      [from, "before", 1],
      [back, "after", 2],
    ] as const)
      for (const one of sides) {
        if (one.kind !== "link") throw new Error("a link");
        expect(one.side).toBe(side);
        expect(one.weight).toBeCloseTo(one.link.area, 12);
        for (const cell of one.nearby.cells) expect(regionOf(cell)).toBe(region);
        expect(sum(one.nearby, (cell) => xOf(grid, cell))).toBeCloseTo(0.02, 12);
      }
    expect(face("a", "block")).toEqual([]);
  });
  test("extremes of one read its faces and the sides of the body, no others", () => {
    const peak = placesOf(grid, { kind: "hottest", region: "b" });
    if (peak.kind !== "peak") throw new Error("a peak");
    for (const cell of peak.cells) expect(regionOf(cell)).toBe(2);
    expect(peak.cells.length).toBe([...grid.content].filter((one) => one === 2).length);
    const count = { before: 0, after: 0, outer: 0 };
    for (const [cell, sides] of peak.edges)
      for (const one of sides) {
        expect(regionOf(cell)).toBe(2);
        if (one.kind !== "link") throw new Error("a link");
        if (one.link.b < 0) count.outer += 1;
        else if (one.side === "before") {
          count.before += 1;
          expect(one.link.a).toBe(cell);
          expect(one.link.places[one.before]).toBeCloseTo(0.035, 12);
        } else {
          count.after += 1;
          expect(one.side).toBe("after");
          expect(one.link.b).toBe(cell);
          expect(one.link.places[one.before]).toBeCloseTo(0.02, 12);
        }
      }
    const columns = peak.cells.length / grid.ny;
    expect(count).toEqual({ before: grid.ny, after: grid.ny, outer: 2 * columns });
  });
});

test("boxes one over the other: on their interface a line between the columns beside the place", () => {
  const grid = makeGrids(section([shape("a", box(0, 0, 0.06, 0.015))]))(0);
  for (const x of [0.004, 0.0333, 0.057])
    for (const side of [undefined, "left", "right"] as const) {
      let [total, place] = [0, 0];
      for (const one of sidesOf(placesOf(grid, point(x, 0.015, side)))) {
        if (one.kind !== "link") throw new Error("a link");
        expect(one.link.axis).toBe(1);
        expect(one.side).toBe(side === "left" ? "before" : side === "right" ? "after" : "both");
        total += one.weight;
        place += one.weight * xOf(grid, one.link.a);
        expect(sum(one.nearby, (cell) => yOf(grid, cell))).toBeCloseTo(0.015, 12);
      }
      expect(total).toBeCloseTo(1, 12);
      expect(place).toBeCloseTo(x, 12);
    }
  // outlines are typed with few digits: so near is on them, and a little further is not
  expect(placesOf(grid, point(0.0333, 0.015 + 1e-5)).kind).toBe("faces");
  expect(placesOf(grid, point(0.0333, 0.015 - 1e-5)).kind).toBe("faces");
  expect(placesOf(grid, point(0.0333, 0.015 + 4e-5)).kind).toBe("point");
  expect(placesOf(grid, point(0.0333, 0.015 - 4e-5)).kind).toBe("point");
});

describe("outlines that cut cells", () => {
  const SLANTED: Outline = {
    kind: "polygon",
    points: [
      [0.03, 0.006],
      [0.057, 0.013],
      [0.052, 0.04],
      [0.036, 0.04],
    ],
  };
  const grid = makeGrids(
    section([
      shape("c", { kind: "ellipse", axes: [0.018, 0.024], center: [0.013, 0.02] }),
      shape("s", SLANTED),
    ]),
  )(0);
  const shareOf = (cell: number, region: number) => {
    const content = grid.content[cell]!;
    if (content >= 0) return content === region ? 1 : 0;
    let share = 0;
    for (let k = grid.mixStart[-1 - content]!; k < grid.mixStart[-content]!; k++)
      if (grid.mixRegion[k] === region) share = grid.mixShare[k]!;
    return share;
  };
  const entryOf = (cell: number, region: number) => {
    const entry = cureEntry(grid, cell, region);
    return entry < 0 ? cell : entry;
  };
  interface From {
    readonly start: number;
    readonly stride: number;
    readonly region: number;
    readonly place: number;
    readonly axis: 0 | 1;
  }
  /** Two full cells in a row of the region, at most three cells from the interface and three of their distances; or none. */
  const pairFrom = ({ start, stride, region, place, axis }: From): number[] | undefined => {
    const cells = [0, 1, 2, 3].map((k) => start + k * stride);
    const cell = cells.find((c) => grid.content[c] === region);
    if (cell === undefined || grid.content[cell + stride] !== region) return undefined;
    const [p, q] = [alongOf(grid, cell, axis), alongOf(grid, cell + stride, axis)];
    return Math.abs(place - p) < 3 * Math.abs(p - q) ? [cell, cell + stride] : undefined;
  };

  test("the mean of a region weighs its cells by what it fills of them", () => {
    ["block", "c", "s"].forEach((region, r) => {
      const mean = placesOf(grid, { kind: "mean", region });
      if (mean.kind !== "sum") throw new Error("a sum");
      const held = Array.from(grid.content, (_, cell) => cell).filter((c) => shareOf(c, r) > 0);
      expect([...mean.cells]).toEqual(held);
      const volume = (cell: number) =>
        shareOf(cell, r) * grid.vx[cell % grid.nx]! * grid.ly[Math.floor(cell / grid.nx)]!;
      const total = held.reduce((all, cell) => all + volume(cell), 0);
      held.forEach((cell, k) => {
        expect(mean.weights[k]).toBeCloseTo(volume(cell) / total, 12);
      });
      expect([...mean.entries]).toEqual(held.map((cell) => entryOf(cell, r)));
    });
    const round = placesOf(grid, { kind: "mean", region: "c" });
    if (round.kind !== "sum") throw new Error("a sum");
    expect(sum(round, (cell) => xOf(grid, cell))).toBeCloseTo(0.013, 4);
  });

  test.each([
    ["c", "block"],
    ["block", "c"],
    ["s", "block"],
    ["block", "s"],
  ])(
    "faces of %s with %s: each by the two nearest full cells of its side, at the interface",
    (region, neighbor) => {
      const [r, q] = [grid.regions.indexOf(region), grid.regions.indexOf(neighbor)];
      const sides = sidesOf(placesOf(grid, { kind: "face", region, neighbor, of: "mean" }));
      const all = grid.links.flatMap((link) =>
        link.interfaces.flatMap((area, k) => {
          const pair = [link.parts[k]!.region, link.parts[k + 1]!.region];
          const between = (pair[0] === r && pair[1] === q) || (pair[0] === q && pair[1] === r);
          // head-on only: what a link grazes it meets far from its cells
          return between && area >= 0.6 * link.area
            ? [{ link, k, area, first: pair[0] === r }]
            : [];
        }),
      );
      expect(sides.length).toBe(all.length);
      let [byCells, alone] = [0, 0];
      all.forEach(({ link, k, area, first }, i) => {
        const one = sides[i]!;
        expect(one.weight).toBe(area);
        expect(axisOf(one)).toBe(link.axis);
        const stride = (link.axis === 0 ? 1 : grid.nx) * (first ? -1 : 1);
        const place = link.places[k]!;
        const start = first ? link.a : link.b;
        const pair = pairFrom({ start, stride, region: r, place, axis: link.axis });
        const isCut = grid.content[link.a]! < 0 || grid.content[link.b]! < 0;
        expect(one.kind).toBe(isCut && pair ? "cells" : "link");
        const read = one.kind === "cells" ? one : one.nearby;
        if (pair) {
          expect([...read.cells]).toEqual(pair);
          expect(sum(read, (c) => alongOf(grid, c, link.axis))).toBeCloseTo(place, 12);
          expect(read.weights[0]! + read.weights[1]!).toBeCloseTo(1, 12);
        } else {
          // its own cell on that side
          expect([...read.cells]).toEqual([start]);
          expect([...read.weights]).toEqual([1]);
          expect([...read.entries]).toEqual([entryOf(start, r)]);
          alone += 1;
        }
        const side = first ? "before" : "after";
        const meet = { before: first ? r : q, after: first ? q : r, side };
        if (one.kind === "cells") byCells += 1;
        expect(one).toMatchObject(one.kind === "cells" ? { meet } : { link, before: k, side });
      });
      expect(byCells).toBeGreaterThan(5);
      expect(alone).toBeGreaterThan(1);
    },
  );

  test("extremes take the cells whose center the region holds, and the faces that these meet", () => {
    ["block", "c", "s"].forEach((region, r) => {
      const peak = placesOf(grid, { kind: "hottest", region });
      if (peak.kind !== "peak") throw new Error("a peak");
      const held = Array.from(grid.content, (_, cell) => cell).filter(
        (cell) => shareOf(cell, r) > 0 && grid.center[cell] === r,
      );
      expect([...peak.cells]).toEqual(held);
      let wanted = 0;
      const isOwn = (cell: number) => grid.center[cell] === r;
      for (const link of grid.links)
        link.interfaces.forEach((area, k) => {
          const [p, q] = [link.parts[k]!.region, link.parts[k + 1]!.region];
          if (p === q || area < 0.6 * link.area) return;
          if (p === r && isOwn(link.a)) wanted += 1;
          if (q === r && isOwn(link.b)) wanted += 1;
        });
      for (const { a, parts } of grid.faces)
        if (parts.length === 1 && parts[0]!.region === r && isOwn(a)) wanted += 1;
      const found = [...peak.edges.values()].flat();
      expect(found.length).toBe(wanted);
      for (const cell of peak.edges.keys()) expect(isOwn(cell)).toBe(true);
    });
  });

  test("on the outer face above a cell that is cut, that cell alone", () => {
    let cut = 0;
    for (let i = 0; i < grid.nx; i++) {
      const cell = (grid.ny - 1) * grid.nx + i;
      if (grid.content[cell]! >= 0) continue;
      cut += 1;
      const sides = sidesOf(placesOf(grid, point(grid.xc[i]! + 1e-5, 0.04)));
      expect(sides.map((one) => [firstCell(one), one.weight])).toEqual([[cell, 1]]);
      const [only] = sides;
      if (only?.kind !== "link") throw new Error("a link");
      // its cure by the full cells below it, or by its own where there are none
      const region = only.link.parts[0]!.region;
      const pair = pairFrom({
        start: cell,
        stride: -grid.nx,
        region,
        place: 0.04,
        axis: 1,
      });
      expect([...only.nearby.cells]).toEqual(pair ?? [cell]);
      expect([...only.nearby.entries]).toEqual((pair ?? [cell]).map((c) => entryOf(c, region)));
      if (!pair) expect([...only.nearby.weights]).toEqual([1]);
      else expect(sum(only.nearby, (c) => yOf(grid, c))).toBeCloseTo(0.04, 12);
    }
    expect(cut).toBeGreaterThan(1);
  });
});

describe.each(["slab", "cylinder"] as const)("layers of a %s", (frame) => {
  const grid = makeGrids(layered(frame))(0);
  test("inside a layer a cubic is read exactly, whatever y says", () => {
    for (const [x, region] of [
      [0.0043, 0],
      [0.0099, 0],
      [0.0102, 1],
      [0.0171, 1],
      [0.0297, 1],
    ] as const)
      for (const y of [undefined, 0.3]) {
        const reading = placesOf(grid, point(x, y));
        if (reading.kind !== "point") throw new Error("a point");
        expect(reading.region).toBe(region);
        expect(sum(reading, (cell) => xOf(grid, cell) ** 2)).toBeCloseTo(x * x, 10);
        for (const cell of reading.cells) expect(grid.content[cell]).toBe(region);
      }
  });
  test("where they meet, one link, read on the side that is asked", () => {
    for (const [side, read] of [
      ["left", "before"],
      ["right", "after"],
      [undefined, "both"],
    ] as const) {
      const sides = sidesOf(placesOf(grid, point(0.01, undefined, side)));
      expect(sides.map((one) => one.kind === "link" && one.side)).toEqual([read]);
    }
    expect(placesOf(grid, point(0.01 + 1e-6)).kind).toBe("point");
    expect(placesOf(grid, point(0.01 - 1e-6)).kind).toBe("point");
  });
  test("at the ends the faces; an axis is none", () => {
    const right = sidesOf(placesOf(grid, point(0.03)));
    expect(right.map((one) => one.kind === "link" && [one.link.side, one.weight])).toEqual([
      ["right", 1],
    ]);
    const left = placesOf(grid, point(0));
    if (frame === "slab")
      expect(sidesOf(left).map((one) => one.kind === "link" && one.link.side)).toEqual(["left"]);
    else expect(left.kind).toBe("point");
  });
});

/** Where grid lines lie: fine where temperatures change steeply, growing away from there, the same in every size and mirror. */
import { describe, expect, test } from "vitest";
import { activeShapes, meshLines, steepSides } from "../../../lib/heat/mesh.ts";
import type { Boundary, HeatProblem, Shape } from "../../../lib/heat/problem.ts";
import { type Outline, ringsOf } from "../../../lib/shape/outline.ts";

const insulated: Boundary = { kind: "insulated" };
const held: Boundary = { kind: "temperature", value: 300 } as unknown as Boundary;
const exchange = (h: number | ((t: number) => number)): Boundary =>
  ({ kind: "exchange", h, ambient: 300 }) as Boundary;

const slab = (layers: readonly number[], more: Partial<HeatProblem> = {}) =>
  ({
    frame: "slab",
    materials: {},
    layers: layers.map((thickness, i) => ({
      name: `l${i}`,
      material: "m",
      thickness,
      initial: 300,
    })),
    boundary: { left: insulated, right: insulated },
    stages: [{ until: 1 }],
    probes: {},
    ...more,
  }) as unknown as HeatProblem;
const section = (shapes: readonly Partial<Shape>[], more: Partial<HeatProblem> = {}) =>
  ({
    frame: "section",
    materials: { m: { name: "m", conductivity: 1 }, b: { name: "b", conductivity: 1 } },
    block: { width: 0.1, height: 0.06, material: "b", initial: 300 },
    shapes: shapes.map((shape, i) => ({ name: `s${i}`, material: "m", initial: 400, ...shape })),
    boundary: { left: insulated, right: insulated, top: insulated, bottom: insulated },
    stages: [{ until: 1 }],
    probes: {},
    ...more,
  }) as unknown as HeatProblem;

const linesOf = (problem: HeatProblem) =>
  meshLines(
    problem,
    (problem.shapes ?? []).map(({ outline }) => ringsOf(outline)),
  );
const sizes = (lines: Float64Array) => Array.from(lines.slice(1), (x, i) => x - lines[i]!);
/** The cells on both sides of a place, and none across it. */
function beside(lines: Float64Array, at: number): [number, number] {
  const k = lines.findIndex((x) => Math.abs(x - at) < 1e-9);
  expect(k, `a line at ${at}`).toBeGreaterThanOrEqual(0);
  return [
    k > 0 ? lines[k]! - lines[k - 1]! : 0,
    k + 1 < lines.length ? lines[k + 1]! - lines[k]! : 0,
  ];
}
const rectangle = (w: number, h: number, x: number, y: number): Outline => ({
  kind: "rectangle",
  size: [w, h],
  center: [x, y],
});
const ellipse = (w: number, h: number, x: number, y: number): Outline => ({
  kind: "ellipse",
  axes: [w, h],
  center: [x, y],
});

describe("layers", () => {
  const problems = [
    slab([0.01]),
    slab([0.01], { boundary: { left: held, right: insulated } }),
    slab([0.003, 0.02]),
    slab([0.02, 0.001, 0.03], { boundary: { left: exchange(1000), right: exchange(8) } }),
    slab([0.01, 0.01], { frame: "cylinder", boundary: { right: held } }),
  ];
  test("every interface is a line, and lines rise from one end to the other", () => {
    for (const problem of problems) {
      const { x, y } = linesOf(problem);
      let at = 0;
      expect(x[0]).toBe(0);
      for (const { thickness } of problem.layers!) {
        at += thickness;
        beside(x, at);
      }
      expect(x.at(-1)).toBeCloseTo(at, 12);
      for (const size of sizes(x)) expect(size).toBeGreaterThan(0);
      expect(Array.from(y)).toEqual([0, 1]);
    }
  });
  test("cells at an interface are an eleventh of the thinner layer, and grow by a third of the way from it", () => {
    for (const [a, b] of [
      [0.003, 0.02],
      [0.02, 0.003],
      [0.01, 0.01],
    ] as const) {
      const { x } = linesOf(slab([a, b]));
      const wanted = Math.min(a, b) / 11;
      for (const size of beside(x, a)) {
        expect(size / wanted).toBeGreaterThan(0.75);
        expect(size / wanted).toBeLessThan(1.3);
      }
      sizes(x).forEach((size, i) => {
        const middle = 0.5 * (x[i]! + x[i + 1]!);
        const layer = middle < a ? a : b;
        // never wider than a quarter of the layer
        const most = Math.min(wanted + 0.34 * Math.abs(middle - a), layer / 4);
        expect(size / most, `${middle}`).toBeLessThan(1.1);
        expect(size / most, `${middle}`).toBeGreaterThan(0.6);
      });
    }
  });
  test("a face that is held, or washed, has fine cells; one in air or closed has none", () => {
    const atFace = (right: Boundary, more: Partial<HeatProblem> = {}) => {
      const cells = sizes(
        linesOf(slab([0.01], { boundary: { left: insulated, right }, ...more })).x,
      );
      return cells.at(-1)! / 0.01;
    };
    for (const b of [held, exchange(41), exchange(1000), exchange(() => 5)]) {
      expect(atFace(b) * 11).toBeGreaterThan(0.75);
      expect(atFace(b) * 11).toBeLessThan(1.4);
    }
    for (const b of [insulated, exchange(40), exchange(8)]) expect(atFace(b)).toBeCloseTo(0.25, 6);
    // one that is so in a later stage counts
    const later = { stages: [{ until: 1 }, { until: 2, boundary: { right: held } }] } as never;
    expect(atFace(insulated, later) * 11).toBeLessThan(1.4);
    // the middle of a cylinder is no face
    const middle = { left: held, right: insulated };
    const first = (frame: "slab" | "cylinder") =>
      sizes(linesOf(slab([0.01], { frame, boundary: middle })).x)[0]! / 0.01;
    expect(first("slab") * 11).toBeLessThan(1.4);
    expect(first("cylinder")).toBeCloseTo(0.25, 6);
    const sides = steepSides(slab([1], { boundary: { left: held, right: exchange(8) } }));
    expect(sides.filter(Boolean)).toHaveLength(1);
    expect(steepSides(section([], { boundary: { top: held } }))).toContain(true);
    expect(steepSides(section([]))).not.toContain(true);
  });
  test("a mirrored slab has the mirrored lines, and one twice as large twice as large ones", () => {
    for (const [layers, left, right] of [
      [[0.003, 0.02, 0.007], held, exchange(8)],
      [[0.01, 0.01], insulated, held],
    ] as const) {
      const { x } = linesOf(slab(layers, { boundary: { left, right } }));
      const end = x.at(-1)!;
      const mirrored = linesOf(
        slab([...layers].reverse(), { boundary: { left: right, right: left } }),
      ).x;
      const double = linesOf(
        slab(
          layers.map((L) => 2 * L),
          { boundary: { left, right } },
        ),
      ).x;
      expect(mirrored).toHaveLength(x.length);
      x.forEach((at, i) => {
        expect(end - mirrored[x.length - 1 - i]!).toBeCloseTo(at, 9);
        expect(double[i]! / 2).toBeCloseTo(at, 9);
      });
    }
  });
  test("a resolution of two has twice the cells and half of their size at the interface", () => {
    const lines = (resolution: number) => linesOf(slab([0.003, 0.02], { resolution })).x;
    const [one, two, four] = [1, 2, 4].map(lines);
    for (const [coarse, fine] of [
      [one!, two!],
      [two!, four!],
    ] as const) {
      expect(beside(coarse, 0.003)[0] / beside(fine, 0.003)[0]).toBeGreaterThan(1.7);
      expect(beside(coarse, 0.003)[0] / beside(fine, 0.003)[0]).toBeLessThan(2.3);
      expect(fine.length / coarse.length).toBeGreaterThan(1.6);
      expect(fine.length / coarse.length).toBeLessThan(2.3);
      expect(Math.max(...sizes(coarse)) / Math.max(...sizes(fine))).toBeGreaterThan(1.3);
    }
  });
  test("metal between layers that only conduct takes two cells, beside plastic it is fine", () => {
    const materials = {
      metal: { name: "metal", conductivity: 200 },
      m: { name: "m", conductivity: 1 },
    } as never;
    const layer = (name: string, thickness: number, material: string, initial = 300) => ({
      name,
      thickness,
      material,
      initial,
    });
    const cellsOf = (plate: ReturnType<typeof layer>, more: Partial<HeatProblem> = {}) => {
      const layers = [layer("back", 0.02, "m"), plate, layer("front", 0.02, "m")];
      const x = linesOf(slab([], { materials, layers, ...more })).x;
      return x.filter((at) => at > 0.02 + 1e-9 && at < 0.028 - 1e-9).length + 1;
    };
    expect(cellsOf(layer("plate", 0.008, "metal"))).toBe(2);
    expect(cellsOf(layer("plate", 0.008, "m"))).toBeGreaterThan(5);
    expect(cellsOf(layer("plate", 0.008, "metal", 400))).toBeGreaterThan(5);
    const stages = [{ until: 1, refill: [{ name: "front", temperature: 300 }] }];
    expect(cellsOf(layer("plate", 0.008, "metal"), { stages })).toBeGreaterThan(5);
    // the one beside it has about an eighth of itself where they meet
    const beside = linesOf(
      slab([], { materials, layers: [layer("a", 0.02, "m"), layer("b", 0.008, "metal")] }),
    );
    const before = Array.from(beside.x).filter((at) => at < 0.02 - 1e-9);
    expect((0.02 - before[before.length - 1]!) / 0.0025).toBeCloseTo(1, 0);
  });
});

describe("a section", () => {
  test("edges that run along the grid are lines, those of a curve are not", () => {
    const { x, y } = linesOf(section([{ outline: rectangle(0.02, 0.01, 0.04, 0.03) }]));
    for (const at of [0.03, 0.05]) beside(x, at);
    for (const at of [0.025, 0.035]) beside(y, at);
    expect([x[0], x.at(-1), y[0], y.at(-1)]).toEqual([0, 0.1, 0, 0.06]);
    const polygon: Outline = {
      kind: "polygon",
      points: [
        [0.03, 0.02],
        [0.05, 0.02],
        [0.05, 0.03],
        [0.041, 0.04],
        [0.03, 0.03],
      ],
    };
    const cut = linesOf(section([{ outline: polygon }]));
    for (const at of [0.03, 0.05]) beside(cut.x, at);
    beside(cut.y, 0.02);
    expect(Array.from(cut.x).some((at) => Math.abs(at - 0.041) < 1e-9)).toBe(false);
    expect(Array.from(cut.y).some((at) => Math.abs(at - 0.04) < 1e-9)).toBe(false);
  });
  test("a curved shape that ends level has eight cells across its edge, half as fine ones along it", () => {
    // the lower part of a disk of 20 mm, cut level 5 mm up: 17.3 mm wide
    const from = Math.asin(0.5);
    const ring = Array.from({ length: 65 }, (_, i) => {
      const angle = Math.PI + from + ((Math.PI - 2 * from) * i) / 64;
      return [0.05 + 0.01 * Math.cos(angle), 0.03 + 0.01 * Math.sin(angle)];
    });
    const polygon = (turn: boolean): Outline =>
      ({
        kind: "polygon",
        points: ring.map(([x, y]) => (turn ? [y, x] : [x, y])),
      }) as unknown as Outline;
    for (const turn of [false, true]) {
      const wide = linesOf(section([{ outline: polygon(turn) }]));
      const { along, across } = turn
        ? { along: wide.y, across: wide.x }
        : { along: wide.x, across: wide.y };
      const within = (lines: Float64Array, a: number, b: number) =>
        sizes(lines).filter((_, i) => lines[i]! >= a - 1e-9 && lines[i + 1]! <= b + 1e-9);
      const deep = within(across, 0.02, 0.025);
      expect(deep.length).toBeGreaterThanOrEqual(7);
      expect(Math.max(...deep)).toBeLessThan(1.15 * (0.005 / 8));
      const long = within(along, 0.0415, 0.0585);
      expect(Math.max(...long)).toBeLessThan(1.15 * 2 * (0.005 / 8));
      expect(Math.min(...long)).toBeGreaterThan(1.3 * (0.005 / 8));
    }
  });
  test("a shape has eight cells across, a block ten at least; cells grow away from it", () => {
    for (const outline of [rectangle(0.02, 0.016, 0.05, 0.03), ellipse(0.02, 0.016, 0.05, 0.03)]) {
      const { x, y } = linesOf(section([{ outline }]));
      for (const [lines, from, to] of [
        [x, 0.04, 0.06],
        [y, 0.022, 0.038],
      ] as const)
        sizes(lines).forEach((size, i) => {
          const middle = 0.5 * (lines[i]! + lines[i + 1]!);
          const away = Math.max(from - middle, middle - to, 0);
          const wanted = Math.min(0.016 / 8 + 0.34 * away, lines.at(-1)! / 10);
          expect(size / wanted, `${middle}`).toBeLessThan(1.15);
          expect(size / wanted, `${middle}`).toBeGreaterThan(0.6);
        });
    }
    // nothing in it: ten cells
    const empty = linesOf(section([]));
    expect(sizes(empty.x)).toHaveLength(10);
    expect(sizes(empty.y)).toHaveLength(10);
  });
  test("a sheet is fine across, and along it at its ends; one that only conducts takes few cells", () => {
    const sheet = (initial: number, w = 0.05, h = 0.002) =>
      linesOf(section([{ outline: rectangle(w, h, 0.05, 0.03), initial }]));
    const hot = sheet(400);
    expect(beside(hot.y, 0.029)[1] / (0.002 / 8)).toBeLessThan(1.3);
    const [, first] = beside(hot.x, 0.025);
    expect(first / (0.002 / 8)).toBeLessThan(1.5);
    // in its middle cells are large again
    const middle = hot.x.findIndex((x) => x > 0.05);
    expect(hot.x[middle]! - hot.x[middle - 1]!).toBeGreaterThan(0.005);
    const passive = sheet(300);
    expect(beside(passive.y, 0.029)[1] / (0.002 / 2)).toBeGreaterThan(0.7);
    expect(passive.y.length).toBeLessThan(hot.y.length);
    // up to eight times as long as it is thick it is no thin one
    expect(sheet(300, 0.015).y.length).toBe(sheet(400, 0.015).y.length);
    // up to four times as long it is no sheet
    const stout = sheet(400, 0.0075);
    const at = stout.x.findIndex((x) => x > 0.05);
    expect(stout.x[at]! - stout.x[at - 1]!).toBeLessThan(0.0005);
    // the same upright
    const upright = linesOf(
      section([{ outline: rectangle(0.002, 0.05, 0.03, 0.05), initial: 400 }], {
        block: { width: 0.06, height: 0.1, material: "b", initial: 300 },
      }),
    );
    expect(Array.from(upright.y)).toEqual(Array.from(hot.x, (x) => expect.closeTo(x, 9)));
    expect(Array.from(upright.x)).toEqual(Array.from(hot.y, (x) => expect.closeTo(x, 9)));
  });
  test("metal that only conducts is fine along its longer side at its ends alone and coarse across, whether it is there all the time or not", () => {
    const plate = (conductivity: number, initial: number, more: Partial<HeatProblem> = {}) =>
      linesOf(
        section([{ outline: rectangle(0.024, 0.008, 0.05, 0.03), initial }], {
          materials: {
            m: { name: "m", conductivity },
            b: { name: "b", conductivity: 1 },
          } as never,
          ...more,
        }),
      );
    const inside = (lines: Float64Array, at: number) => {
      const k = lines.findIndex((x) => x > at + 1e-9);
      return lines[k]! - lines[k - 1]!;
    };
    const metal = plate(200, 300);
    expect(inside(metal.x, 0.05)).toBeGreaterThan(0.002);
    expect(beside(metal.x, 0.038)[1]).toBeLessThan(0.0012);
    // two cells across
    expect(inside(metal.y, 0.028)).toBeCloseTo(0.004, 9);
    const stages = [{ until: 1, absent: ["s0"] }, { until: 2 }];
    expect(plate(200, 300, { stages })).toEqual(metal);
    for (const other of [plate(10, 300), plate(200, 400)]) {
      expect(inside(other.x, 0.05)).toBeLessThan(0.0011);
      expect(inside(other.y, 0.03)).toBeLessThan(0.0011);
    }
  });
  test("has heat of its own what is warmer than the block, cures, heats, is filled or left out", () => {
    const active = (shape: Partial<Shape>, more: Partial<HeatProblem> = {}) =>
      activeShapes(
        section([{ outline: rectangle(0.01, 0.01, 0.05, 0.03), initial: 300, ...shape }], more),
      )[0];
    expect(active({})).toBe(false);
    expect(active({ initial: 301 })).toBe(true);
    const material = (m: object) => ({ materials: { m, b: {} } }) as never;
    expect(active({}, material({ cure: {} }))).toBe(true);
    expect(active({}, material({ source: 5 }))).toBe(true);
    expect(active({}, material({ source: 0 }))).toBe(false);
    const stage = (s: object) => ({ stages: [{ until: 1 }, { until: 2, ...s }] }) as never;
    expect(active({}, stage({ refill: [{ name: "s0", temperature: 400 }] }))).toBe(true);
    expect(active({}, stage({ refill: [{ name: "other", temperature: 400 }] }))).toBe(false);
    expect(active({}, stage({ absent: ["s0"] }))).toBe(true);
    expect(active({}, stage({ absent: ["other"] }))).toBe(false);
    expect(activeShapes(slab([1]))).toEqual([]);
  });
  test("between two curved outlines one within the other there are two cells at least", () => {
    const gap = 0.0008;
    const outer = ellipse(0.03, 0.02, 0.05, 0.03);
    const inner = ellipse(0.03 - 2 * gap, 0.02 - 2 * gap, 0.05, 0.03);
    const shell = linesOf(section([{ outline: outer }, { outline: inner }]));
    const widest = (lines: Float64Array, from: number, to: number) =>
      Math.max(...sizes(lines).filter((_, i) => lines[i]! > from && lines[i + 1]! < to));
    expect(widest(shell.x, 0.035, 0.065)).toBeLessThan(1.15 * (gap / 2));
    expect(widest(shell.y, 0.02, 0.04)).toBeLessThan(1.15 * (gap / 2));
    // one outside the other, or the same, asks for none
    for (const other of [ellipse(0.008, 0.008, 0.08, 0.03), outer]) {
      const { x } = linesOf(section([{ outline: outer }, { outline: other }]));
      expect(widest(x, 0.035, 0.064)).toBeGreaterThan(0.0015);
    }
    // straight outlines neither
    const boxes = linesOf(
      section([
        { outline: rectangle(0.03, 0.02, 0.05, 0.03) },
        { outline: rectangle(0.0284, 0.0184, 0.05, 0.03) },
      ]),
    );
    expect(widest(boxes.x, 0.036, 0.064)).toBeGreaterThan(0.0015);
  });
  test("a polygon whose edges run along the grid is as good as a rectangle, one that slants is not", () => {
    const corners = (...points: (readonly [number, number])[]): Outline => ({
      kind: "polygon",
      points,
    });
    const sheet = corners([0.025, 0.029], [0.075, 0.029], [0.075, 0.031], [0.025, 0.031]);
    for (const initial of [300, 400]) {
      const drawn = linesOf(section([{ outline: sheet, initial }]));
      const typed = linesOf(section([{ outline: rectangle(0.05, 0.002, 0.05, 0.03), initial }]));
      expect(Array.from(drawn.x)).toEqual(Array.from(typed.x, (x) => expect.closeTo(x, 5)));
      expect(Array.from(drawn.y)).toEqual(Array.from(typed.y, (y) => expect.closeTo(y, 5)));
    }
    const slanted = corners([0.025, 0.029], [0.075, 0.0295], [0.075, 0.0315], [0.025, 0.031]);
    const tilted = linesOf(section([{ outline: slanted }]));
    const k = tilted.x.findIndex((x) => x > 0.05);
    // fine all along it
    expect((tilted.x[k]! - tilted.x[k - 1]!) / (0.0025 / 8)).toBeLessThan(1.3);
    const passive = linesOf(section([{ outline: slanted, initial: 300 }]));
    expect((passive.x[k]! - passive.x[k - 1]!) / (0.0025 / 8)).toBeLessThan(1.3);
    // one corner of an angle is straight by itself: lines hit it
    const angle = corners(
      [0.02, 0.01],
      [0.06, 0.01],
      [0.06, 0.02],
      [0.04, 0.02],
      [0.04, 0.05],
      [0.02, 0.05],
    );
    const bent = linesOf(section([{ outline: angle }]));
    for (const at of [0.02, 0.04, 0.06]) beside(bent.x, at);
    for (const at of [0.01, 0.02, 0.05]) beside(bent.y, at);
  });
  test("a resolution of two has half of the size everywhere", () => {
    const gap = 0.0008;
    const shapes = [
      { outline: ellipse(0.03, 0.02, 0.05, 0.03) },
      { outline: ellipse(0.03 - 2 * gap, 0.02 - 2 * gap, 0.05, 0.03) },
    ];
    for (const [what, more] of [
      [shapes, {}],
      [[{ outline: rectangle(0.02, 0.016, 0.05, 0.03) }], {}],
      [[], { boundary: { left: held, right: held, bottom: held, top: held } }],
      [[], {}],
    ] as const) {
      const [one, two] = [1, 2].map((resolution) =>
        linesOf(section(what, { resolution, ...more } as never)),
      );
      for (const axis of ["x", "y"] as const) {
        expect(two![axis].length / one![axis].length).toBeGreaterThan(1.6);
        expect(two![axis].length / one![axis].length).toBeLessThan(2.1);
        const [coarse, fine] = [one!, two!].map((lines) => sizes(lines[axis]));
        expect(Math.min(...coarse!) / Math.min(...fine!)).toBeGreaterThan(1.75);
        expect(Math.min(...coarse!) / Math.min(...fine!)).toBeLessThan(2.3);
        expect(Math.max(...coarse!) / Math.max(...fine!)).toBeGreaterThan(1.3);
        expect(coarse![0]! / fine![0]!).toBeGreaterThan(1.3);
        expect(coarse![0]! / fine![0]!).toBeLessThan(2.4);
        expect(coarse!.at(-1)! / fine!.at(-1)!).toBeGreaterThan(1.3);
        expect(coarse!.at(-1)! / fine!.at(-1)!).toBeLessThan(2.4);
      }
    }
  });
  test("a steep side has cells of a sixteenth of the block's smaller side; the axis of a round one does not", () => {
    const atSides = (boundary: HeatProblem["boundary"], frame = "section") => {
      const { x, y } = linesOf(section([], { boundary, frame } as never));
      return [x, y].flatMap((lines) => {
        const all = sizes(lines);
        return [all[0]!, all.at(-1)!];
      });
    };
    const [left, right, bottom, top] = atSides({
      left: held,
      right: held,
      bottom: held,
      top: held,
    });
    for (const size of [left!, right!, bottom!, top!]) {
      expect(size / (0.06 / 16)).toBeGreaterThan(0.7);
      expect(size / (0.06 / 16)).toBeLessThan(1.3);
    }
    const one = atSides({ left: held });
    expect(one[0]! / (0.06 / 16)).toBeLessThan(1.3);
    expect(one[1]!).toBeGreaterThan(0.0095);
    expect(one[2]!).toBeCloseTo(0.006, 6);
    expect(atSides({ left: held }, "round")[0]!).toBeCloseTo(0.01, 6);
    expect(atSides({ bottom: held }, "round")[2]! / (0.06 / 16)).toBeLessThan(1.3);
  });
  test("half of a mirrored section is meshed as the whole would be; what lies beyond a side asks for nothing", () => {
    const bare = linesOf(section([], { mirrors: ["left"] }));
    expect(sizes(bare.x)).toHaveLength(5);
    expect(sizes(bare.y)).toHaveLength(10);
    expect(sizes(linesOf(section([], { mirrors: ["bottom"] })).y)).toHaveLength(5);
    const outside = linesOf(section([{ outline: ellipse(0.01, 0.01, 0.2, 0.03) }]));
    expect(sizes(outside.x)).toHaveLength(10);
    const left = linesOf(section([{ outline: ellipse(0.01, 0.01, -0.005, 0.03) }]));
    expect(sizes(left.x)).toHaveLength(10);
  });
  test("a mirrored section has the mirrored lines, a larger one larger ones", () => {
    const at = (flip: boolean, by = 1) => {
      const place = (x: number) => by * (flip ? 0.1 - x : x);
      return linesOf(
        section(
          [
            { outline: ellipse(by * 0.02, by * 0.01, place(0.03), by * 0.03) },
            { outline: rectangle(by * 0.01, by * 0.012, place(0.08), by * 0.02) },
          ],
          {
            boundary: flip ? { left: held } : { right: held },
            block: { width: by * 0.1, height: by * 0.06, material: "b", initial: 300 },
          },
        ),
      );
    };
    const plain = at(false);
    const mirrored = at(true);
    expect(Array.from(mirrored.x)).toEqual(
      Array.from(plain.x)
        .reverse()
        .map((x) => expect.closeTo(0.1 - x, 9)),
    );
    expect(Array.from(mirrored.y)).toEqual(Array.from(plain.y, (y) => expect.closeTo(y, 9)));
    const large = at(false, 3);
    expect(Array.from(large.x)).toEqual(Array.from(plain.x, (x) => expect.closeTo(3 * x, 9)));
  });
});

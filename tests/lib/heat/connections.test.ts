/** Conductances from cell to cell against their closed forms, and their slopes against differences of the flow. */
import { describe, expect, test } from "vitest";
import type { Frame, HeatProblem } from "../../../lib/heat/problem.ts";
import { filledOf } from "./filled.ts";

const law = (T: number) => 0.2 + 0.001 * (T - 300);
const slow = (T: number) => 0.9 - 0.0008 * (T - 300);
const rest = { density: 1000, specificHeat: 1000 };
const materials = {
  plain: { name: "plain", conductivity: 0.4, ...rest },
  metal: { name: "metal", conductivity: 150, ...rest },
  rising: { name: "rising", conductivity: law, ...rest },
  falling: { name: "falling", conductivity: slow, ...rest },
};
type Name = keyof typeof materials;

function layered(
  frame: Frame,
  names: readonly Name[],
  more: Partial<HeatProblem> = {},
): HeatProblem {
  return {
    frame,
    materials,
    layers: names.map((material, i) => ({
      name: `${i}`,
      material,
      thickness: 0.01,
      initial: 300,
      ...(i === 0 && names.length > 1 ? { contact: 800 } : {}),
    })),
    boundary: {},
    stages: [{ until: 1 }],
    probes: {},
    ...more,
  };
}
function section(frame: "section" | "round", block: Name, box: Name): HeatProblem {
  return {
    frame,
    materials,
    block: { width: 0.04, height: 0.03, material: block, initial: 300 },
    shapes: [
      {
        name: "box",
        outline: { kind: "rectangle", size: [0.02, 0.03], center: [0.03, 0.015] },
        material: box,
        initial: 300,
      },
    ],
    boundary: {},
    stages: [{ until: 1 }],
    probes: {},
  };
}
const near = (x: number, expected: number) => expect(x / expected).toBeCloseTo(1, 9);

test.each([
  ["slab", (p: number, q: number) => q - p],
  ["cylinder", (p: number, q: number) => Math.log(q / p) / (2 * Math.PI)],
  ["sphere", (p: number, q: number) => (1 / p - 1 / q) / (4 * Math.PI)],
] as const)("of a %s: k over the integral of dx / area from center to center", (frame, shape) => {
  const { grid, connections } = filledOf(layered(frame, ["plain"]));
  for (let i = 0; i + 1 < grid.nx; i++)
    near(connections.gx[i]!, 0.4 / shape(grid.xc[i]!, grid.xc[i + 1]!));
  expect(connections.gx[grid.nx - 1]).toBe(0);
  expect(connections.gy).toBe(connections.gx);
  // where nothing varies the implicit part is the conductance itself
  connections.linearize();
  expect(connections.upX).toBe(connections.gx);
  expect(connections.loX).toBe(connections.gx);
});

test("two layers and their contact: resistances in a row", () => {
  for (const [a, b] of [
    ["plain", "metal"],
    ["metal", "plain"],
  ] as const) {
    const { grid, connections } = filledOf(layered("slab", [a, b]));
    const i = grid.content.indexOf(1) - 1;
    const [p, q] = [materials[a].conductivity, materials[b].conductivity];
    const x = grid.x[i + 1]!;
    near(1 / connections.gx[i]!, (x - grid.xc[i]!) / p + 1 / 800 + (grid.xc[i + 1]! - x) / q);
  }
});

test.each(["section", "round"] as const)(
  "of a %s: along both axes by area and distance",
  (frame) => {
    const { grid, connections } = filledOf(section(frame, "plain", "metal"));
    const { nx, ny, x, xc, y, yc } = grid;
    const kOf = (at: number) => (grid.content[at] === 1 ? 150 : 0.4);
    const along = (p: number, q: number) =>
      frame === "section" ? q - p : Math.log(q / p) / (2 * Math.PI);
    const area = (i: number) =>
      frame === "section" ? x[i + 1]! - x[i]! : Math.PI * (x[i + 1]! ** 2 - x[i]! ** 2);
    for (let j = 0; j < ny; j++)
      for (let i = 0; i < nx; i++) {
        const at = j * nx + i;
        const height = y[j + 1]! - y[j]!;
        if (i + 1 < nx) {
          const face = x[i + 1]!;
          const [first, second] = [along(xc[i]!, face), along(face, xc[i + 1]!)];
          near(connections.gx[at]!, height / (first / kOf(at) + second / kOf(at + 1)));
        } else expect(connections.gx[at]).toBe(0);
        if (j + 1 < ny) near(connections.gy[at]!, (kOf(at) * area(i)) / (yc[j + 1]! - yc[j]!));
        else expect(connections.gy[at]).toBe(0);
      }
  },
);

test("rows of one region end at the sides of the body", () => {
  const { shapes: _none, ...bare } = section("section", "plain", "metal");
  const { grid, connections } = filledOf(bare);
  const { nx, ny } = grid;
  for (let j = 0; j < ny; j++) expect(connections.gx[(j + 1) * nx - 1]).toBe(0);
  for (let i = 0; i < nx; i++) expect(connections.gy[(ny - 1) * nx + i]).toBe(0);
  expect(Math.min(...connections.gx.filter((_, at) => at % nx < nx - 1))).toBeGreaterThan(0);
});

test("nothing leads into empty space, nor through it", () => {
  const stages = [{ until: 1, absent: ["1"] }];
  const { grid, connections } = filledOf(layered("slab", ["plain", "metal", "plain"], { stages }));
  for (let i = 0; i + 1 < grid.nx; i++) {
    const isOpen = grid.content[i] !== 1 && grid.content[i + 1] !== 1;
    expect(connections.gx[i]! > 0).toBe(isOpen);
  }
});

describe("where the conductivity varies", () => {
  const names = ["rising", "plain", "falling", "rising"] as const;
  const laws = { rising: law, falling: slow, plain: () => 0.4, metal: () => 150 };
  /** Half by half, each at the temperature of its own cell. */
  const resistance = (frame: "slab" | "cylinder", at: number, T: ArrayLike<number>) => {
    const { grid } = filledOf(layered(frame, names));
    const shape = (p: number, q: number) =>
      frame === "slab" ? q - p : Math.log(q / p) / (2 * Math.PI);
    const [a, b] = [names[grid.content[at]!]!, names[grid.content[at + 1]!]!];
    const face = grid.x[at + 1]!;
    const area = frame === "slab" ? 1 : 2 * Math.PI * face;
    const touch = grid.content[at] === 0 && grid.content[at + 1] === 1 ? 1 / (800 * area) : 0;
    return (
      shape(grid.xc[at]!, face) / laws[a](T[at]!) +
      touch +
      shape(face, grid.xc[at + 1]!) / laws[b](T[at + 1]!)
    );
  };
  const wave = (T: Float64Array) => {
    T.forEach((_, i) => {
      T[i] = 330 + 40 * Math.sin(1.3 * i) + 0.11;
    });
  };
  test.each(["slab", "cylinder"] as const)(
    "of a %s: each half at its own cell's temperature",
    (frame) => {
      const { grid, T, connections } = filledOf(layered(frame, names));
      wave(T);
      connections.conductances();
      for (let at = 0; at + 1 < grid.nx; at++)
        expect(connections.gx[at]! * resistance(frame, at, T)).toBeCloseTo(1, 7);
    },
  );
  test.each(["slab", "cylinder"] as const)(
    "of a %s: the implicit part is the slope of the flow by either end",
    (frame) => {
      const { grid, T, connections } = filledOf(layered(frame, names));
      wave(T);
      connections.conductances();
      connections.linearize();
      const flow = (at: number, by: number, of: number) => {
        const moved = T.slice();
        moved[of]! += by;
        return (moved[at + 1]! - moved[at]!) / resistance(frame, at, moved);
      };
      for (let at = 0; at + 1 < grid.nx; at++) {
        const slope = (of: number) => (flow(at, 0.01, of) - flow(at, -0.01, of)) / 0.02;
        const size = connections.gx[at]!;
        expect(Math.abs(connections.upX[at]! - slope(at + 1)) / size).toBeLessThan(1e-5);
        expect(Math.abs(-connections.loX[at]! - slope(at)) / size).toBeLessThan(1e-5);
      }
      // kept until the next turn, whatever the temperatures do
      const [up, low] = [connections.upX.slice(), connections.loX.slice()];
      T.fill(390);
      connections.conductances();
      expect(connections.upX).toEqual(up);
      expect(connections.loX).toEqual(low);
      connections.linearize();
      // without a drop no slope of the conductivity counts
      for (let at = 0; at + 1 < grid.nx; at++) {
        expect(connections.upX[at]).toBe(connections.gx[at]);
        expect(connections.loX[at]).toBe(connections.gx[at]);
      }
    },
  );
  test("of a section: half by half along both axes; the implicit part is that of the step's start", () => {
    const { grid, T, connections } = filledOf(section("section", "rising", "falling"));
    const { nx, ny, x, xc, y, yc } = grid;
    wave(T);
    connections.conductances();
    connections.linearize();
    const k = (at: number) => (grid.content[at] === 1 ? slow : law)(T[at]!);
    for (let j = 0; j < ny; j++)
      for (let i = 0; i < nx; i++) {
        const at = j * nx + i;
        const [width, height] = [x[i + 1]! - x[i]!, y[j + 1]! - y[j]!];
        if (i + 1 < nx) {
          const R = width / 2 / k(at) + (xc[i + 1]! - x[i + 1]!) / k(at + 1);
          expect(connections.gx[at]! * (R / height)).toBeCloseTo(1, 7);
        }
        if (j + 1 < ny) {
          const R = height / 2 / k(at) + (yc[j + 1]! - y[j + 1]!) / k(at + nx);
          expect(connections.gy[at]! * (R / width)).toBeCloseTo(1, 7);
        }
      }
    expect(connections.upX).toEqual(connections.gx);
    expect(connections.stiffY).toEqual(connections.gy);
    const [gx, gy] = [connections.gx.slice(), connections.gy.slice()];
    T.fill(390);
    connections.conductances();
    expect(connections.gx).not.toEqual(gx);
    expect(connections.upX).toEqual(gx);
    expect(connections.loX).toEqual(gx);
    expect(connections.stiffY).toEqual(gy);
  });
});

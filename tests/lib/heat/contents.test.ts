/** What fills the cells: heat, sources, heat of cure and loss over the ends summed over areas; energy into temperature and back. */
import { describe, expect, test } from "vitest";
import { makeRateLaw } from "../../../lib/cure/rate-laws.ts";
import { MixedCells } from "../../../lib/heat/mixed-cells.ts";
import type { HeatProblem } from "../../../lib/heat/problem.ts";
import { capacityAt, enthalpyAt, propertiesOf } from "../../../lib/heat/properties.ts";
import { BeyondTables } from "../../../lib/heat/reach.ts";
import type { Material } from "../../../lib/materials/material.ts";
import { filledOf } from "./filled.ts";

const ZERO = 273.15;
const law = makeRateLaw({ law: "nth-order", A: 1e4, E: 4e4, n: 1 });
const materials = {
  block: { name: "block", conductivity: 0.4, density: 2000, specificHeat: 900 },
  rising: { name: "rising", conductivity: 0.2, density: 1000, specificHeat: (T: number) => 5 * T },
  peak: {
    name: "peak",
    conductivity: 0.2,
    density: 1100,
    specificHeat: { T: [300, 330, 331, 332, 400], value: [1500, 1500, 90_000, 1600, 1700] },
    source: 3e4,
  },
  resin: {
    name: "resin",
    conductivity: 0.2,
    density: 1200,
    specificHeat: 1700,
    cure: { law, heat: 2e5, initial: 0.1 },
  },
};
type Name = keyof typeof materials;
const BOX = 0.016 * 0.011;
const CIRCLE = Math.PI * 0.009 ** 2;
const [WIDTH, HEIGHT] = [0.06, 0.04];

function section(box: Name, circle: Name, more: Partial<HeatProblem> = {}): HeatProblem {
  return {
    frame: "section",
    materials,
    block: { width: WIDTH, height: HEIGHT, material: "block", initial: 300 },
    shapes: [
      {
        name: "box",
        outline: { kind: "rectangle", size: [0.016, 0.011], center: [0.045, 0.02] },
        material: box,
        initial: 310,
      },
      {
        name: "circle",
        outline: { kind: "ellipse", axes: [0.018, 0.018], center: [0.02, 0.019] },
        material: circle,
        initial: 320,
      },
    ],
    boundary: {},
    stages: [{ until: 1 }],
    probes: {},
    ...more,
  };
}
const sum = (list: ArrayLike<number>) => Array.from(list).reduce((a, b) => a + b, 0);
const near = (x: number, expected: number, within = 1e-9) =>
  expect(Math.abs(x / expected - 1)).toBeLessThan(within);

/** Heat of a material from 0 degC to T, J/m3. */
const heatOf = (name: Name, T: number) =>
  name === "rising" ? 2500 * (T * T - ZERO * ZERO) : 1000 * (T - ZERO);

describe("in sections", () => {
  test.each([
    ["block", "block"],
    ["rising", "rising"],
    ["rising", "peak"],
    ["peak", "resin"],
  ] as const)(
    "with %s and %s the temperatures of the energies are those that these were of",
    (box, circle) => {
      const { grid, T, contents } = filledOf(section(box, circle));
      const given = T.map((_, i) => 331 + 45 * Math.sin(1.7 * i));
      const u = new Float64Array(T.length);
      contents.energies([undefined, undefined, undefined], given, u);
      T.set(given.map((t) => t - 3));
      contents.restart();
      contents.temperatures(u);
      let worst = 0;
      given.forEach((t, i) => {
        worst = Math.max(worst, Math.abs(T[i]! - t));
      });
      expect(worst).toBeLessThan(1e-8);
      // heat capacity: what a hundredth of a kelvin more takes
      contents.capacities();
      const more = new Float64Array(T.length);
      contents.energies(
        [undefined, undefined, undefined],
        given.map((t) => t + 0.001),
        more,
      );
      const less = new Float64Array(T.length);
      contents.energies(
        [undefined, undefined, undefined],
        given.map((t) => t - 0.001),
        less,
      );
      let off = 0;
      given.forEach((_, i) => {
        off = Math.max(off, Math.abs((more[i]! - less[i]!) / 0.002 / contents.C[i]! - 1));
      });
      // the peak's capacity rises by half in a hundredth of a kelvin where it begins
      expect(off).toBeLessThan(circle === "peak" || box === "peak" ? 0.03 : 1e-6);
      expect(grid.content.some((one) => one < 0)).toBe(true);
    },
  );

  test("new regions have their own temperature, others that of their cells: heat by area", () => {
    const { contents, T } = filledOf(section("rising", "rising"));
    const cells = T.map(() => 300);
    const u = new Float64Array(T.length);
    contents.energies([undefined, 350, 400], cells, u);
    const block = WIDTH * HEIGHT - BOX - CIRCLE;
    const heat =
      block * 1.8e6 * (300 - ZERO) +
      (1000 * (BOX * heatOf("rising", 350) + CIRCLE * heatOf("rising", 400))) / 1000;
    near(sum(u), heat, 1e-6);
  });

  test("sources, heat of cure and heat capacity add up to those of the areas", () => {
    const { contents } = filledOf(section("peak", "resin"));
    near(sum(contents.source!), BOX * 3e4);
    near(sum(contents.qV), CIRCLE * 1200 * 2e5, 1e-6);
    expect(contents.hasCure).toBe(true);
    expect(contents.curing.map((one) => one.law)).toEqual([law]);
    const { contents: plain } = filledOf(section("block", "resin"));
    expect(plain.source).toBeUndefined();
    near(sum(plain.C), 1.8e6 * (WIDTH * HEIGHT - CIRCLE) + 1200 * 1700 * CIRCLE, 1e-6);
    const { contents: none } = filledOf({
      ...section("block", "block"),
      materials: { block: materials.block },
    });
    expect([none.hasCure, none.qV.length, none.curing.length]).toEqual([false, 0, 0]);
  });

  test("an empty region has no heat; a cut cell beside it has its own share", () => {
    const stages = [{ until: 1, absent: ["circle"] }];
    const { grid, contents, T } = filledOf(section("block", "rising", { stages }));
    const empty = [...contents.active].filter((one) => one === 0).length;
    expect(empty).toBe([...grid.content].filter((one) => one === 2).length);
    contents.active.forEach((one, at) => {
      if (one === 0) expect(contents.C[at]).toBe(1);
    });
    const full = sum(contents.C) - empty;
    near(full, 1.8e6 * (WIDTH * HEIGHT - CIRCLE), 1e-6);
    // what an empty cell is given comes back as it was
    const u = new Float64Array(T.length);
    contents.energies([undefined, undefined, 390], T, u);
    contents.temperatures(u);
    T.forEach((t, at) => {
      expect(t).toBeCloseTo(contents.active[at] === 0 ? 390 : 300, 9);
    });
  });

  test("each end loses over its film and a third of half the length: 2 V / L / (1 / h + L / 6 k)", () => {
    const ends = { length: 0.1, h: 8, ambient: 293 };
    const { contents } = filledOf(section("block", "block", { ends }));
    expect(contents.ends!.ambient).toBe(293);
    near(sum(contents.ends!.conductance), (2 * WIDTH * HEIGHT) / 0.1 / (1 / 8 + 0.1 / 6 / 0.4));
    expect(filledOf(section("block", "block")).contents.ends).toBeUndefined();
    // of a conductivity that varies that of 50 degC
    const block = { ...materials.block, conductivity: (T: number) => 0.001 * T };
    const varying = filledOf({
      ...section("block", "block", { ends }),
      materials: { ...materials, block },
    });
    near(
      sum(varying.contents.ends!.conductance),
      (2 * WIDTH * HEIGHT) / 0.1 / (1 / 8 + 0.1 / 6 / 0.32315),
      1e-6,
    );
    const stages = [{ until: 1, absent: ["box"] }];
    const { contents: open } = filledOf(section("block", "block", { ends, stages }));
    near(
      sum(open.ends!.conductance),
      (2 * (WIDTH * HEIGHT - BOX)) / 0.1 / (1 / 8 + 0.1 / 6 / 0.4),
      1e-9,
    );
  });
});

test("layers: energy and temperature there and back, heat by thickness", () => {
  for (const frame of ["slab", "cylinder", "sphere"] as const) {
    const { grid, T, contents } = filledOf({
      frame,
      materials,
      layers: (["peak", "block", "rising"] as const).map((material) => ({
        name: material,
        material,
        thickness: 0.01,
        initial: 300,
      })),
      boundary: {},
      stages: [{ until: 1 }],
      probes: {},
    });
    const given = T.map((_, i) => 331 + 45 * Math.sin(1.7 * i));
    const u = new Float64Array(T.length);
    contents.energies([], given, u);
    contents.temperatures(u);
    given.forEach((t, i) => {
      expect(Math.abs(T[i]! - t)).toBeLessThan(1e-8);
    });
    contents.energies([undefined, 350, 400], given, u);
    const volume = (p: number, q: number) =>
      frame === "slab"
        ? q - p
        : frame === "cylinder"
          ? Math.PI * (q * q - p * p)
          : (4 / 3) * Math.PI * (q ** 3 - p ** 3);
    const [block, rising] = [1, 2].map((region) =>
      sum(u.filter((_, i) => grid.content[i] === region)),
    );
    near(block!, volume(0.01, 0.02) * 1.8e6 * (350 - ZERO));
    near(rising!, volume(0.02, 0.03) * heatOf("rising", 400), 1e-7);
  }
});

describe("beyond the tables", () => {
  // above zero from 200 to 450 K
  const between: Material = {
    name: "between",
    conductivity: (T: number) => (T > 240 && T < 450 ? 0.3 : -1),
    density: 1000,
    specificHeat: 1000,
  };
  const problem = { ...section("block", "resin"), materials: { ...materials, resin: between } };
  const beyond = (places: Readonly<Record<number, number>>): number | undefined => {
    const { grid, T, contents } = filledOf(problem);
    const own = Array.from(grid.content, (one, at) => (one === 2 ? at : -1)).filter(
      (at) => at >= 0,
    );
    for (const [k, t] of Object.entries(places)) T[own[Number(k)]!] = t;
    try {
      contents.checkTables();
    } catch (error) {
      expect(error).toBeInstanceOf(BeyondTables);
      return (error as BeyondTables).T;
    }
    return undefined;
  };
  test("the hottest or the coldest that lies there is told, of what fills the cell alone", () => {
    expect(beyond({})).toBeUndefined();
    expect(beyond({ 0: 449, 3: 241 })).toBeUndefined();
    expect(beyond({ 2: 460 })).toBe(460);
    expect(beyond({ 0: 455, 2: 470, 5: 460 })).toBe(470);
    expect(beyond({ 2: 230 })).toBe(230);
    expect(beyond({ 0: 235, 2: 220, 5: 230 })).toBe(220);
    const { grid, T, contents } = filledOf(problem);
    T.forEach((_, at) => {
      if (grid.content[at] === 0) T[at] = 800;
    });
    expect(() => contents.checkTables()).not.toThrow();
    const cut = grid.content.findIndex((one) => one < 0);
    T[cut] = 480;
    expect(() => contents.checkTables()).toThrow(BeyondTables);
  });
});

describe("cut cells whose capacity varies", () => {
  const peak = propertiesOf(materials.peak, 250, 550);
  const rising = propertiesOf(materials.rising, 250, 550);
  const cells = [
    { cell: 0, constant: 3, parts: [{ props: peak, volume: 2e-6 }] },
    { cell: 3, constant: 0, parts: [{ props: peak, volume: 5e-7 }] },
    {
      cell: 1,
      constant: 2,
      parts: [
        { props: rising, volume: 1e-6 },
        { props: peak, volume: 1e-7 },
      ],
    },
    { cell: 4, constant: 1, parts: [{ props: rising, volume: 3e-6 }] },
  ];
  const mixed = new MixedCells(cells);
  const energyOf = ({ constant, parts }: (typeof cells)[number], T: number) =>
    parts.reduce(
      (E, { props, volume }) => E + volume * enthalpyAt(props, T),
      constant * (T - ZERO),
    );
  test("have one temperature at which all that they hold has their energy, wherever it is looked for first", () => {
    for (const T of [210, 240, 299.9, 329.7, 330.2, 331, 331.6, 350.1, 444, 590])
      for (const guess of [150, 300, 331.2, 650]) {
        const u = new Float64Array(5);
        for (const one of cells) u[one.cell] = energyOf(one, T);
        const found = new Float64Array(5).fill(-1);
        const before = new Float64Array(4).fill(guess);
        mixed.temperatures(u, found, before);
        for (const { cell } of cells)
          expect(Math.abs(found[cell]! - T), `${T} from ${guess}`).toBeLessThan(1e-7);
        expect(found[2]).toBe(-1);
        expect([...before]).toEqual(cells.map(({ cell }) => found[cell]));
      }
  });
  test("have the sum of their capacities", () => {
    const T = Float64Array.of(310, 345, 0, 330.4, 500);
    const C = new Float64Array(5).fill(-1);
    mixed.capacities(T, C);
    for (const { cell, constant, parts } of cells)
      near(
        C[cell]!,
        parts.reduce((c, { props, volume }) => c + volume * capacityAt(props, T[cell]!), constant),
      );
    expect(C[2]).toBe(-1);
    expect([...mixed.read(T)]).toEqual([310, 330.4, 345, 500]);
  });
  test("of one part are found in few looks at its table, peak or not: six jumps, then halves", () => {
    let looks = 0;
    const counted = new Proxy(peak.hTable, {
      get(table, key) {
        looks += 1;
        return Reflect.get(table, key) as unknown;
      },
    });
    const props = { ...peak, hTable: counted };
    const one = new MixedCells([{ cell: 0, constant: 3, parts: [{ props, volume: 2e-6 }] }]);
    const most = 6 + Math.ceil(Math.log2(peak.last));
    for (const T of [240, 330.2, 331.6, 350.1, 444])
      for (const guess of [150, 300, 331.2, 650]) {
        looks = 0;
        one.temperatures(
          Float64Array.of(energyOf(cells[0]!, T)),
          new Float64Array(1),
          Float64Array.of(guess),
        );
        expect(looks, `${T} from ${guess}`).toBeLessThanOrEqual(most + 1);
      }
    looks = 0;
    one.temperatures(
      Float64Array.of(energyOf(cells[0]!, 350)),
      new Float64Array(1),
      Float64Array.of(350.1),
    );
    expect(looks).toBeLessThanOrEqual(2);
  });
});

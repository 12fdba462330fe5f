/** Properties as the time loop reads them, against the laws themselves and their integrals. */

import { describe, expect, test } from "vitest";
import {
  capacityAt,
  conductivityAt,
  conductivitySlopeAt,
  enthalpyAt,
  lawAt,
  type Properties,
  propertiesOf,
  riseIn,
} from "../../../lib/heat/properties.ts";
import type { Material } from "../../../lib/materials/material.ts";
import { ZERO_CELSIUS } from "../../../lib/units/constants.ts";

const material = (laws: Partial<Material>): Material => ({
  name: "m",
  conductivity: 0.2,
  density: 1000,
  specificHeat: 1500,
  ...laws,
});
const LOW = 250;
const HIGH = 500;
const PLACES = Array.from({ length: 101 }, (_, i) => LOW + (i / 100) * (HIGH - LOW) * 0.99 + 0.37);

/** The integral of a law, by Gauss's three points in spans as fine as wanted. */
function integral(f: (T: number) => number, from: number, to: number, spans = 500): number {
  const h = (to - from) / spans;
  let sum = 0;
  for (let i = 0; i < spans; i++) {
    const middle = from + (i + 0.5) * h;
    const off = 0.5 * h * Math.sqrt(0.6);
    sum += (h / 18) * (5 * f(middle - off) + 8 * f(middle) + 5 * f(middle + off));
  }
  return sum;
}

/** Whether the table that finds a temperature from an enthalpy begins where it says. */
function checkStarts({ startOf, hTable, perEnthalpy, last }: Properties): void {
  expect(startOf[0]).toBe(0);
  expect((startOf.length - 1) / perEnthalpy / (hTable[last]! - hTable[0]!)).toBeCloseTo(1, 9);
  const slack = 1e-10 * (hTable[last]! - hTable[0]!);
  const off = startOf.filter((k, m) => {
    const h = hTable[0]! + m / perEnthalpy;
    const begins = hTable[k]! <= h + slack && (k === last - 1 || hTable[k + 1]! > h - slack);
    return !(k < last && begins);
  });
  expect(off).toHaveLength(0);
  // twice as many as the table has: no step of it holds many intervals
  expect(startOf.length).toBe(2 * last + 1);
}

describe("constants", () => {
  const p = propertiesOf(material({ source: 7 }), LOW, HIGH);
  test("hold everywhere, and the enthalpy counts from 0 degC", () => {
    for (const T of [10, 200, 273.15, 300, 900]) {
      expect(conductivityAt(p, T)).toBe(0.2);
      expect(capacityAt(p, T)).toBe(1.5e6);
      expect(conductivitySlopeAt(p, T)).toBe(0);
      expect(enthalpyAt(p, T)).toBeCloseTo(1.5e6 * (T - 273.15), 3);
    }
    expect([p.least, p.T0]).toEqual([Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY]);
    expect([p.most, p.Tlast]).toEqual([Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]);
    expect(p).toMatchObject({ constantConductivity: true, constantCapacity: true, density: 1000 });
    expect(p.source).toBe(7);
    expect(propertiesOf(material({}), LOW, HIGH).source).toBe(0);
  });
  test("a table of one value is one", () => {
    const level = (value: number) => ({ T: [280, 300, 400], value: [value, value, value] });
    const same = propertiesOf(
      material({ conductivity: level(0.2), density: level(1000), specificHeat: level(1500) }),
      LOW,
      HIGH,
    );
    expect(same).toMatchObject({ constantConductivity: true, constantCapacity: true });
    expect([same.k, same.c, same.kTable.length]).toEqual([0.2, 1.5e6, 0]);
    for (const key of ["conductivity", "density", "specificHeat"] as const) {
      const one = propertiesOf(
        material({ [key]: { T: [280, 300, 400], value: [1, 1, 2] } }),
        LOW,
        HIGH,
      );
      expect(one.constantConductivity).toBe(key !== "conductivity");
      expect(one.constantCapacity).toBe(key === "conductivity");
      expect(one.kTable.length).toBeGreaterThan(0);
    }
    // a function may be anything
    expect(propertiesOf(material({ density: () => 1 }), LOW, HIGH).constantCapacity).toBe(false);
  });
  test("one that varies leaves the other constant", () => {
    const k = propertiesOf(material({ conductivity: (T) => T / 1000 }), LOW, HIGH);
    expect([k.k, k.c]).toEqual([0, 1.5e6]);
    const c = propertiesOf(material({ specificHeat: (T) => 2 * T }), LOW, HIGH);
    expect([c.k, c.c]).toEqual([0.2, 0]);
    expect(enthalpyAt(k, 300)).toBeCloseTo(1.5e6 * 26.85, 3);
    expect(conductivityAt(c, 300)).toBe(0.2);
  });
});

describe("laws of the temperature", () => {
  const smooth = material({
    conductivity: (T) => 0.2 + 1e-3 * (T - 300) + 2e-6 * (T - 300) ** 2,
    density: (T) => 1100 - 0.5 * (T - 300),
    specificHeat: (T) => 1400 + 3 * (T - 300),
  });
  const p = propertiesOf(smooth, LOW, HIGH);

  test("are read as they are: a parabola between points a quarter of a kelvin apart is off by an eighth of its bend", () => {
    for (const T of PLACES) {
      const k = lawAt(smooth.conductivity, T);
      const c = lawAt(smooth.density, T) * lawAt(smooth.specificHeat, T);
      const eighth = 0.25 ** 2 / 8;
      expect(Math.abs(conductivityAt(p, T) - k)).toBeLessThan(1.01 * eighth * 4e-6);
      expect(Math.abs(capacityAt(p, T) - c)).toBeLessThan(1.01 * eighth * 3);
      const slope = 1e-3 + 4e-6 * (T - 300);
      expect(Math.abs(conductivitySlopeAt(p, T) - slope)).toBeLessThan(0.126 * 4e-6 * 1.01);
    }
    expect(p.density).toBeCloseTo(1100 - 0.5 * (298.15 - 300), 9);
    expect(p.Tlast).toBeGreaterThanOrEqual(HIGH);
    expect(p.T0).toBeLessThanOrEqual(LOW);
    expect((p.Tlast - p.T0) * p.perKelvin).toBeCloseTo(p.last, 6);
  });
  test("their enthalpy is the integral of the capacity from 0 degC", () => {
    const c = (T: number) => lawAt(smooth.density, T) * lawAt(smooth.specificHeat, T);
    for (const T of PLACES)
      expect(Math.abs(enthalpyAt(p, T) - integral(c, ZERO_CELSIUS, T))).toBeLessThan(
        1e-6 * Math.abs(integral(c, LOW, HIGH)),
      );
    expect(enthalpyAt(p, ZERO_CELSIUS)).toBeCloseTo(0, 3);
    checkStarts(p);
  });
  test("beyond the tables their ends hold, and the enthalpy goes on with them", () => {
    for (const [T, end] of [
      [p.T0 - 40, p.T0],
      [p.Tlast + 40, p.Tlast],
    ] as const) {
      expect(conductivityAt(p, T)).toBeCloseTo(lawAt(smooth.conductivity, end), 12);
      expect(capacityAt(p, T)).toBeCloseTo(
        lawAt(smooth.density, end) * lawAt(smooth.specificHeat, end),
        3,
      );
      expect(conductivitySlopeAt(p, T)).toBe(0);
      expect(enthalpyAt(p, T) - enthalpyAt(p, end)).toBeCloseTo((T - end) * capacityAt(p, end), 1);
      expect(conductivityAt(p, end)).toBeCloseTo(lawAt(smooth.conductivity, end), 12);
      expect(enthalpyAt(p, end + 1e-6) - enthalpyAt(p, end - 1e-6)).toBeCloseTo(
        2e-6 * capacityAt(p, end),
        0,
      );
    }
    expect(Number.isNaN(conductivityAt(p, Number.NaN))).toBe(false);
  });
  test("are compiled once for a reach, and anew for a wider one", () => {
    expect(propertiesOf(smooth, LOW, HIGH)).toBe(p);
    expect(propertiesOf(smooth, LOW + 50, HIGH - 50)).toBe(p);
    const wider = propertiesOf(smooth, 150, 700);
    expect(wider).not.toBe(p);
    expect(wider.T0).toBeLessThanOrEqual(150);
    expect(wider.Tlast).toBeGreaterThanOrEqual(700);
    expect(propertiesOf(smooth, 160, 650)).toBe(wider);
    for (const [low, high] of [
      [190, 500],
      [260, 610],
    ] as const) {
      const other = { ...smooth };
      const first = propertiesOf(other, LOW, HIGH);
      const more = propertiesOf(other, low, high);
      expect(more).not.toBe(first);
      expect(more.T0).toBeLessThanOrEqual(low);
      expect(more.Tlast).toBeGreaterThanOrEqual(high);
    }
    // both are still known
    expect(propertiesOf(smooth, LOW, HIGH)).toBe(p);
  });
  test("fail where they are not above zero: the reach ends there, and the last good value goes on", () => {
    for (const key of ["conductivity", "specificHeat"] as const) {
      const falling = propertiesOf(
        material({ [key]: (T: number) => 0.004 * (450 - T) }),
        LOW,
        HIGH,
      );
      expect(Math.abs(falling.most - 450)).toBeLessThan(0.26);
      const read = key === "conductivity" ? conductivityAt : capacityAt;
      expect(read(falling, 480)).toBe(read(falling, falling.most));
      expect(read(falling, 480)).toBeGreaterThan(0);
      const rising = propertiesOf(material({ [key]: (T: number) => 0.004 * (T - 300) }), LOW, HIGH);
      expect(Math.abs(rising.least - 300)).toBeLessThan(0.26);
      expect(read(rising, 260)).toBe(read(rising, rising.least));
      expect(read(rising, 260)).toBeGreaterThan(0);
      const steep = propertiesOf(
        material({ [key]: (T: number) => (T > 420 ? Number.POSITIVE_INFINITY : 1) }),
        LOW,
        HIGH,
      );
      expect(Math.abs(steep.most - 420)).toBeLessThan(0.26);
      expect(read(steep, 450)).toBe(read(steep, 400));
    }
    // of a function nothing is known beyond its tables
    expect([p.least, p.most]).toEqual([p.T0, p.T0 + p.last / p.perKelvin]);
  });
  test("a peak narrower than the step keeps its enthalpy", () => {
    for (const width of [5, 1, 0.1, 0.02]) {
      const peak = (T: number) => 1500 + (1e5 / width) * Math.exp(-(((T - 330.05) / width) ** 2));
      const q = propertiesOf(material({ specificHeat: peak }), LOW, HIGH);
      // Gauss's integral: the square root of pi
      const held = 1000 * (1500 * 60 + 1e5 * Math.sqrt(Math.PI));
      const found = enthalpyAt(q, 360) - enthalpyAt(q, 300);
      const whole = 1000 * (1500 * 400 + 1e5 * Math.sqrt(Math.PI));
      expect(Math.abs(found - held) / whole, `${width}`).toBeLessThan(3e-6);
      checkStarts(q);
    }
    // one that is smooth takes no finer table than a quarter of a kelvin
    expect(p.perKelvin).toBe(4);
  });
});

describe("laws that are given as tables", () => {
  const T = [260, 280, 300, 340, 400];
  const value = [1400, 1500, 1800, 1700, 2100];
  const straight = (at: number) => {
    const i = Math.max(
      0,
      T.findLastIndex((t, k) => t <= at && k < T.length - 1),
    );
    return value[i]! + ((at - T[i]!) / (T[i + 1]! - T[i]!)) * (value[i + 1]! - value[i]!);
  };

  test.each(["conductivity", "density", "specificHeat"] as const)(
    "%s with even points misses nothing, whatever the first of them",
    (key) => {
      for (const shift of [0, 0.3, -13.77]) {
        const table = { T: T.map((t) => t + shift), value };
        const p = propertiesOf(material({ [key]: table }), LOW, HIGH);
        // every 20 K
        expect(p.perKelvin).toBeCloseTo(1 / 20, 12);
        for (let at = 261; at < 400; at += 1.7) {
          const own = straight(at);
          if (key === "conductivity") {
            expect(conductivityAt(p, at + shift) / own).toBeCloseTo(1, 12);
            continue;
          }
          const other = key === "density" ? 1500 : 1000;
          expect(capacityAt(p, at + shift) / own / other).toBeCloseTo(1, 12);
          const heat = integral((x) => straight(x) * other, 260, at, 1400);
          const found = enthalpyAt(p, at + shift) - enthalpyAt(p, 260 + shift);
          expect(Math.abs(found / heat - 1)).toBeLessThan(1e-4);
        }
        // before and after them the ends hold, and that is known
        const read = key === "conductivity" ? conductivityAt : capacityAt;
        expect(read(p, 205 + shift)).toBeCloseTo(read(p, 260 + shift), 6);
        expect(read(p, 480 + shift)).toBeCloseTo(read(p, 400 + shift), 6);
        expect([p.least, p.most]).toEqual([Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY]);
      }
    },
  );

  test("uneven points are resolved: off by no more than the bend at one of them in a fine step", () => {
    const uneven = [260, 281.3, 300.7, 340, 400];
    const p = propertiesOf(material({ conductivity: { T: uneven, value } }), LOW, HIGH);
    expect(p.perKelvin).toBeCloseTo(4, 6);
    // finer where its points are closer: a sixteenth of their distance
    const close = { T: [260, 299.3, 300.8, 340, 400], value };
    expect(propertiesOf(material({ conductivity: close }), LOW, HIGH).perKelvin).toBeCloseTo(
      16 / 1.5,
      6,
    );
    for (let at = 261; at < 400; at += 0.9) {
      const i = uneven.findLastIndex((t) => t <= at);
      const share = (at - uneven[i]!) / (uneven[i + 1]! - uneven[i]!);
      const own = value[i]! + share * (value[i + 1]! - value[i]!);
      // a bend of up to 21 per K, over a quarter of a kelvin: a quarter of their product at most
      expect(Math.abs(conductivityAt(p, at) - own)).toBeLessThan(0.25 * 0.25 * 21);
    }
  });

  test("a table times a table is a parabola between points: fine steps", () => {
    const p = propertiesOf(
      material({ density: { T, value: [1000, 990, 980, 960, 900] }, specificHeat: { T, value } }),
      LOW,
      HIGH,
    );
    expect(p.perKelvin).toBeCloseTo(4, 9);
    expect(p.density).toBeCloseTo(980.925, 6);
    for (let at = 261; at < 400; at += 2.3) {
      const rho = lawAt({ T, value: [1000, 990, 980, 960, 900] }, at);
      expect(Math.abs(capacityAt(p, at) / (rho * straight(at)) - 1)).toBeLessThan(1e-6);
    }
  });

  test("a table beside a function: points of the table fall on entries", () => {
    const p = propertiesOf(
      material({
        conductivity: (x) => x / 1000,
        specificHeat: { T: T.map((t) => t + 0.11), value },
      }),
      LOW,
      HIGH,
    );
    for (const [i, at] of T.entries()) {
      const entry = (at + 0.11 - p.T0) * p.perKelvin;
      expect(Math.abs(entry - Math.round(entry))).toBeLessThan(1e-6);
      expect(capacityAt(p, at + 0.11)).toBeCloseTo(1000 * value[i]!, 3);
    }
    // of the function nothing is known beyond
    expect(p.least).toBeGreaterThan(0);
  });

  test("so many points that no table holds them all are thinned, not refused", () => {
    const many = Array.from({ length: 5 }, (_, i) => 300 + i * 1e-4);
    const p = propertiesOf(
      material({ conductivity: { T: many, value: [1, 2, 3, 4, 5] } }),
      LOW,
      HIGH,
    );
    expect(p.last).toBeLessThanOrEqual(400_001);
    expect(conductivityAt(p, 299)).toBeCloseTo(1, 9);
    expect(conductivityAt(p, 301)).toBeCloseTo(5, 9);
  });
});

test("a law is a number, a function, or a table with its ends held", () => {
  expect(lawAt(3, 500)).toBe(3);
  expect(lawAt((T) => T * 2, 5)).toBe(10);
  const table = { T: [300, 310], value: [1, 2] };
  expect([290, 300, 305, 310, 320].map((T) => lawAt(table, T))).toEqual([1, 1, 1.5, 2, 2]);
});

// the parabola itself: what the rise takes up is what was given
test.each([1e-9, 1e-4, 1.9e-3, 2.1e-3, 0.1, 3, -1e-4, -1.9e-3, -2.1e-3, -0.3])(
  "the rise that takes up an energy while the capacity grows by %s of itself",
  (share) => {
    const c = 1.7e6;
    for (const rise of [0.01, 0.25, 50]) {
      const bend = (share * c) / rise;
      const more = c * rise + 0.5 * bend * rise * rise;
      expect(riseIn(c, bend, more) / rise).toBeCloseTo(1, 12);
      expect(riseIn(c, -bend, -more) / -rise).toBeCloseTo(1, 12);
    }
  },
);

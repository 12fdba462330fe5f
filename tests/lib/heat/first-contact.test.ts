/** Two thick bodies that touch, against what Kirchhoff's transformation gives where k and c vary alike. */
import { describe, expect, test } from "vitest";
import { faceOfFirstContact, faceOfLaterContact } from "../../../lib/heat/first-contact.ts";
import { propertiesOf } from "../../../lib/heat/properties.ts";

const body = (k: number, c: number, f: (T: number) => number = () => 1) => {
  const constant = f(300) === f(400);
  return propertiesOf(
    {
      name: "m",
      conductivity: constant ? k : (T: number) => k * f(T),
      density: 1000,
      specificHeat: constant ? c / 1000 : (T: number) => (c / 1000) * f(T),
    },
    250,
    500,
  );
};

test("of constants it is the mean weighted by the effusivities", () => {
  // Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. 1959, section 2.15
  for (const [k1, c1, k2, c2] of [
    [0.2, 1.6e6, 200, 2.4e6],
    [0.15, 1.8e6, 0.15, 1.8e6],
    [5, 1e6, 0.3, 3e6],
  ] as const)
    for (const [a, b] of [
      [300, 440],
      [440, 300],
      [333, 333],
    ] as const) {
      const [e1, e2] = [Math.sqrt(k1 * c1), Math.sqrt(k2 * c2)];
      const face = (e1 * a + e2 * b) / (e1 + e2);
      expect(faceOfFirstContact(body(k1, c1), a, body(k2, c2), b)).toBeCloseTo(face, 9);
      expect(faceOfLaterContact(body(k1, c1), a, body(k2, c2), b)).toBeCloseTo(face, 9);
    }
});

describe("where k and c vary alike, the integral of the law obeys the linear equation", () => {
  // theta = integral of f; the face has the theta that effusivities at f = 1 weigh
  const laws = [
    ["rises", (T: number) => 1 + 0.004 * (T - 300), (T: number) => T + 0.002 * (T - 300) ** 2],
    ["falls", (T: number) => 1 - 0.003 * (T - 300), (T: number) => T - 0.0015 * (T - 300) ** 2],
    [
      "rises fast",
      (T: number) => Math.exp((T - 300) / 60),
      (T: number) => 60 * Math.exp((T - 300) / 60),
    ],
  ] as const;
  test.each(laws)("a law that %s", (_, f, integral) => {
    for (const [k1, c1, k2, c2] of [
      [0.2, 1.6e6, 2, 2e6],
      [1, 1e6, 1, 1e6],
      [30, 2e6, 0.2, 1.5e6],
    ] as const)
      for (const [a, b] of [
        [300, 420],
        [420, 300],
        [310, 330],
      ] as const) {
        const [e1, e2] = [Math.sqrt(k1 * c1), Math.sqrt(k2 * c2)];
        const theta = (e1 * integral(a) + e2 * integral(b)) / (e1 + e2);
        let [low, high] = [Math.min(a, b), Math.max(a, b)];
        for (let i = 0; i < 60; i++) {
          const middle = 0.5 * (low + high);
          if (integral(middle) < theta) low = middle;
          else high = middle;
        }
        const face = faceOfFirstContact(body(k1, c1, f), a, body(k2, c2, f), b);
        expect(Math.abs(face - low), `${k1} ${a}: ${face} for ${low}`).toBeLessThan(
          1e-3 * Math.abs(a - b),
        );
      }
  });
  test("one of two that varies: as with any split of it, between what either constant would give", () => {
    for (const [a, b] of [
      [300, 420],
      [420, 300],
    ] as const) {
      const varying = body(1, 1e6, (T) => 1 + 0.004 * (T - 300));
      const other = body(1.3, 1.2e6);
      const face = faceOfFirstContact(varying, a, other, b);
      const at = (f: number) => faceOfFirstContact(body(f, f * 1e6), a, other, b);
      const [first, second] = [at(1 + 0.004 * (a - 300)), at(1 + 0.004 * (face - 300))];
      expect(face).toBeGreaterThan(Math.min(first, second) - 0.01);
      expect(face).toBeLessThan(Math.max(first, second) + 0.01);
      // whichever of them is named first
      expect(faceOfFirstContact(other, b, varying, a)).toBeCloseTo(face, 6);
      // and a body of the same law that is as warm changes nothing
      expect(faceOfFirstContact(varying, a, varying, a)).toBeCloseTo(a, 9);
    }
  });
});

test("a face that was found is known, whatever others were asked for since", () => {
  const first = body(1, 1e6, (T) => 1 + 0.004 * (T - 300));
  const other = body(2, 2e6, (T) => 1 - 0.003 * (T - 300));
  const pairs = Array.from({ length: 12 }, (_, i) => [300 + i, 420 - 3 * i] as const);
  const found = pairs.map(([a, b]) => faceOfFirstContact(first, a, other, b));
  expect(new Set(found).size).toBe(12);
  pairs.forEach(([a, b], i) => {
    expect(faceOfFirstContact(first, a, other, b)).toBe(found[i]);
    // the other way round it is another pair
    expect(faceOfFirstContact(other, b, first, a)).toBeCloseTo(found[i]!, 6);
    expect(faceOfFirstContact(other, a, first, b)).not.toBeCloseTo(found[i]!, 6);
    expect(faceOfFirstContact(first, a, first, b)).not.toBeCloseTo(found[i]!, 6);
  });
});

test("a body that is not at one temperature any more takes its properties halfway to the face", () => {
  const rising = body(1, 1e6, (T) => 1 + 0.004 * (T - 300));
  const constant = body(1, 1e6);
  const face = faceOfLaterContact(rising, 300, constant, 420);
  // the fixed point: effusivity of the first at (300 + face) / 2
  const e1 = 1e3 * (1 + 0.004 * (0.5 * (300 + face) - 300));
  expect(face).toBeCloseTo((e1 * 300 + 1e3 * 420) / (e1 + 1e3), 1);
  expect(faceOfLaterContact(constant, 420, rising, 300)).toBeCloseTo(face, 9);
});

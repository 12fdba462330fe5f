import { describe, expect, test } from "vitest";
import {
  type BodySection,
  bodyMeasures,
  bodyOf,
  bodyVolume,
  thickestAndThinnest,
} from "../../../lib/shape/body.ts";

/** Sections of a solid of revolution, read at a few places. */
function turned(places: readonly number[], diameter: (x: number) => number): BodySection[] {
  return places.map((at) => ({ at, width: diameter(at), height: diameter(at), form: "round" }));
}

const off = (found: number, exact: number) => Math.abs(found / exact - 1);

describe("a body joined through a few sections, against the solid it was measured on", () => {
  // volumes, centroids and second moments of solids: CRC Standard Mathematical Tables, solid geometry
  test("ellipsoid from seven caliper stations", () => {
    const [a, b, c] = [0.05, 0.009, 0.011];
    const at = [0.08, 0.2, 0.35, 0.5, 0.65, 0.8, 0.92].map((s) => s * 2 * a);
    const sections = at.map((x): BodySection => {
      const s = Math.sqrt(1 - ((x - a) / a) ** 2);
      return { at: x, width: 2 * b * s, height: 2 * c * s, form: "round" };
    });
    const m = bodyMeasures(bodyOf(2 * a, sections));
    const volume = (4 / 3) * Math.PI * a * b * c;
    expect(off(m.volume, volume)).toBeLessThan(0.005);
    expect(m.centroid.along).toBeCloseTo(a, 5);
    expect(m.centroid.up).toBeCloseTo(0, 9);
    expect(off(m.second.along, (volume * a * a) / 5)).toBeLessThan(0.01);
    expect(off(m.second.across, (volume * b * b) / 5)).toBeLessThan(0.01);
    expect(off(m.second.up, (volume * c * c) / 5)).toBeLessThan(0.01);
  });

  test("sphere: surface", () => {
    const r = 0.01;
    const at = [0.1, 0.3, 0.5, 0.7, 0.9].map((s) => s * 2 * r);
    const m = bodyMeasures(
      bodyOf(
        2 * r,
        turned(at, (x) => 2 * Math.sqrt(r * r - (x - r) ** 2)),
      ),
    );
    expect(off(m.surface, 4 * Math.PI * r * r)).toBeLessThan(0.005);
  });

  test("cone from its base, and where its middle of mass lies", () => {
    const [h, d] = [0.06, 0.02];
    const m = bodyMeasures(
      bodyOf(
        h,
        turned([0, h / 4, h / 2, (3 * h) / 4], (x) => d * (1 - x / h)),
      ),
    );
    expect(off(m.volume, (Math.PI * d * d * h) / 12)).toBeLessThan(0.005);
    expect(m.centroid.along / h).toBeCloseTo(0.25, 2);
    const side = ((Math.PI * d) / 2) * Math.hypot(d / 2, h) + (Math.PI * d * d) / 4;
    expect(off(m.surface, side)).toBeLessThan(0.01);
  });

  test("flat bar with blunt ends: exactly", () => {
    const box: BodySection[] = [0, 0.1].map((at) => ({
      at,
      width: 0.02,
      height: 0.005,
      form: "flat",
    }));
    const m = bodyMeasures(bodyOf(0.1, box));
    expect(off(m.volume, 0.1 * 0.02 * 0.005)).toBeLessThan(1e-9);
    expect(off(m.surface, 2 * (0.1 * 0.02 + 0.1 * 0.005 + 0.02 * 0.005))).toBeLessThan(1e-9);
    expect(off(m.second.up, (0.1 * 0.02 * 0.005 ** 3) / 12)).toBeLessThan(1e-6);
  });

  test.each([0.2, 0.5, 1, 2])("lens of height/width %d: two circular segments", (flatness) => {
    const [w, h] = [0.01, 0.01 * flatness];
    const bar = bodyOf(
      0.1,
      [0, 0.1].map((at) => ({ at, width: w, height: h, form: "lens" as const })),
    );
    const [long, short] = [Math.max(w, h), Math.min(w, h)];
    const r = (long * long + short * short) / (4 * short);
    const angle = 2 * Math.asin(long / (2 * r));
    const segment = (r * r * (angle - Math.sin(angle))) / 2;
    expect(off(bodyMeasures(bar).volume, 2 * segment * 0.1)).toBeLessThan(2e-3);
    expect(thickestAndThinnest(bar).thickest.thickness).toBeCloseTo(short, 5);
  });
});

test.each(["smoothly", "straight"] as const)(
  "its volume alone is that of all measures: joined %s",
  (joined) => {
    const forms = ["round", "lens", "flat", "round", "lens"] as const;
    const sections = forms.map(
      (form, i): BodySection => ({
        at: 0.01 + 0.02 * i,
        width: 0.02 - 0.003 * i,
        height: 0.008 + 0.002 * i,
        form,
        rise: 0.001 * i,
      }),
    );
    const body = bodyOf(0.1, sections, joined);
    expect(off(bodyVolume(body), bodyMeasures(body).volume)).toBeLessThan(1e-12);
  },
);

test("thickest spot, and the waist before the tail", () => {
  const sizes: readonly [number, number][] = [
    [0.02, 14],
    [0.035, 18],
    [0.06, 12],
    [0.085, 3],
    [0.1, 6],
  ];
  const body = bodyOf(
    0.11,
    sizes.map(([at, mm]) => ({ at, width: mm / 1000, height: mm / 1000, form: "round" })),
  );
  const { thickest, thinnest } = thickestAndThinnest(body);
  expect(thickest.thickness).toBeCloseTo(0.018, 4);
  expect(thickest.at).toBeCloseTo(0.035, 3);
  expect(thinnest.thickness).toBeCloseTo(0.003, 4);
  expect(thinnest.at).toBeCloseTo(0.085, 3);
});

test("between two sections a body is never thicker nor thinner than both", () => {
  const body = bodyOf(
    0.1,
    turned([0.02, 0.03, 0.08], (x) => (x < 0.05 ? 0.004 : 0.02)),
  );
  for (let x = 0.03; x < 0.08; x += 0.001) {
    const { width } = body.sizeAt(x);
    expect(width).toBeGreaterThanOrEqual(0.004 - 1e-12);
    expect(width).toBeLessThanOrEqual(0.02 + 1e-12);
  }
});

test("the thinnest spot leaves tips out, not an end that is as thick as its own section", () => {
  const round = (at: number, size: number) => ({
    at,
    width: size,
    height: size,
    form: "round" as const,
  });
  const blunt = thickestAndThinnest(
    bodyOf(0.1, [round(0, 0.01), round(0.05, 0.02), round(0.1, 0.004)]),
  );
  expect(blunt.thinnest.at).toBeCloseTo(0.1, 9);
  expect(blunt.thinnest.thickness).toBeCloseTo(0.004, 6);
  const tipped = thickestAndThinnest(
    bodyOf(0.1, [round(0.03, 0.01), round(0.05, 0.02), round(0.09, 0.004)]),
  );
  expect(tipped.thinnest.at).toBeLessThan(0.1 * (1 - 0.03));
  expect(tipped.thinnest.thickness).toBeGreaterThan(0.001);
});

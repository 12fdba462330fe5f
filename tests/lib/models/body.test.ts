/** The body through a bait's stations: closed sums of bars, and a station that says the same twice. */
import { describe, expect, test } from "vitest";
import type { Bait, Station } from "../../../lib/job/types.ts";
import {
  baitBody,
  baitMeasures,
  caliperedVolume,
  volumeByStations,
} from "../../../lib/models/bait/body.ts";

const station = (at: number, width: number, height = width): Station =>
  ({ name: `${at}`, at, width, height, form: "round" }) as Station;
const bait = (...stations: Station[]) => ({ length: 0.1, stations }) as unknown as Bait;

test("one station is an even bar of that section, as long as the bait", () => {
  const even = baitMeasures(bait(station(0.05, 0.02, 0.012)));
  expect(even.volume / ((Math.PI / 4) * 0.02 * 0.012 * 0.1)).toBeCloseTo(1, 3);
  expect(even.centroid.along).toBeCloseTo(0.05, 6);
  expect(even.length).toBe(0.1);
});

test("a copied station changes nothing, alone or among others", () => {
  const [nose, fat, tail] = [station(0.02, 0.01), station(0.05, 0.02), station(0.08, 0.006)];
  const volume = (...stations: Station[]) => baitMeasures(bait(...stations)).volume;
  expect(volume(fat, fat)).toBe(volume(fat));
  const whole = volume(nose, fat, tail);
  expect(volume(nose, nose, fat, tail)).toBe(whole);
  expect(volume(nose, fat, fat, tail)).toBe(whole);
  expect(volume(nose, fat, tail, tail, tail)).toBe(whole);
  expect(baitBody(bait(nose, fat, fat, tail)).sections.map(({ at }) => at)).toEqual([
    0.02, 0.05, 0.08,
  ]);
});

test("a raised station lifts the middle of the bait, an even one lies on its axis", () => {
  const raised = { ...station(0.05, 0.02), rise: 0.003 };
  expect(baitMeasures(bait(raised)).centroid.up).toBeCloseTo(0.003, 6);
  expect(baitMeasures(bait(station(0.05, 0.02))).centroid.up).toBeCloseTo(0, 9);
});

test("calipers that are off: a bar by its own formula, never below a quarter of each size", () => {
  const body = baitBody(bait(station(0.05, 0.02, 0.012)));
  const bar = (w: number, h: number) => (Math.PI / 4) * w * h * 0.1;
  const by = (off: number) => caliperedVolume(body, off);
  expect(by(0.001).value / bar(0.02, 0.012)).toBeCloseTo(1, 3);
  expect(by(0.001).low / bar(0.019, 0.011)).toBeCloseTo(1, 3);
  expect(by(0.001).high / bar(0.021, 0.013)).toBeCloseTo(1, 3);
  expect(by(0.1).low / bar(0.005, 0.003)).toBeCloseTo(1, 3);
  expect(by(0.01).low / bar(0.01, 0.003)).toBeCloseTo(1, 3);
});

describe("between its stations", () => {
  /** Of an elliptic cone cut off, sides straight: the mean of its area over the length, integrated by hand. */
  const frustum = (from: Station, to: Station, long: number) =>
    ((Math.PI / 4) *
      long *
      (from.width * from.height +
        to.width * to.height +
        (from.width * to.height + to.width * from.height) / 2)) /
    3;
  const tip = station(0, 0);

  test("straight sides hold the frusta and the cones of its tips; the range covers them and the smooth body", () => {
    const stations = [
      station(0.02, 0.014, 0.016),
      station(0.05, 0.018, 0.022),
      station(0.09, 0.004),
    ];
    const body = baitBody(bait(...stations));
    const exact =
      frustum(tip, stations[0]!, 0.02) +
      frustum(stations[0]!, stations[1]!, 0.03) +
      frustum(stations[1]!, stations[2]!, 0.04) +
      frustum(stations[2]!, tip, 0.01);
    const { value, low, high, straightLess, mostly } = volumeByStations(body, 0.0003);
    // 64 corners of an ellipse, 48 slices of a frustum
    expect(Math.abs(1 - straightLess - exact / value)).toBeLessThan(2e-3);
    expect(low).toBeLessThan(exact);
    expect(high).toBeGreaterThan(value);
    expect(mostly).toBe("bait.stations");
  });

  test("more stations of one ellipsoid narrow it, around its true volume", () => {
    const [length, wide] = [0.1, 0.02];
    const of = (count: number) => {
      const stations = Array.from({ length: count }, (_, i) => {
        const at = (length * (i + 1)) / (count + 1);
        return station(at, wide * Math.sqrt(1 - ((2 * at) / length - 1) ** 2));
      });
      return volumeByStations(baitBody(bait(...stations)), 1e-4);
    };
    const volume = (Math.PI / 6) * length * wide ** 2;
    let before = Number.POSITIVE_INFINITY;
    for (const count of [2, 3, 5, 9, 17]) {
      const { low, high } = of(count);
      expect(low).toBeLessThan(volume);
      expect(high).toBeGreaterThan(volume);
      expect(high - low).toBeLessThan(before);
      before = high - low;
    }
    expect(of(17).mostly).toBe("bait.thickness");
  });

  test("a bar is one whichever way it is joined", () => {
    const even = volumeByStations(baitBody(bait(station(0.05, 0.02, 0.012))), 0.0003);
    expect(even.straightLess).toBeCloseTo(0, 9);
    expect(even.mostly).toBe("bait.thickness");
  });
});

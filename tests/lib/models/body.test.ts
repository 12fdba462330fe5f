/** The body through a bait's stations: closed sums of bars, and a station that says the same twice. */
import { expect, test } from "vitest";
import type { Bait, Station } from "../../../lib/job/types.ts";
import { baitBody, baitMeasures, caliperedVolume } from "../../../lib/models/bait/body.ts";

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

import { expect, test } from "vitest";
import { demold, layer, readJob, shots, sprue } from "../../../lib/index.ts";

const job = (text: string) => readJob(text).job;

test("a thicker first color leaves the colors on it their room: what is proposed can be typed", () => {
  const text = (depth: string) => `bait: { thickness: 3/4 in, length: 5 in }
layer: { depth: ${depth}, handling: 25 s, more: [{ depth: 6 mm }, { depth: 8 mm }] }`;
  const { levers } = layer(job(text("5 mm")), { quick: true }).answer;
  for (const { change } of levers)
    if (change?.path === "layer.depth")
      expect(() => job(text(`${change.to * 1e3} mm`))).not.toThrow();
  // 19.05 mm less 14 leave hardly any room over 5
  expect(levers.map(({ code }) => code)).not.toContain("thicker_layer");
});

test("cooler plastic is proposed for the shrinkage only where the thinnest part surely fills", () => {
  const text = (thin: string) => `bait: { length: 110 mm, stations: [
  { name: belly, at: 40 mm, width: 19 mm, height: 24 mm },
  { name: tail, at: 100 mm, width: ${thin}, height: 12 mm } ] }
shot: { fill: 2 s }`;
  const codesAt = (thin: string) => {
    const { levers, fill } = sprue(job(text(thin)), { quick: true }).answer;
    return { codes: levers.map(({ code }) => code), fills: fill.fills };
  };
  const [fat, thin] = [codesAt("12 mm"), codesAt("3 mm")];
  expect(fat.fills).toBe("surely");
  expect(fat.codes).toContain("cooler_shot");
  expect(thin.fills).not.toBe("surely");
  expect(thin.codes).not.toContain("cooler_shot");
});

test("one mold is never filled again before the hands are off it", () => {
  for (const hands of [40, 180, 600]) {
    const { fastest } = shots(
      job(`bait: { thickness: 6 mm }\nrun: { hands: ${hands} s, open: 15 s }`),
      { quick: true },
    ).answer;
    expect(fastest!.open).toBeGreaterThanOrEqual(hands - 1e-9);
    // a bait each turn: its cooling and the hands
    expect(fastest!.perHour).toBeCloseTo(3600 / (fastest!.demold + fastest!.open), 6);
  }
});

test("a lever of demold gains what can be seen", () => {
  const text = "bait: { thickness: 4 mm }\nmold: { material: aluminum 6061, wall: 10 mm }";
  const { levers, time } = demold(job(text), { quick: true }).answer;
  for (const { gives } of levers) expect(gives!.value).toBeLessThan(0.98 * time.value);
});

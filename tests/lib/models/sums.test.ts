/** What adds up, and what is shared out. */
import { describe, expect, test } from "vitest";
import { readJob } from "../../../lib/job/job.ts";
import { wallLayers } from "../../../lib/models/bait/bar.ts";
import { widthLeft } from "../../../lib/models/measurements.ts";
import { everyPour } from "../../../lib/models/pour/every-pour.ts";
import { EffortSum } from "../../../lib/models/ranged.ts";
import { scenarioOf } from "../../../lib/models/scenario.ts";

type Measurement = Parameters<typeof widthLeft>[1];

test("the effort of several histories: steps add up, cells and imbalance are those of the largest", () => {
  const sum = new EffortSum();
  expect(sum.done()).toEqual({ cells: 0, steps: 0, energyImbalance: 0 });
  sum.add({ effort: { cells: 100, steps: 7, energyImbalance: 1e-12 } });
  sum.add({ effort: { cells: 400, steps: 5, energyImbalance: 3e-12 } });
  sum.add({ effort: { cells: 50, steps: 1, energyImbalance: 2e-12 } });
  expect(sum.done()).toEqual({ cells: 400, steps: 13, energyImbalance: 3e-12 });
});

describe("the mold behind a cavity", () => {
  const layersOf = (mold: string) =>
    wallLayers(scenarioOf(readJob(`bait: { thickness: 16 mm }\nmold: { ${mold} }`).job), 293);
  const total = (mold: string) => layersOf(mold).reduce((sum, { thickness }) => sum + thickness, 0);
  const plate = (distance: string) =>
    `{ thickness: 3 mm, distance: ${distance}, material: aluminum }`;

  test("is the wall alone, or the wall around its plates: no layer is lost, none is empty", () => {
    expect(layersOf("wall: 20 mm").map(({ name }) => name)).toEqual(["mold"]);
    expect(total("wall: 20 mm")).toBeCloseTo(0.02, 12);
    for (const [plates, names] of [
      [[plate("5 mm")], ["mold", "plate 1", "mold 2"]],
      [[plate("17 mm")], ["mold", "plate 1"]],
      [
        [plate("10 mm"), plate("2 mm")],
        ["mold", "plate 2", "mold 2", "plate 1", "mold 3"],
      ],
    ] as const) {
      const mold = `wall: 20 mm, inserts: [${plates.join(", ")}]`;
      const layers = layersOf(mold);
      expect(layers.map(({ name }) => name)).toEqual(names);
      expect(total(mold)).toBeCloseTo(0.02, 12);
      for (const { thickness } of layers) expect(thickness).toBeGreaterThan(1e-6);
    }
  });
});

describe("what a measurement leaves of a range", () => {
  const share = (name: string, slope: number) => ({ name, slope, total: slope * slope }) as never;

  test("of a thing that is known as well as it is measured: two readings of it, combined by their variances", () => {
    for (const repeats of [0.1, 0.5, 1, 2])
      for (const deviation of [0.05, 0.2]) {
        const measured = {
          leaves: { a: 1 },
          repeats: repeats * deviation,
        } as unknown as Measurement;
        const left = widthLeft([share("a", 1)], measured, deviation);
        expect(left).toBeCloseTo(repeats / Math.sqrt(1 + repeats * repeats), 9);
      }
  });
  test("of two things of which one is measured: the other's variance", () => {
    const measured = { leaves: { a: 0 }, repeats: null } as unknown as Measurement;
    expect(widthLeft([share("a", 0.6), share("b", 0.8)], measured, 1)).toBeCloseTo(0.8, 9);
    const half = { leaves: { a: 0.5 }, repeats: null } as unknown as Measurement;
    expect(widthLeft([share("a", 0.6), share("b", 0.8)], half, 1)).toBeCloseTo(
      Math.sqrt(0.64 + 0.36 / 4),
      9,
    );
  });
  test("of what it says nothing about: all", () => {
    const measured = { leaves: { c: 0 }, repeats: 0.1 } as unknown as Measurement;
    expect(widthLeft([share("a", 1)], measured, 1)).toBe(1);
  });
});

test("the pours of a bait: two halves, its masters and their silicone, each once", () => {
  const pours = (pour: string) => everyPour(readJob(`bait: { thickness: 16 mm }\n${pour}`).job);
  expect(pours("").map(({ name }) => name)).toEqual([
    "first half",
    "second half",
    "masters",
    "silicone",
  ]);
  const [first, second, masters, silicone] = pours("pour: { masters: { count: 3 } }");
  expect({ ...second, name: first!.name }).toEqual(first);
  // silicone is a box less one bait, and of three masters each is one bait
  expect(masters!.volume! / silicone!.less).toBeCloseTo(3, 9);
  expect(pours("pour: { masters: { count: 0 } }").map(({ name }) => name)).toEqual([
    "first half",
    "second half",
  ]);
});

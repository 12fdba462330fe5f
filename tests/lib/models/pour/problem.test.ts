/** A pour as a heat problem: what is drawn adds up to what was asked for. */
import { describe, expect, test } from "vitest";
import { stillAirCoefficient, WATER_BATH } from "../../../../lib/formulas/air.ts";
import { checkHeatProblem } from "../../../../lib/heat/check.ts";
import type { HeatProblem } from "../../../../lib/heat/problem.ts";
import { readJob } from "../../../../lib/job/job.ts";
import { masterVolume } from "../../../../lib/models/pour/masters.ts";
import {
  PLATE,
  pouredVolume,
  pourFaces,
  pourLine,
  pourSection,
  pourStack,
  sectionSizes,
  settingOf,
} from "../../../../lib/models/pour/problem.ts";
import { LIKELY_RESIN, resinMaker } from "../../../../lib/models/pour/resin.ts";
import { boxOf, type Outline, ringsOf } from "../../../../lib/shape/outline.ts";

const jobOf = (pour: string, room = "temperature: 20 degC") =>
  readJob(`{ bait: { thickness: 16 mm }, room: { ${room} }, pour: { depth: 30 mm, ${pour} } }`).job;

const BOX = "box: { length: 200 mm, width: 100 mm, wall: 12 mm }";
const BED = "clay: { thickness: 25 mm }, bench: { thickness: 18 mm }";
const MASTERS = "masters: { count: 3, width: 20 mm, height: 8 mm, length: 120 mm }";
const plain = jobOf(`${BOX}, ${BED}, ${MASTERS}, stock: 24 degC`);
const resin = resinMaker(plain)(LIKELY_RESIN);
const box = (outline: Outline) => boxOf(ringsOf(outline));

describe("what is set", () => {
  test("comes from the job", () => {
    expect(settingOf(plain)).toEqual({
      depth: 0.03,
      room: expect.closeTo(293.15, 9),
      stock: expect.closeTo(297.15, 9),
      fan: false,
      bath: null,
      plate: null,
    });
    expect(settingOf(jobOf("", "air: fan")).fan).toBe(true);
    const bath = settingOf(jobOf("", "air: bath, bathTemperature: 12 degC"));
    expect(bath).toMatchObject({ fan: false, bath: expect.closeTo(285.15, 9) });
    const plate = "plate: { thickness: 3 mm, distance: 6 mm }";
    expect(settingOf(jobOf(`${MASTERS}, ${plate}`)).plate).toMatchObject({
      over: expect.closeTo(0.014, 12),
      thickness: expect.closeTo(0.003, 12),
    });
  });
  test("resin fills the box over its bed, less its masters", () => {
    const volume = 0.2 * 0.1 * 0.03 - 3 * masterVolume(plain);
    expect(pouredVolume(plain)).toBeCloseTo(volume, 15);
    // a tapered half ellipse: pi / 4 of its box, and 0.8 of that; a guess
    expect(masterVolume(plain)).toBeCloseTo((Math.PI / 4) * 0.02 * 0.008 * 0.12 * 0.8, 12);
    const none = { ...plain, pour: { ...plain.pour, depth: 0.001 } };
    expect(pouredVolume(none)).toBe(0);
  });
});

describe("what the faces exchange", () => {
  const setting = settingOf(plain);
  const h = ({ h }: { h: unknown }) => h as number;
  test("in still air: up more than sideways, down least, each at its own length", () => {
    const { top, side, under } = pourFaces(plain, setting);
    for (const [face, facing, length] of [
      [top, "up", 0.02 / 0.6],
      [side, "side", 0.055],
      [under, "down", 0.02 / 0.6],
    ] as const) {
      const surface = setting.room + 15;
      const still = { facing, length, surface, air: setting.room, emissivity: 0 };
      expect(h(face)).toBeCloseTo(stillAirCoefficient(still).convection, 9);
      expect(face.ambient).toBe(setting.room);
    }
    expect(h(top)).toBeGreaterThan(h(under));
    const { pour } = plain;
    expect(top.emissivity).toBe(pour.material.emissivity.value);
    expect(side.emissivity).toBe(pour.box.material.emissivity.value);
    expect(under.emissivity).toBe(pour.bench.material.emissivity.value);
  });
  test("a fan blows at the top and the sides, not under the bench, along the shorter side of the box", () => {
    const still = pourFaces(plain, setting);
    const blown = pourFaces(plain, { ...setting, fan: true });
    expect(h(blown.top)).toBeGreaterThan(1.5 * h(still.top));
    expect(h(blown.side)).toBeGreaterThan(1.5 * h(still.side));
    expect(blown.under).toEqual(still.under);
    const longer = { ...plain, pour: { ...plain.pour, box: { ...plain.pour.box, length: 0.4 } } };
    expect(h(pourFaces(longer, { ...setting, fan: true }).side)).toBeCloseTo(h(blown.side), 9);
  });
  test("a bath is around the sides and under the bench, the open resin stays in the air", () => {
    const bath = pourFaces(plain, { ...setting, bath: 285 });
    const water = { kind: "exchange", h: WATER_BATH.still.value, ambient: 285 };
    expect(bath.side).toEqual(water);
    expect(bath.under).toEqual(water);
    expect(bath.top).toEqual(pourFaces(plain, setting).top);
  });
});

/** The layer that holds a place. */
function layerAt({ layers = [] }: HeatProblem, x: number): string {
  let end = 0;
  for (const { name, thickness } of layers) {
    end += thickness;
    if (x < end) return name;
  }
  return "";
}

describe("far from the walls", () => {
  const setting = settingOf(plain);
  test("bench, bed and resin stand on each other, each as warm as it came", () => {
    const line = pourLine(plain, resin, setting, { until: 100, resolution: 2 });
    expect(line).toMatchObject({ frame: "slab", stages: [{ until: 100 }], resolution: 2 });
    expect(line.layers).toEqual([
      {
        name: "bench",
        material: "bench",
        thickness: expect.closeTo(0.018, 12),
        initial: setting.room,
      },
      { name: "bed", material: "clay", thickness: 0.025, initial: setting.room },
      { name: "resin", material: "resin", thickness: 0.03, initial: setting.stock },
    ]);
    const { top, under } = pourFaces(plain, setting);
    expect(line.boundary).toEqual({ left: under, right: top });
    expect(line.probes["bottom"]).toMatchObject({ x: expect.closeTo(0.043, 12), side: "right" });
    expect(line.probes["top"]).toMatchObject({ x: expect.closeTo(0.073, 12), side: "left" });
    expect(line.probes["hot"]).toEqual({ kind: "hottest", region: "resin" });
    expect(line.probes["bed"]).toMatchObject({ region: "bed", neighbor: "resin", of: "hottest" });
    expect(Object.keys(line.probes)).not.toContain("hot above");
    expect(checkHeatProblem(line)).toEqual([]);
    expect(Object.keys(line.materials)).not.toContain(PLATE);
  });
  test("a plate lies as high as it was asked for, with resin on both sides and its own contact", () => {
    const plate = "plate: { thickness: 3 mm, distance: 6 mm }";
    const job = jobOf(`${BED}, ${MASTERS}, ${plate}, stock: 24 degC`);
    const line = pourLine(job, resin, settingOf(job), { until: 100 });
    const bed = 0.043;
    const places = [0.001, 0.0139, 0.0141, 0.0169, 0.0171, 0.0299].map((x) =>
      layerAt(line, bed + x),
    );
    expect(places).toEqual(["resin", "resin", PLATE, PLATE, "upper", "upper"]);
    const [under, between, over] = line.layers!.slice(2);
    const { contact } = settingOf(job).plate!;
    expect([under!.contact, between!.contact, over!.contact]).toEqual([
      contact,
      contact,
      undefined,
    ]);
    // the plate is as warm as the room, the resin as the stock
    expect(between!.initial).toBeCloseTo(293.15, 9);
    expect([under!.initial, over!.initial]).toEqual(
      [297.15, 297.15].map((T) => expect.closeTo(T, 9)),
    );
    expect(line.probes["hot above"]).toEqual({ kind: "hottest", region: "upper" });
    expect(line.materials[PLATE]).toBeDefined();
    expect(checkHeatProblem(line)).toEqual([]);
    // one that stands out of the resin has nothing over it, and no contact to it
    const flush = pourLine(job, resin, { ...settingOf(job), depth: 0.016 }, { until: 100 });
    expect(flush.layers!.map(({ name }) => name)).toEqual(["bench", "bed", "resin", PLATE]);
    expect(flush.layers!.at(-1)).not.toHaveProperty("contact");
    expect(flush.layers!.at(-1)!.thickness).toBeCloseTo(0.002, 12);
  });
});

describe("the cut across the box", () => {
  const setting = settingOf(plain);
  const section = pourSection(plain, resin, setting, { until: 100 });
  const shape = (name: string, from = section) => from.shapes!.find((s) => s.name === name)!;
  test("is as wide as the box with its walls, as high as bench, bed and resin", () => {
    expect(section.block).toMatchObject({
      width: expect.closeTo(0.124, 12),
      height: expect.closeTo(0.073, 12),
      material: "box",
      initial: setting.room,
    });
    expect(sectionSizes(plain, setting)).toMatchObject({
      wall: 0.012,
      bed: expect.closeTo(0.043, 12),
      depth: 0.03,
    });
    const edges = (name: string) => {
      const { left, right, bottom, top } = box(shape(name).outline);
      return [left, right, bottom, top].map((x) => Number(x.toFixed(9)));
    };
    expect(edges("bench")).toEqual([0, 0.124, 0, 0.018]);
    expect(edges("bed")).toEqual([0.012, 0.112, 0.018, 0.043]);
    expect(edges("resin")).toEqual([0.012, 0.112, 0.043, 0.073]);
    expect(shape("resin").initial).toBe(setting.stock);
    for (const name of ["bench", "bed", "master1"]) expect(shape(name).initial).toBe(setting.room);
    expect(shape("bed").material).toBe("clay");
    expect(checkHeatProblem(section)).toEqual([]);
  });
  test("masters stand evenly, bedded to their middle, the whole its own mirror image", () => {
    const masters = [1, 2, 3].map((i) => box(shape(`master${i}`).outline));
    masters.forEach(({ left, right, bottom, top }, i) => {
      expect((left + right) / 2).toBeCloseTo(0.012 + (0.1 / 3) * (i + 0.5), 9);
      expect(right - left).toBeCloseTo(0.02, 5);
      expect((bottom + top) / 2).toBeCloseTo(0.043, 9);
      expect(top - bottom).toBeCloseTo(0.016, 5);
    });
    expect(section.probes["master"]).toEqual({ kind: "hottest", region: "master2" });
    expect(section.probes["hot"]).toEqual({ kind: "hottest", region: "resin" });
    expect(section.probes["bed"]).toEqual({ kind: "hottest", region: "bed" });
    const bare = pourSection(jobOf("masters: { count: 0 }"), resin, setting, { until: 1 });
    expect(bare.probes).not.toHaveProperty("master");
    expect(bare.shapes!.map(({ name }) => name)).toEqual(["bench", "bed", "resin"]);
  });
  test("masters that would overlap, or stick out of resin or clay, are drawn as large as there is room", () => {
    const size = (pour: string, depth = 0.03) => {
      const job = jobOf(`${BOX}, ${pour}`);
      const [first] = sectionSizes(job, { ...settingOf(job), depth }).masters;
      const { left, right, bottom, top } = box(first!);
      return [right - left, (top - bottom) / 2];
    };
    const wide = size(
      "masters: { count: 5, width: 30 mm, height: 8 mm }, clay: { thickness: 25 mm }",
    );
    expect(wide[0]).toBeCloseTo(0.95 * 0.02, 5);
    expect(wide[1]).toBeCloseTo(0.008, 5);
    const high = "masters: { count: 1, width: 20 mm, height: 20 mm }, clay: { thickness: 12 mm }";
    expect(size(high)[1]).toBeCloseTo(0.95 * 0.012, 5);
    expect(size(high, 0.01)[1]).toBeCloseTo(0.95 * 0.01, 5);
  });
  test("its sides look at what the faces exchange; what the ends lose passes the wall first", () => {
    const { top, side, under } = pourFaces(plain, setting);
    expect(section.boundary).toEqual({ left: side, right: side, top, bottom: under });
    const wall = 0.012 / plain.pour.box.material.conductivity.value;
    const { length, h, ambient } = section.ends!;
    expect([length, ambient]).toEqual([0.2, setting.room]);
    // resistances in a row; radiation of a face 15 K warmer, of its emissivity
    const T = setting.room;
    const radiation = side.emissivity! * 5.670374419e-8 * (2 * T + 15) * ((T + 15) ** 2 + T ** 2);
    expect(1 / (h as number) - wall).toBeCloseTo(1 / ((side.h as number) + radiation), 6);
    const bath = pourSection(plain, resin, { ...setting, bath: 285 }, { until: 100 });
    expect(bath.ends!.ambient).toBe(285);
    expect(1 / (bath.ends!.h as number)).toBeCloseTo(1 / WATER_BATH.still.value + wall, 9);
  });
  test("a plate lies over the masters in the middle of the box, no wider and no higher than there is resin", () => {
    const plateOf = (plate: string, depth = 0.03) => {
      const job = jobOf(`${BOX}, ${BED}, ${MASTERS}, plate: { ${plate} }`);
      const made = pourSection(job, resin, { ...settingOf(job), depth }, { until: 1 });
      expect(checkHeatProblem(made)).toEqual([]);
      const found = made.shapes!.find(({ name }) => name === PLATE);
      if (!found) return undefined;
      expect(found.contact).toBe(settingOf(job).plate!.contact);
      expect(found.initial).toBe(settingOf(job).room);
      const { left, right, bottom, top } = box(found.outline);
      return [left, right, bottom - 0.043, top - 0.043].map((x) => Number(x.toFixed(9)));
    };
    const thin = "thickness: 3 mm, distance: 6 mm";
    expect(plateOf(thin)).toEqual([0.012, 0.112, 0.014, 0.017]);
    expect(plateOf(`${thin}, width: 60 mm`)).toEqual([0.032, 0.092, 0.014, 0.017]);
    expect(plateOf(`${thin}, width: 300 mm`)).toEqual([0.012, 0.112, 0.014, 0.017]);
    expect(plateOf(thin, 0.016)).toEqual([0.012, 0.112, 0.014, 0.016]);
    expect(plateOf(thin, 0.014)).toBeUndefined();
  });
});

describe("poured in layers", () => {
  const setting = settingOf(plain);
  const depths = [0.01, 0.015, 0.005];
  const starts = [0, 3600, 9000];
  const stack = pourStack(plain, resin, setting, { depths, starts, until: 20000 });
  test("each is empty until its own time, and then as warm as the stock", () => {
    expect(stack.layers!.map(({ name, thickness }) => [name, thickness])).toEqual([
      ["bench", expect.closeTo(0.018, 12)],
      ["bed", 0.025],
      ["resin", 0.01],
      ["resin2", 0.015],
      ["resin3", 0.005],
    ]);
    const { top } = pourFaces(plain, setting);
    expect(stack.stages).toEqual([
      { until: 3600, absent: ["resin2", "resin3"], exposed: top },
      {
        until: 9000,
        absent: ["resin3"],
        exposed: top,
        refill: [{ name: "resin2", temperature: setting.stock }],
      },
      {
        until: 20000,
        absent: [],
        exposed: top,
        refill: [{ name: "resin3", temperature: setting.stock }],
      },
    ]);
    expect(checkHeatProblem(stack)).toEqual([]);
    expect(stack.boundary).toEqual({ left: pourFaces(plain, setting).under, right: top });
    const [bench, bed, ...layers] = stack.layers!;
    expect([bench!.initial, bed!.initial]).toEqual([setting.room, setting.room]);
    for (const layer of layers)
      expect(layer).toMatchObject({ material: "resin", initial: setting.stock });
  });
  test("probes: the hottest of each layer, its top, and the bed", () => {
    expect(stack.probes["resin2"]).toEqual({ kind: "hottest", region: "resin2" });
    const tops = [1, 2, 3].map((i) => stack.probes[`top${i}`]);
    [0.053, 0.068, 0.073].forEach((x, i) => {
      expect(tops[i]).toEqual({ kind: "point", x: expect.closeTo(x, 12), side: "left" });
    });
    expect(stack.probes["bed"]).toMatchObject({ kind: "face", region: "bed", neighbor: "resin" });
    expect(Object.keys(stack.probes)).toHaveLength(7);
  });
});

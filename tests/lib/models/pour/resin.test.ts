/** The resin of a pour at the corners of what is known of it. */
import { describe, expect, test } from "vitest";
import { timeToCure } from "../../../../lib/cure/isothermal.ts";
import { readJob } from "../../../../lib/job/job.ts";
import { materialNamed } from "../../../../lib/materials/catalog.ts";
import { everyPour } from "../../../../lib/models/pour/every-pour.ts";
import { mixOf } from "../../../../lib/models/pour/mix.ts";
import {
  isCalibrated,
  LIKELY_RESIN,
  type PouredResin,
  type ResinCorner,
  resinMaker,
} from "../../../../lib/models/pour/resin.ts";
import { NINE_OF_TEN } from "../../../../lib/numerics/deviates.ts";
import { InputError } from "../../../../lib/units/problem.ts";

const FILM = "thinFilm: { time: 6 h, at: 25 degC }";
const POT = "potLife: { time: 40 min, mass: 100 g, at: 25 degC }";
const jobOf = (pour: string, more = "") =>
  readJob(`{ bait: { thickness: 16 mm }, pour: { depth: 20 mm, ${pour} } ${more} }`).job;
const MEASURED = ", uncertainty: { materials: measured }";
const corner = (change: Partial<ResinCorner>): ResinCorner => ({ ...LIKELY_RESIN, ...change });
const gelTime = ({ material, gel }: PouredResin, T = 298.15) => {
  const { law, initial } = material.cure!;
  return timeToCure(law, T, { from: Math.max(1e-6, initial), to: gel })!;
};

describe("speed", () => {
  test("moves all times by what is read off a data sheet: 15 % to either side, a fast hardener being short", () => {
    const make = resinMaker(jobOf(FILM), { vitrification: false });
    const usual = gelTime(make(LIKELY_RESIN));
    // the film's own time
    expect(usual / (6 * 3600)).toBeCloseTo(1, 2);
    for (const [speed, times] of [
      ["high", 0.85],
      ["low", 1.15],
      [NINE_OF_TEN, 0.85],
      [-NINE_OF_TEN, 1.15],
      [0, 1],
      [NINE_OF_TEN / 2, 0.925],
    ] as const)
      expect(gelTime(make(corner({ speed }))) / usual, `${speed}`).toBeCloseTo(times, 3);
    expect(gelTime(make(LIKELY_RESIN, { slower: 2 })) / usual).toBeCloseTo(2, 3);
    expect(gelTime(make(corner({ speed: "high" }), { slower: 3 })) / usual).toBeCloseTo(2.55, 3);
  });
  test("of a hardener by its word: two fifths, one, three times the catalog's pot life", () => {
    const time = (pour: string) =>
      gelTime(resinMaker(jobOf(pour), { vitrification: false })(LIKELY_RESIN));
    const medium = time("hardener: medium");
    // a cup warms itself the more the faster it is: in a thin layer the hardeners differ less
    expect(time("hardener: fast") / medium).toBeGreaterThan(0.4);
    expect(time("hardener: fast") / medium).toBeLessThan(0.8);
    expect(time("hardener: slow") / medium).toBeGreaterThan(1.3);
    expect(time("hardener: slow") / medium).toBeLessThan(3);
    expect(isCalibrated(jobOf("hardener: slow"))).toBe(false);
    expect(isCalibrated(jobOf(POT))).toBe(true);
    expect(isCalibrated(jobOf(FILM))).toBe(true);
    const make = resinMaker(jobOf("hardener: medium"), { vitrification: false });
    expect(gelTime(make(corner({ speed: "high" })))).toBeLessThan(0.9 * medium);
    expect(gelTime(make(corner({ speed: "low" })))).toBeGreaterThan(1.1 * medium);
  });
});

describe("heat, conductivity and energy", () => {
  test("a heat that is known to a factor of two stays above 0 however unlucky, one that is known well is drawn straight", () => {
    const share = (name: string) => mixOf(jobOf(`material: ${name}`), 0).resinMassShare;
    const of = (name: string, z: number) =>
      resinMaker(jobOf(`material: ${name}`))(corner({ heat: z })).heat / share(name);
    for (const name of ["silicone", "filled silicone", "tin silicone"]) {
      const { value, low, high } = materialNamed(name).resin!.heatOfReaction;
      // twice as far as the end is as much again by ratio; straight, 12 - 2 * 7 kJ/kg would be below 0
      expect(of(name, -2 * NINE_OF_TEN)).toBeCloseTo(low ** 2 / value, 6);
      expect(of(name, 2 * NINE_OF_TEN)).toBeCloseTo(high ** 2 / value, 6);
    }
    const { value, low } = entry.resin!.heatOfReaction;
    expect(of("epoxy", -2 * NINE_OF_TEN)).toBeCloseTo(2 * low - value, 6);
  });
  test("of a resin that is sold filled, the share of powder is drawn as well, unless the job says it", () => {
    // 40 % of the volume, 30 to 47: 0.7 / 0.6 of the resin, and of the heat, at the least; 500 of 450 kJ/kg besides
    const both = Math.hypot(500 / 450 - 1, 0.7 / 0.6 - 1);
    const heatAt = (pour: string, z: number | "value") =>
      resinMaker(jobOf(pour))(corner({ heat: z })).heat;
    const ratio = (pour: string) => heatAt(pour, NINE_OF_TEN) / heatAt(pour, "value") - 1;
    expect(ratio("material: filled epoxy")).toBeCloseTo(both, 6);
    expect(ratio("material: filled epoxy, filler: 61 %")).toBeCloseTo(500 / 450 - 1, 6);
    expect(ratio("material: epoxy")).toBeCloseTo(500 / 450 - 1, 6);
  });
  const entry = materialNamed("filled epoxy");
  test("take the ends of the catalog's bands; what was measured has half of them", () => {
    // of resin and hardener, to the whole mix
    const share = mixOf(jobOf("material: filled epoxy"), 0).resinMassShare;
    const { value, low, high } = entry.resin!.heatOfReaction;
    const bands = { value: share * value, low: share * low, high: share * high };
    const make = resinMaker(jobOf(`material: filled epoxy, ${FILM}`));
    const half = resinMaker(jobOf(`material: filled epoxy, ${FILM}`, MEASURED));
    const known = resinMaker(jobOf(`material: filled epoxy, filler: 61 %, ${FILM}`));
    const knownHalf = resinMaker(jobOf(`material: filled epoxy, filler: 61 %, ${FILM}`, MEASURED));
    for (const end of ["low", "high"] as const) {
      const sign = end === "low" ? -1 : 1;
      expect(make(corner({ heat: end })).heat).toBeCloseTo(bands[end], 6);
      expect(known(corner({ heat: sign * NINE_OF_TEN })).heat).toBeCloseTo(bands[end], 6);
      expect(half(corner({ heat: end })).heat).toBeCloseTo((bands.value + bands[end]) / 2, 6);
      expect(knownHalf(corner({ heat: sign * NINE_OF_TEN })).heat).toBeCloseTo(
        (bands.value + bands[end]) / 2,
        6,
      );
      const { conductivity } = entry;
      expect(make(corner({ conductivity: end })).conductivity).toBeCloseTo(conductivity[end], 9);
      expect(make(corner({ conductivity: sign * NINE_OF_TEN })).conductivity).toBeCloseTo(
        conductivity[end],
        9,
      );
      expect(half(corner({ conductivity: end })).conductivity).toBeCloseTo(
        (conductivity.value + conductivity[end]) / 2,
        9,
      );
      // known to a factor: half of its logarithm
      expect(half(corner({ conductivity: sign * NINE_OF_TEN })).conductivity).toBeCloseTo(
        Math.sqrt(conductivity.value * conductivity[end]),
        9,
      );
    }
    const likely = make(LIKELY_RESIN);
    expect(likely.heat).toBeCloseTo(bands.value, 6);
    expect(likely.conductivity).toBe(entry.conductivity.value);
    expect(likely.density).toBe(entry.density.value);
    expect(likely.specificHeat).toBe(entry.specificHeat.value);
    expect(likely.material).toMatchObject({
      density: likely.density,
      specificHeat: likely.specificHeat,
      conductivity: likely.conductivity,
    });
    expect(likely.material.cure!.heat).toBe(likely.heat);
  });
  test("energies of room-temperature epoxies span their published band; two times settle it", () => {
    const { activationEnergy } = entry.resin!;
    const make = resinMaker(jobOf(`material: filled epoxy, ${FILM}`));
    expect(make(corner({ energy: "low" })).energy).toBeCloseTo(
      Math.min(activationEnergy.low, 50e3),
      0,
    );
    expect(make(corner({ energy: "high" })).energy).toBeCloseTo(
      Math.max(activationEnergy.high, 65e3),
      0,
    );
    const likely = make(LIKELY_RESIN).energy;
    expect(likely).toBeGreaterThanOrEqual(Math.min(activationEnergy.low, 50e3));
    expect(likely).toBeLessThanOrEqual(Math.max(activationEnergy.high, 65e3));
    expect(make(corner({ energy: 0 })).energy).toBeCloseTo(likely, 0);
    expect(make(corner({ energy: NINE_OF_TEN })).energy).toBeCloseTo(
      Math.max(activationEnergy.high, 65e3),
      0,
    );
    // the film's time at its own temperature stands, whatever the energy
    for (const energy of ["low", "high"] as const)
      expect(gelTime(make(corner({ energy }))) / gelTime(make(LIKELY_RESIN))).toBeCloseTo(1, 1);
    const both = resinMaker(jobOf(`material: filled epoxy, ${POT}, ${FILM}`));
    for (const energy of ["low", "high", 1] as const)
      expect(both(corner({ energy })).energy).toBe(both(LIKELY_RESIN).energy);
  });
  test("each corner is made once", () => {
    const make = resinMaker(jobOf(FILM));
    expect(make(corner({ heat: "high" }))).toBe(make(corner({ heat: "high" })));
    expect(make(corner({ heat: "high" }))).not.toBe(make(corner({ heat: "low" })));
    expect(make(LIKELY_RESIN, { slower: 2 })).not.toBe(make(LIKELY_RESIN));
    expect(make(LIKELY_RESIN, {})).toBe(make(LIKELY_RESIN));
  });
});

describe("what is stirred in", () => {
  test("granules take their share of volume, mass and heat", () => {
    const job = jobOf(`material: filled epoxy, ${FILM}, granules: 30 %`);
    const [plain, mix] = [mixOf(job, 0), mixOf(job, 0.3)];
    const metal = materialNamed("aluminum");
    const density = 0.7 * plain.density + 0.3 * metal.density.value;
    expect(mix.density).toBeCloseTo(density, 6);
    const w = (0.3 * metal.density.value) / density;
    expect(mix.specificHeat).toBeCloseTo(
      (1 - w) * plain.specificHeat + w * metal.specificHeat.value,
      6,
    );
    expect(mix.resinMassShare).toBeCloseTo(plain.resinMassShare * (1 - w), 9);
    const make = resinMaker(job);
    const bare = make(LIKELY_RESIN, { granules: 0 });
    expect(make(LIKELY_RESIN).heat / bare.heat).toBeCloseTo(1 - w, 9);
    expect(make(LIKELY_RESIN).conductivity).toBeGreaterThan(bare.conductivity);
    // how fast it is was measured without them
    expect(gelTime(make(LIKELY_RESIN)) / gelTime(bare)).toBeCloseTo(1, 6);
    expect(mix.granules).toBe(0.3);
    expect(mix.conductivity.low).toBeLessThan(mix.conductivity.value);
    expect(mix.conductivity.high).toBeGreaterThan(mix.conductivity.value);
  });
  test("powder by weight: the volumes of both add up", () => {
    for (const share of [0.2, 0.5, 0.7]) {
      const mix = mixOf(jobOf(`material: epoxy, filler: ${100 * share} %`), 0);
      const [resin, powder] = [materialNamed("epoxy"), materialNamed("filled epoxy").filler!];
      expect(1 / mix.density).toBeCloseTo(
        (1 - share) / resin.density.value + share / powder.density.value,
        9,
      );
      expect(mix.fillerVolumeShare).toBeCloseTo((share * mix.density) / powder.density.value, 9);
      expect(mix.resinMassShare).toBeCloseTo(1 - share, 12);
      expect(mix.fillerMassShare).toBeCloseTo(share, 12);
      expect(mix.specificHeat).toBeCloseTo(
        (1 - share) * resin.specificHeat.value + share * powder.specificHeat.value,
        6,
      );
      expect(mix.conductivity.value).toBeGreaterThan(resin.conductivity.value);
    }
    expect(mixOf(jobOf("material: epoxy"), 0)).toMatchObject({
      fillerVolumeShare: 0,
      filler: null,
      granules: 0,
    });
    expect(mixOf(jobOf("material: epoxy"), 0).resinMassShare).toBe(1);
    for (const [pour, path] of [
      ["material: epoxy, filler: 84 %", "pour.filler"],
      ["material: filled epoxy, granules: 60 %, filler: 72 %", "pour.granules"],
    ] as const) {
      const given = jobOf(pour);
      try {
        mixOf(given, given.pour.granules);
        expect.unreachable();
      } catch (error) {
        const [problem] = (error as InputError).problems;
        expect(problem).toMatchObject({ code: "filler_above_packing", path });
        // as much as is told goes in
        const most = Number.parseFloat(problem!.most!) / 100;
        expect(problem!.most).toMatch(/^\d+ %$/);
        expect(most).toBeGreaterThan(0);
        const less = path === "pour.filler" ? { fillerMassShare: most - 0.01 } : {};
        const fits = { ...given, pour: { ...given.pour, ...less } };
        const granules = path === "pour.granules" ? most - 0.01 : 0;
        expect(mixOf(fits, granules).density).toBeGreaterThan(1000);
        const more = path === "pour.filler" ? { fillerMassShare: most + 0.02 } : {};
        const over = { ...given, pour: { ...given.pour, ...more } };
        expect(() => mixOf(over, granules > 0 ? most + 0.02 : 0)).toThrow(InputError);
      }
    }
  });
});

test("a glass slows the cure below its temperature, but for a rubber, or where it is left out", () => {
  const late = (pour: string, options = {}) => {
    const made = resinMaker(jobOf(pour), options)(LIKELY_RESIN);
    return (
      timeToCure(made.material.cure!.law, 283.15, { from: 1e-4, to: 0.9 }) ??
      Number.POSITIVE_INFINITY
    );
  };
  const plain = late(FILM, { vitrification: false });
  expect(late(FILM)).toBeGreaterThan(5 * plain);
  expect(resinMaker(jobOf(FILM))(LIKELY_RESIN).spec.cap).toBeDefined();
  expect(resinMaker(jobOf(`material: silicone, ${FILM}`))(LIKELY_RESIN).spec.cap).toBeUndefined();
});

test("pours of a job: halves fill the box over their masters, silicone the room around one bait", () => {
  const pours = everyPour(
    readJob(
      "{ bait: { length: 100 mm, stations: [{ at: 30 mm, width: 10 mm, height: 16 mm }, { at: 60 mm, width: 14 mm, height: 12 mm }] }, pour: { depth: 30 mm, box: { length: 200 mm, width: 100 mm }, masters: { count: 2 } } }",
    ).job,
  );
  const [half, , masters, silicone] = pours;
  expect(half!.box).toEqual({ length: 0.2, width: 0.1, height: 0.03 });
  // of each master the half that stands in it
  expect(half!.less).toBeCloseTo(2 * (masters!.volume! / 2 / 2), 12);
  // a centimeter around, about the widest and the highest station
  const { length, width, height } = silicone!.box!;
  expect([length, width, height].map((m) => Math.round(m * 1e5) / 1e2)).toEqual([120, 34, 36]);
  expect(silicone!.less).toBeCloseTo(masters!.volume! / 2, 12);
  expect(silicone!.material.family).toBe("silicone");
  for (const one of pours) expect(one.ratio).toMatchObject({ a: 100, by: "weight" });
  expect(half!.ratio.b).toBe(materialNamed(half!.material.name).resin!.hardenerParts.value);
  // a pour that was weighed is its mass
  const weighed = everyPour(readJob("{ bait: { thickness: 16 mm }, pour: { mass: 2 kg } }").job);
  expect(weighed[0]!.volume! * weighed[0]!.material.density.value).toBeCloseTo(2, 9);
  // the silicone of the chain of castings, where it has one
  const chain = readJob(
    "{ bait: { thickness: 16 mm }, shrink: { steps: [{ material: plaster }, { material: silicone }] } }",
  ).job;
  expect(everyPour(chain).at(-1)!.material).toBe(
    chain.shrink.steps.find(({ material }) => material.family === "silicone")!.material,
  );
});

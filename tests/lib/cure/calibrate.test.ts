/** Laws from data sheets against closed forms: a first-order law, and a mix without heat, whose cup stays as cool as a film. */
import { describe, expect, test } from "vitest";
import {
  calibrateCure,
  type DataSheet,
  likelyCure,
  type MixToCalibrate,
} from "../../../lib/cure/calibrate.ts";
import { InputError } from "../../../lib/units/problem.ts";

const R = 8.314462618;
const ROOM = 298.15;
const [A, E, GEL] = [1e6, 55e3, 0.6];
const mix: MixToCalibrate = {
  law: { law: "nth-order", A, E, n: 1 },
  heat: 3e5,
  specificHeat: 1500,
  density: 1100,
  gel: GEL,
};
const cold = { ...mix, heat: 0 };
/** Of the first-order law from nearly nothing to a cure: -ln(1 - a) / k, s. */
const timeTo = (cure: number, T: number, energy = E, at = ROOM) =>
  -Math.log((1 - cure) / (1 - 1e-6)) /
  (A * Math.exp((-E / R) * (1 / at) - (energy / R) * (1 / T - 1 / at)));
const near = (x: number, expected: number, relative = 1e-6) =>
  expect(Math.abs(x / expected - 1)).toBeLessThan(relative);

describe("a thin film alone", () => {
  test("is as much faster as its time is shorter, at its own temperature and cure", () => {
    for (const at of [ROOM, 333])
      for (const cure of [undefined, 0.9]) {
        const thinFilm = { duration: 3000, at, ...(cure && { cure }) };
        const { scale, energy, heat, spec, unsettled } = calibrateCure(mix, { thinFilm });
        near(scale, timeTo(cure ?? GEL, at) / 3000);
        expect([energy, heat]).toEqual([E, 3e5]);
        expect(unsettled).toEqual(["energy", "heat"]);
        expect(spec).toMatchObject({ law: "nth-order", E, n: 1 });
        near((spec as { A: number }).A, A * scale);
        const likely = likelyCure(mix, { thinFilm });
        expect(likely).toEqual({ spec, scale, energy, heat });
      }
  });
  test("leaves the energy within its band: of a warm one the highest is the slowest in the room", () => {
    for (const [energyLow, energyHigh] of [
      [undefined, undefined],
      [52e3, 58e3],
    ] as const) {
      const band = energyLow ? { energyLow, energyHigh } : {};
      const [low, high] = [energyLow ?? 50e3, energyHigh ?? 65e3];
      const warm = calibrateCure({ ...mix, ...band }, { thinFilm: { duration: 3000, at: 333 } });
      expect([warm.slow.energy, warm.fast.energy]).toEqual([high, low]);
      near(warm.slow.scale, timeTo(GEL, 333, high) / 3000);
      near(warm.fast.scale, timeTo(GEL, 333, low) / 3000);
      const cool = calibrateCure({ ...mix, ...band }, { thinFilm: { duration: 3000, at: 278 } });
      expect([cool.slow.energy, cool.fast.energy]).toEqual([low, high]);
    }
  });
  test("an energy outside the band is taken to its nearer end", () => {
    const thinFilm = { duration: 3000, at: ROOM };
    const of = (band: Partial<MixToCalibrate>) =>
      likelyCure({ ...mix, ...band }, { thinFilm }).energy;
    expect(of({ energyLow: 57e3, energyHigh: 60e3 })).toBe(57e3);
    expect(of({ energyLow: 40e3, energyHigh: 51e3 })).toBe(51e3);
    expect(of({ law: { law: "nth-order", A, E: 45e3, n: 1 } })).toBe(50e3);
    expect(of({ law: { law: "nth-order", A: 1e9, E: 7e4, n: 1 } })).toBe(65e3);
  });
});

describe("a mix without heat", () => {
  test("gels in a cup as in a film, whatever the cup loses", () => {
    for (const cupLoss of [undefined, 0, 30]) {
      const sheet = { potLife: { duration: 1800, mass: 0.1, at: 303 } };
      const found = calibrateCure({ ...cold, ...(cupLoss !== undefined && { cupLoss }) }, sheet);
      near(found.scale, timeTo(GEL, 303) / 1800, 1e-5);
      expect(found.unsettled).toEqual(["energy", "heat", "cup_loss", "thin_layer"]);
      expect([found.slow.energy, found.fast.energy]).toEqual([65e3, 50e3]);
    }
  });
  test("has from a cup and a film at two temperatures the energy of Arrhenius, R ln(t1 / t2) / (1/T1 - 1/T2)", () => {
    for (const [energy, band] of [
      [57e3, {}],
      [62e3, {}],
      [44e3, { energyLow: 40e3, energyHigh: 48e3 }],
    ] as const) {
      const film = 1800 * Math.exp((energy / R) * (1 / 333 - 1 / ROOM));
      const sheet: DataSheet = {
        potLife: { duration: 1800, mass: 0.1, at: ROOM },
        thinFilm: { duration: film, at: 333 },
      };
      const found = calibrateCure({ ...cold, ...band }, sheet);
      near(found.energy, energy, 1e-4);
      near(found.scale, timeTo(GEL, ROOM) / 1800, 1e-5);
      expect(found.unsettled).toEqual(["heat", "cup_loss"]);
    }
  });
  test("and where no energy of the band meets both the end that comes nearer, which is said", () => {
    for (const [energy, end] of [
      [70e3, 65e3],
      [45e3, 50e3],
    ] as const) {
      const film = 1800 * Math.exp((energy / R) * (1 / 333 - 1 / ROOM));
      const found = calibrateCure(cold, {
        potLife: { duration: 1800, mass: 0.1, at: ROOM },
        thinFilm: { duration: film, at: 333 },
      });
      expect(found.energy).toBe(end);
      expect(found.unsettled).toEqual(["heat", "cup_loss", "facts_disagree"]);
      // the cup's time is kept
      near(found.scale, timeTo(GEL, ROOM) / 1800, 1e-5);
    }
  });
});

describe("a cup that warms", () => {
  const potLife = { duration: 1800, mass: 0.2, at: ROOM };
  test("needs a slower law than a film of that time, and the slower the less it loses", () => {
    const scaleOf = (cupLoss: number) => likelyCure({ ...mix, cupLoss }, { potLife }).scale;
    const scales = [0, 5, 10, 40, 2000].map(scaleOf);
    scales.slice(1).forEach((scale, i) => {
      expect(scale).toBeGreaterThan(scales[i]!);
    });
    const film = timeTo(GEL, ROOM) / 1800;
    expect(scales[4]! / film).toBeLessThan(1);
    expect(scales[4]! / film).toBeGreaterThan(0.95);
    expect(scaleOf(10)).toBe(likelyCure(mix, { potLife }).scale);
  });
  test("without loss peaks at its rise over its start: heat / specific heat", () => {
    for (const rise of [120, 250]) {
      const peak = { temperature: ROOM + rise, mass: 0.2, at: ROOM };
      const found = calibrateCure({ ...mix, cupLoss: 0 }, { potLife, peak });
      near(found.heat, rise * 1500, 5e-3);
      expect(found.unsettled).toEqual(["energy", "cup_loss", "thin_layer"]);
    }
  });
  test("a peak that a fifth or twice the heat does not give is said, and the nearer of both is kept", () => {
    for (const [rise, share] of [
      [10, 0.2],
      [395, 2],
    ] as const) {
      const heat = share === 2 ? 2e5 : 3e5;
      const peak = { temperature: ROOM + rise, mass: 0.2, at: ROOM };
      const found = calibrateCure({ ...mix, heat, cupLoss: 0 }, { potLife, peak });
      expect(found.heat).toBe(share * heat);
      expect(found.unsettled).toEqual(["energy", "cup_loss", "thin_layer", "facts_disagree"]);
    }
  });
});

test.each<[string, DataSheet, number]>([
  ["film", { thinFilm: { duration: 3600, at: 300 } }, 300],
  ["cup", { potLife: { duration: 3600, mass: 0.1, at: 310 } }, 310],
  [
    "film after a cup",
    {
      potLife: { duration: 3600, mass: 0.1, at: 305 },
      thinFilm: { duration: 3600, at: 300 },
    },
    305,
  ],
])("a law that ends before the gel point never gels in a %s", (_what, sheet, given) => {
  const law = {
    law: "autocatalytic",
    A1: 1e6,
    E1: 55e3,
    A2: 1e6,
    E2: 55e3,
    m: 1,
    final: 0.5,
  } as const;
  for (const [heat, n] of [
    [0, 2],
    [3e5, 2],
    [3e5, 1],
    [3e5, 3],
  ] as const)
    try {
      calibrateCure({ ...mix, law: { ...law, n }, heat }, sheet);
      expect.unreachable();
    } catch (error) {
      expect(error).toBeInstanceOf(InputError);
      expect((error as InputError).problems).toEqual([{ code: "never_gels", path: "law", given }]);
    }
});

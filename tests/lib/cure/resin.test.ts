import fc from "fast-check";
import { expect, test } from "vitest";
import { calibrateCure, type DataSheet, leadingEnergy } from "../../../lib/cure/calibrate.ts";
import { type Cup, cupShape, cureInCup } from "../../../lib/cure/cup.ts";
import {
  glassCure,
  glassTransition,
  vitrificationCure,
} from "../../../lib/cure/glass-transition.ts";
import { timeToCure } from "../../../lib/cure/isothermal.ts";
import { publishedLaw } from "../../../lib/cure/published.ts";
import { makeRateLaw } from "../../../lib/cure/rate-laws.ts";
import { settledAtGel, settlingSpeed } from "../../../lib/cure/settling.ts";
import { makeTabulatedRateLaw } from "../../../lib/cure/tabulated.ts";
import {
  cureAtThickening,
  fillerThickening,
  freshViscosity,
  thickening,
} from "../../../lib/cure/viscosity.ts";
import type { InputError } from "../../../lib/units/problem.ts";

const C = 273.15;
const near = (x: number, expected: number, relative: number) =>
  expect(Math.abs(x / expected - 1)).toBeLessThan(relative);
const amine = { uncured: -22 + C, cured: 130 + C, lambda: 0.4 };
const epoxy = publishedLaw("epoxy-amine");
const codes = (work: () => unknown): string[] => {
  try {
    work();
  } catch (error) {
    return (error as InputError).problems.map((p) => `${p.path} ${p.code}`);
  }
  return [];
};

test("glass transition of a short aliphatic amine: 35 degC at 0.60", () => {
  // DiBenedetto with the constants from memory: -22, 130 degC, 0.40
  expect(glassTransition(amine, 0.6) - C).toBeCloseTo(35, 1);
  expect(glassTransition(amine, 0)).toBe(amine.uncured);
  near(glassTransition(amine, 1), amine.cured, 1e-12);
  // cure of 25 degC stopped at 0.56 to 0.61 in isothermal calorimetry (two of three hardeners)
  const stops = vitrificationCure(amine, 25 + C, 10);
  expect(stops).toBeGreaterThan(0.55);
  expect(stops).toBeLessThan(0.62);
});

test("cure at the glass transition is the inverse, and goes on smoothly below", () => {
  fc.assert(
    fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (cure) => {
      expect(glassCure(amine, glassTransition(amine, cure))).toBeCloseTo(cure, 10);
    }),
    { seed: 8 },
  );
  expect(glassCure(amine, amine.uncured - 200)).toBeLessThan(-1);
  expect(vitrificationCure(amine, 450, 0)).toBe(1);
  expect(codes(() => glassTransition({ uncured: 300, cured: 290, lambda: 2 }, 1.1))).toEqual([
    "cured too_small",
    "lambda too_big",
    "cure too_big",
  ]);
});

test("thickening by cure and by filler", () => {
  // by hand: (0.6/0.3)^(1.5 + 0.3) = 2^1.8
  near(thickening(0.3, 0.6), 2 ** 1.8, 1e-12);
  expect(thickening(0.6, 0.6)).toBe(Number.POSITIVE_INFINITY);
  expect(thickening(0, 0.6)).toBe(1);
  near(thickening(cureAtThickening(50, 0.577), 0.577), 50, 1e-9);
  // Einstein's limit: 1 + 2.5 phi
  near(fillerThickening(1e-4, 0.637) - 1, 2.5e-4, 1e-3);
  expect(codes(() => fillerThickening(0.64, 0.637))).toEqual(["share filler_above_packing"]);
  near(freshViscosity({ viscosity: 1, at: 298.15, energy: 55000 }, 298.15), 1, 1e-12);
});

test("Stokes: a grain of 100 um and 2650 kg/m3 in water falls at about 9 mm/s in slow flow", () => {
  // by hand: (2650-998) 9.81 1e-8/(18 1.002e-3)
  const alone = { grain: 1e-4, fillerDensity: 2650, liquidDensity: 998, viscosity: 1.002e-3 };
  near(settlingSpeed({ ...alone, share: 0 }), 8.985e-3, 1e-3);
  // Richardson & Zaki: (1 - 0.3)^4.65 = 0.1904
  near(
    settlingSpeed({ ...alone, share: 0.3 }) / settlingSpeed({ ...alone, share: 0 }),
    0.1904,
    1e-3,
  );
});

test("settling until gel: less than at the fresh viscosity, none when it floats upward less", () => {
  const law = makeTabulatedRateLaw(epoxy.spec);
  const powder = {
    grain: 50e-6,
    fillerDensity: 2700,
    liquidDensity: 1150,
    viscosity: 1,
    share: 0.35,
  };
  const settled = settledAtGel(powder, law, 0.577, 298.15)!;
  near(settled.gelTime, timeToCure(law, 298.15, { to: 0.577 })!, 1e-6);
  expect(settled.depth).toBeLessThan(settlingSpeed(powder) * settled.gelTime);
  expect(settled.depth).toBeGreaterThan(0.1 * settlingSpeed(powder) * settled.gelTime);
  const floating = { ...powder, fillerDensity: 600 };
  expect(settledAtGel(floating, law, 0.577, 298.15)!.depth).toBeLessThan(0);
});

const cup = (changes: Partial<Cup> = {}): Cup => ({
  law: makeTabulatedRateLaw(epoxy.spec),
  heat: 480e3,
  specificHeat: 1500,
  density: 1150,
  mass: 0.1,
  start: 298.15,
  room: 298.15,
  h: 10,
  ...changes,
});

test("a cup: between no loss and held temperature, never above the adiabatic limit", () => {
  near(cupShape(1, 1000).diameter ** 3 * (Math.PI / 4), 1e-3, 1e-12);
  const free = cureInCup(cup({ h: 0 }), 0.577, 20 * 3600);
  // minutes without loss: as the adiabatic time
  near(free.gelTime! / 60, 30.8, 3e-3);
  near(free.peak, 298.15 + 320, 1e-4);
  const real = cureInCup(cup(), 0.577, 20 * 3600);
  expect(real.gelTime!).toBeGreaterThan(free.gelTime!);
  expect(real.gelTime!).toBeLessThan(timeToCure(cup().law, 298.15, { to: 0.577 })!);
  expect(real.peak).toBeLessThan(free.peak);
});

test("a cup of spent resin cools by its side, top and bottom", () => {
  // by hand: 0.1 kg at 1150 kg/m3 is 86.957 ml, so d = 48.02 mm, area = pi d2 + 2 pi d2/4 = 108.7 cm2;
  // exp(-10 W/m2K 0.010865 m2 1800 s/(0.1 kg 1500 J/kgK)) = 0.27148
  const warm = cureInCup(cup({ heat: 0, start: 348.15 }), 0.577, 1800);
  near((warm.T[warm.T.length - 1] - 298.15) / 50, 0.27148, 2e-4);
});

test("any cup: cure rises within 0 and 1, peak below start + heat/cp", () => {
  fc.assert(
    fc.property(
      fc.record({
        mass: fc.double({ min: 0.005, max: 5, noNaN: true }),
        heat: fc.double({ min: 0, max: 6e5, noNaN: true }),
        h: fc.double({ min: 0, max: 100, noNaN: true }),
        start: fc.double({ min: 275, max: 330, noNaN: true }),
      }),
      ({ start, ...changes }) => {
        const course = cureInCup(cup({ ...changes, start, room: start }), 0.577, 1e5);
        const limit = start + changes.heat / 1500;
        expect(course.peak).toBeLessThanOrEqual(limit * (1 + 1e-7));
        course.cures.forEach((a, i) => {
          expect(a).toBeLessThanOrEqual(1 + 1e-9);
          if (i > 0) expect(a).toBeGreaterThanOrEqual(course.cures[i - 1] - 1e-9);
        });
        expect(course.T.every(Number.isFinite)).toBe(true);
      },
    ),
    { numRuns: 100, seed: 9 },
  );
});

const mix = { law: epoxy.spec, heat: 480e3, specificHeat: 1500, density: 1150, gel: 0.577 };

test("calibration gives back the law that made the data sheet", () => {
  const law = makeTabulatedRateLaw(epoxy.spec);
  const sheet: DataSheet = {
    potLife: { duration: cureInCup(cup(), 0.577, 1e5).gelTime!, mass: 0.1, at: 298.15 },
    thinFilm: { duration: timeToCure(law, 298.15, { to: 0.577 })!, at: 298.15 },
    peak: { temperature: cureInCup(cup(), 0.577, 1e5).peak, mass: 0.1, at: 298.15 },
  };
  const found = calibrateCure({ ...mix, heat: 430e3 }, sheet);
  near(found.scale, 1, 0.01);
  near(found.energy, leadingEnergy(epoxy.spec), 0.005);
  near(found.heat, 480e3, 0.01);
  expect(found.unsettled).toEqual(["cup_loss"]);
});

test("a pot life alone leaves energy, heat, cup and thin layers open, and brackets the truth", () => {
  const truth = cureInCup(cup(), 0.577, 1e5).gelTime!;
  const slower = calibrateCure(mix, { potLife: { duration: 4 * truth, mass: 0.1, at: 298.15 } });
  expect(slower.unsettled).toEqual(["energy", "heat", "cup_loss", "thin_layer"]);
  // four times the pot life: slower, but by less than four times would be too much in a small cup that loses heat
  expect(slower.scale).toBeLessThan(0.6);
  const film = (spec: typeof epoxy.spec) =>
    timeToCure(makeTabulatedRateLaw(spec), 298.15, { from: 1e-6, to: 0.577 })!;
  expect(film(slower.slow.spec)).toBeGreaterThan(film(slower.spec));
  expect(film(slower.fast.spec)).toBeLessThan(film(slower.spec));
  // and the found law has that pot life
  const again = cureInCup(cup({ law: makeTabulatedRateLaw(slower.spec) }), 0.577, 1e6).gelTime!;
  near(again, 4 * truth, 1e-3);
});

test("facts that no law in the band can meet are said to disagree", () => {
  const found = calibrateCure(mix, {
    potLife: { duration: 1800, mass: 0.5, at: 298.15 },
    thinFilm: { duration: 1900, at: 298.15 },
  });
  expect(found.unsettled).toContain("facts_disagree");
});

test("no time at all, or impossible figures: refused", () => {
  expect(codes(() => calibrateCure(mix, {}))).toEqual(["potLife no_calibration"]);
  expect(
    codes(() =>
      calibrateCure(
        { ...mix, specificHeat: 0 },
        { potLife: { duration: -5, mass: Number.NaN, at: 25 } },
      ),
    ),
  ).toEqual([
    "specificHeat too_small",
    "potLife.duration too_small",
    "potLife.mass not_a_number",
    "potLife.at too_small",
  ]);
});

test("what settles until the gel is the integral of the speed over the thickening, and nothing of what never gels", () => {
  // by Simpson's rule over cure: first order, (gel / (gel - a))^(1.5 + a) times as thick (Castro & Macosko)
  const powder = {
    grain: 30e-6,
    fillerDensity: 2700,
    liquidDensity: 1100,
    viscosity: 1,
    share: 0.3,
  };
  const [rate, gel] = [2e-4, 0.6];
  const law = makeRateLaw({ law: "nth-order", A: rate, E: 0, n: 1 });
  const f = (a: number) => Math.max(0, (gel - a) / gel) ** (1.5 + a) / (rate * (1 - a));
  for (const from of [0, 0.2]) {
    const n = 4000;
    const h = (gel - from) / n;
    let sum = f(from) + f(gel);
    for (let i = 1; i < n; i++) sum += (i % 2 === 1 ? 4 : 2) * f(from + i * h);
    const found = settledAtGel(powder, law, gel, 300, from)!;
    near(found.depth, settlingSpeed(powder) * (h / 3) * sum, 1e-5);
    near(found.gelTime, Math.log((1 - from) / (1 - gel)) / rate, 1e-6);
  }
  const stops = {
    ...law,
    evaluate(a: number, T: number, out: Float64Array) {
      law.evaluate(a, T, out);
      if (a > 0.3) out[0] = 0;
    },
  };
  expect(settledAtGel(powder, stops, gel, 300)).toBeNull();
  expect(settledAtGel(powder, stops, 0.25, 300)).not.toBeNull();
});

/** What every function of a cure may be given: the ranges that its description states, their ends included or not. */
import { describe, expect, test } from "vitest";
import { adiabaticRunaway, adiabaticTime } from "../../../lib/cure/adiabatic.ts";
import { calibrateCure } from "../../../lib/cure/calibrate.ts";
import { cupShape, cureInCup } from "../../../lib/cure/cup.ts";
import { agingSpeed, thermalDose } from "../../../lib/cure/dose.ts";
import { gelPoint, gelTime, workTime } from "../../../lib/cure/gel.ts";
import { glassTransition, vitrificationCure } from "../../../lib/cure/glass-transition.ts";
import { bondByTemperature, coldestFirstLayer, healingTime } from "../../../lib/cure/healing.ts";
import { cureAfter, timeToCure } from "../../../lib/cure/isothermal.ts";
import { makeRateLaw } from "../../../lib/cure/rate-laws.ts";
import {
  criticalLump,
  criticalRunaway,
  leastRunawayRise,
  pourRunawayNumber,
  runawayNumber,
  zeroOrderRunaway,
} from "../../../lib/cure/runaway.ts";
import { criticalRunawayArrhenius } from "../../../lib/cure/runaway-arrhenius.ts";
import { settledAtGel, settlingSpeed } from "../../../lib/cure/settling.ts";
import {
  cureAtThickening,
  fillerThickening,
  freshViscosity,
  thickening,
} from "../../../lib/cure/viscosity.ts";
import { glassMargin } from "../../../lib/models/pour/glass-margin.ts";
import { InputError } from "../../../lib/units/problem.ts";

/** `>` and `<`: the end itself is refused. */
type End = `${">" | ">=" | "<" | "<="}${number}`;
type Given = Readonly<Record<string, number>>;

interface Case {
  readonly what: string;
  readonly call: (given: Given) => unknown;
  readonly fine: Given;
  /** By the path that a problem names. */
  readonly limits: Readonly<Record<string, readonly End[]>>;
}

const law = makeRateLaw({ law: "nth-order", A: 1e4, E: 4e4, n: 1 });
const positive = (fine: Given) =>
  Object.fromEntries(Object.keys(fine).map((path) => [path, [">0"] as const]));
const BODY = { energy: 6e4, heatRate: 1000, half: 0.02, conductivity: 0.2, T: 298 };
const POUR = { heat: 3e8, half: 0.01, conductivity: 0.2, T: 298 };
const START = { T: 298, energy: 62e3, rise: 140, rate: 1.6e-5 };
const SHEET = {
  heat: 3e5,
  specificHeat: 1800,
  density: 1100,
  gel: 0.6,
  energyLow: 5e4,
  energyHigh: 6e4,
  cupLoss: 10,
  "potLife.duration": 1800,
  "potLife.mass": 0.1,
  "potLife.at": 298,
  "thinFilm.duration": 7200,
  "thinFilm.at": 298,
  "thinFilm.cure": 0.6,
  "peak.mass": 0.1,
  "peak.temperature": 420,
  "peak.at": 298,
};
const part = (g: Given, name: string) =>
  Object.fromEntries(
    Object.entries(g).flatMap(([path, value]) =>
      path.startsWith(`${name}.`) ? [[path.slice(name.length + 1), value]] : [],
    ),
  ) as never;

const CASES: readonly Case[] = [
  {
    what: "agingSpeed",
    call: (g) => agingSpeed(g["T"]!, g["reference"]!, g["energy"]),
    fine: { T: 460, reference: 450, energy: 150e3 },
    limits: { T: [">0", "<=1000"], reference: [">0", "<=1000"], energy: [">0", "<=500000"] },
  },
  {
    what: "thermalDose",
    call: (g) =>
      thermalDose([{ duration: g["heats[0].duration"]!, T: g["heats[0].T"]! }], {
        duration: g["observed.duration"]!,
        T: 450,
        energy: 150e3,
      }),
    fine: { "heats[0].duration": 60, "heats[0].T": 450, "observed.duration": 600 },
    limits: {
      "heats[0].duration": [">=0"],
      "heats[0].T": [">0", "<=1000"],
      "observed.duration": [">0"],
    },
  },
  {
    what: "healingTime",
    call: (g) => healingTime({ duration: g["duration"]!, T: 420, energy: g["energy"]! }, g["T"]!),
    fine: { duration: 1, energy: 80e3, T: 400 },
    limits: { duration: [">0"], energy: [">=0", "<=500000"], T: [">0", "<=1000"] },
  },
  {
    what: "bondByTemperature",
    call: (g) => bondByTemperature(g["T"]!, g["gate"], g["sure"]),
    fine: { T: 390, gate: 383, sure: 403 },
    limits: { T: [">0", "<=1000"], gate: [">0"], sure: [">=383", "<=1000"] },
  },
  {
    what: "coldestFirstLayer",
    call: (g) => coldestFirstLayer(g["gate"]!, g["second"]!),
    fine: { gate: 383, second: 443 },
    limits: { gate: [">0"], second: [">383", "<=1000"] },
  },
  {
    what: "settlingSpeed",
    call: (g) => settlingSpeed(g as never),
    fine: { grain: 1e-4, fillerDensity: 2700, liquidDensity: 1100, viscosity: 1, share: 0.2 },
    limits: {
      grain: [">0", "<=0.01"],
      fillerDensity: [">0", "<=30000"],
      liquidDensity: [">0", "<=30000"],
      viscosity: [">0"],
      share: [">=0", "<=0.7"],
    },
  },
  {
    what: "settledAtGel",
    call: (g) =>
      settledAtGel(
        { grain: 1e-4, fillerDensity: 2700, liquidDensity: 1100, viscosity: 1, share: 0.2 },
        law,
        g["gel"]!,
        g["T"]!,
        g["initial"],
      ),
    fine: { gel: 0.6, T: 320, initial: 0.1 },
    limits: { gel: [">0"], T: [">0", "<=1000"], initial: [">=0", "<0.6"] },
  },
  {
    what: "gelPoint",
    call: (g) => gelPoint(g["functionsA"]!, g["functionsB"]!, g["ratio"]),
    fine: { functionsA: 4, functionsB: 4, ratio: 0.9 },
    limits: { functionsA: [">1", "<=20"], functionsB: [">1", "<=20"], ratio: [">0", "<=1"] },
  },
  {
    what: "gelTime",
    call: (g) => gelTime(law, g["T"]!, g["to"]!, g["from"]),
    fine: { T: 320, to: 0.6, from: 0.1 },
    limits: { T: [">0", "<=2000"], to: [">0.1", "<1"], from: [">=0", "<1"] },
  },
  {
    what: "workTime",
    call: (g) => workTime(law, 320, g["gel"]!, 0, g["ratio"]),
    fine: { gel: 0.6, ratio: 10 },
    limits: { gel: [">0", "<=1"], ratio: [">1", "<=1000000000"] },
  },
  {
    what: "glassTransition",
    call: (g) =>
      glassTransition(
        { uncured: g["uncured"]!, cured: g["cured"]!, lambda: g["lambda"]! },
        g["cure"]!,
      ),
    fine: { uncured: 240, cured: 350, lambda: 0.4, cure: 0.5 },
    limits: { uncured: [">0"], cured: [">240"], lambda: [">0", "<=1"], cure: [">=0", "<=1"] },
  },
  {
    what: "vitrificationCure",
    call: (g) =>
      vitrificationCure({ uncured: 240, cured: 350, lambda: 0.4 }, g["T"]!, g["offset"]!),
    fine: { T: 300, offset: 0 },
    limits: { T: [">0"], offset: [] },
  },
  {
    what: "timeToCure",
    call: (g) => timeToCure(law, g["T"]!, { from: g["from"]!, to: g["to"]! }),
    fine: { T: 320, from: 0.1, to: 0.6 },
    limits: { T: [">0", "<=2000"], from: [">=0"], to: [">0.1", "<1"] },
  },
  {
    what: "cureAfter",
    call: (g) => cureAfter(law, g["T"]!, g["duration"]!, g["initial"]),
    fine: { T: 320, duration: 100, initial: 0.1 },
    limits: { T: [">0", "<=2000"], duration: [">=0"], initial: [">=0", "<=1"] },
  },
  {
    what: "cupShape",
    call: (g) => cupShape(g["mass"]!, g["density"]!),
    fine: { mass: 0.1, density: 1100 },
    limits: { mass: [">0", "<=10000"], density: [">0", "<=30000"] },
  },
  {
    what: "cureInCup",
    call: ({ gel, until, ...cup }) =>
      cureInCup({ law, density: 1100, mass: 0.1, ...cup } as never, gel!, until!),
    fine: {
      heat: 1e5,
      specificHeat: 1800,
      start: 298,
      room: 295,
      h: 10,
      gel: 0.6,
      until: 100,
      initial: 0.1,
    },
    limits: {
      heat: [">=0", "<=2000000"],
      specificHeat: [">0"],
      start: [">0", "<=1000"],
      room: [">0", "<=1000"],
      h: [">=0"],
      gel: [">0", "<=1"],
      until: [">0"],
      initial: [">=0", "<1"],
    },
  },
  ...[adiabaticTime, adiabaticRunaway].map(
    (of): Case => ({
      what: of.name,
      call: ({ T, rise, initial }) => of(law, { T: T!, rise: rise!, initial: initial! }, 0.99),
      fine: { T: 298, rise: 100, initial: 0.1 },
      limits: { T: [">0", "<=2000"], rise: [">=0", "<=2000"], initial: [">=0"] },
    }),
  ),
  {
    what: "freshViscosity",
    call: ({ T, ...known }) => freshViscosity(known as never, T!),
    fine: { viscosity: 1, at: 298, energy: 5e4, T: 310 },
    limits: { viscosity: [">0"], at: [">0"], energy: [">=0"], T: [">0"] },
  },
  {
    what: "thickening",
    call: (g) => thickening(g["cure"]!, g["gel"]!),
    fine: { cure: 0.3, gel: 0.6 },
    limits: { cure: [">=0", "<=1"], gel: [">0", "<=1"] },
  },
  {
    what: "cureAtThickening",
    call: (g) => cureAtThickening(g["ratio"]!, g["gel"]!),
    fine: { ratio: 10, gel: 0.6 },
    limits: { ratio: [">1", "<=1000000000"], gel: [">0", "<=1"] },
  },
  {
    what: "fillerThickening",
    call: (g) => fillerThickening(g["share"]!, g["packing"]!, g["intrinsic"]),
    fine: { share: 0.2, packing: 0.6, intrinsic: 2.5 },
    limits: { share: [">=0"], packing: ["<=1"], intrinsic: [">0"] },
  },
  {
    what: "criticalRunawayArrhenius",
    call: (g) => criticalRunawayArrhenius("slab", g["epsilon"]!),
    fine: { epsilon: 0.03 },
    limits: { epsilon: [">=0", "<=0.1"] },
  },
  {
    what: "criticalRunaway",
    call: (g) => criticalRunaway("slab", g["biot"]),
    fine: { biot: 2 },
    limits: { biot: [">0"] },
  },
  {
    what: "criticalLump",
    call: (g) => criticalLump(g["epsilon"]!),
    fine: { epsilon: 0.03 },
    limits: { epsilon: [">=0", "<0.25"] },
  },
  {
    what: "leastRunawayRise",
    call: (g) => leastRunawayRise(g["n"]!),
    fine: { n: 1 },
    limits: { n: [">=0", "<=10"] },
  },
  {
    what: "runawayNumber",
    call: (g) => runawayNumber(g as never),
    fine: BODY,
    limits: positive(BODY),
  },
  {
    what: "pourRunawayNumber",
    call: (g) => pourRunawayNumber(law, g as never),
    fine: POUR,
    limits: positive(POUR),
  },
  {
    what: "zeroOrderRunaway",
    call: (g) => zeroOrderRunaway(g as never),
    fine: START,
    limits: positive(START),
  },
  {
    what: "glassMargin",
    call: (g) => glassMargin(g["glass"]!, g["wallPeak"]!),
    fine: { glass: 325, wallPeak: 334 },
    limits: { glass: [">100", "<=700"], wallPeak: [">200", "<=700"] },
  },
  {
    what: "an order of n",
    call: (g) => makeRateLaw({ law: "nth-order", ...g } as never),
    fine: { A: 1e4, E: 4e4, n: 1 },
    limits: { A: [">=0"], E: [">=0", "<=500000"], n: [">0", "<=10"] },
  },
  {
    what: "an autocatalytic law",
    call: (g) => makeRateLaw({ law: "autocatalytic", ...g } as never),
    fine: { A1: 1e4, E1: 5e4, A2: 1e4, E2: 5e4, m: 1, n: 1, final: 0.9 },
    limits: {
      A1: [">=0"],
      E1: [">=0", "<=500000"],
      A2: [">=0"],
      E2: [">=0", "<=500000"],
      m: [">=0", "<=10"],
      n: [">0", "<=10"],
      final: [">0", "<=1.2"],
    },
  },
  {
    what: "a piecewise law",
    call: (g) => makeRateLaw({ law: "piecewise", ...g } as never),
    fine: { A1: 1e4, E1: 5e4, A2: -1e4, E2: 5e4, A3: 1e4, E3: 5e4, B: 1, switchAt: 0.5 },
    limits: {
      A1: [">=0"],
      E1: [">=0", "<=500000"],
      A2: [],
      E2: [">=0", "<=500000"],
      A3: [">=0"],
      E3: [">=0", "<=500000"],
      B: ["<=1.2"],
      switchAt: [">0"],
    },
  },
  {
    what: "a law of second order",
    call: (g) => makeRateLaw({ law: "second-order", ...g } as never),
    fine: { A: 10, E: 4e4, concentration: 4000, ratio: 1.1 },
    limits: {
      A: [">=0"],
      E: [">=0", "<=500000"],
      concentration: [">0", "<=100000"],
      ratio: [">=1", "<=1.2"],
    },
  },
  {
    what: "a law that slows down along a line",
    call: (g) =>
      makeRateLaw({
        law: "nth-order",
        A: 1e4,
        E: 4e4,
        n: 1,
        cap: { kind: "linear", ...(part(g, "cap") as object) } as never,
      }),
    fine: { "cap.C": 30, "cap.intercept": -1, "cap.slope": 0.005 },
    limits: { "cap.C": [">0", "<=1000"], "cap.intercept": [], "cap.slope": [">=0"] },
  },
  {
    what: "a law that slows down as it turns to glass",
    call: (g) =>
      makeRateLaw({
        law: "nth-order",
        A: 1e4,
        E: 4e4,
        n: 1,
        cap: { kind: "glass", ...(part(g, "cap") as object) } as never,
      }),
    fine: {
      "cap.C": 30,
      "cap.uncured": 240,
      "cap.cured": 350,
      "cap.lambda": 0.4,
      "cap.offset": 5,
    },
    limits: {
      "cap.C": [">0", "<=1000"],
      "cap.uncured": [">0"],
      "cap.cured": [">240"],
      "cap.lambda": [">0", "<=1"],
      "cap.offset": [">=-100", "<=200"],
    },
  },
  {
    what: "a data sheet",
    call: (g) =>
      calibrateCure({ ...g, law: { law: "nth-order", A: 1e4, E: 5e4, n: 1 } } as never, {
        potLife: part(g, "potLife"),
        thinFilm: part(g, "thinFilm"),
        peak: part(g, "peak"),
      }),
    fine: SHEET,
    limits: {
      heat: ["<=2000000"],
      specificHeat: [">0"],
      density: [">0"],
      gel: ["<1"],
      energyLow: [">0"],
      energyHigh: [">=50000"],
      cupLoss: [">=0"],
      "potLife.duration": [">0"],
      "potLife.mass": [">0"],
      "potLife.at": [">=250", "<=450"],
      "thinFilm.duration": [">0"],
      "thinFilm.cure": [">0", "<1"],
      "thinFilm.at": [">=250", "<=450"],
      "peak.mass": [">0"],
      "peak.temperature": [">298", "<=700"],
      "peak.at": [">=250", "<=450"],
    },
  },
];

/** What is wrong, as `path code`. */
function problemsOf(call: () => unknown): string[] {
  try {
    call();
    return [];
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return error.problems.map(({ path, code }) => `${path} ${code}`);
  }
}

const beyond = (end: End) => {
  const value = Number(end.replace(/[<>=]/g, ""));
  const step = Math.max(Math.abs(value), 1e-3) * 1e-9;
  const outside = end.startsWith(">") ? value - step : value + step;
  const code = end.startsWith(">") ? "too_small" : "too_big";
  return { value, outside, code, isIn: end.includes("=") };
};

describe.each(CASES)("$what", ({ call, fine, limits }) => {
  const given = (path: string, value: number) => problemsOf(() => call({ ...fine, [path]: value }));

  test("takes what is fine", () => {
    expect(problemsOf(() => call(fine))).toEqual([]);
  });
  test("refuses what is no number, each by its name", () => {
    for (const path of Object.keys(limits))
      for (const none of [Number.NaN, Number.NEGATIVE_INFINITY])
        expect(
          given(path, none).some((p) => p.startsWith(`${path} `)),
          path,
        ).toBe(true);
  });
  test("refuses what is beyond an end, and the end itself where it is not allowed", () => {
    for (const [path, ends] of Object.entries(limits))
      for (const end of ends) {
        const { value, outside, code, isIn } = beyond(end);
        expect(given(path, outside), `${path} ${end}`).toContain(`${path} ${code}`);
        const atEnd = given(path, value);
        if (isIn) expect(atEnd, `${path} ${end}`).not.toContain(`${path} ${code}`);
        else expect(atEnd, `${path} ${end}`).toContain(`${path} ${code}`);
      }
  });
  test("tells all that is wrong at once", () => {
    const wrong = Object.fromEntries(Object.keys(limits).map((path) => [path, Number.NaN]));
    const paths = problemsOf(() => call(wrong)).map((p) => p.split(" ")[0]);
    expect(paths).toEqual(expect.arrayContaining(Object.keys(limits)));
  });
});

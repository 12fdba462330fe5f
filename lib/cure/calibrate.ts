/**
 * A rate law from what a data sheet says: pot life of a mass, thin-film time, peak exotherm.
 *
 * Only speed and energy of a known law are moved; its shape stays. What the data sheet leaves open is carried along
 * as a slow and a fast law.
 *
 * Symbols: T K, times s, E J/mol, heat J/kg of mix.
 */
import { memoized } from "../numerics/memoized.ts";
import { findRoot } from "../numerics/roots.ts";
import { Checks } from "../units/check.ts";
import { GAS_CONSTANT } from "../units/constants.ts";
import { InputError } from "../units/problem.ts";
import { adiabaticTime } from "./adiabatic.ts";
import { CUP_LOSS, type Cup, cupGelTime, cureInCup, START } from "./cup.ts";
import { timeToCure } from "./isothermal.ts";
import type { RateSpec } from "./rate-form.ts";
import { makeTabulatedRateLaw } from "./tabulated.ts";

/** What a data sheet tells. At least one of the two times is needed. */
export interface DataSheet {
  /** Gels in a cup of `mass` kg after `duration` s, mixed and standing at `at` K. */
  readonly potLife?: { readonly duration: number; readonly mass: number; readonly at: number };
  /** A thin layer held at `at` K reaches `cure` (left out: the gel point) after `duration` s: gel or demold time. */
  readonly thinFilm?: { readonly duration: number; readonly at: number; readonly cure?: number };
  /** Hottest that a cup of `mass` kg gets, K, mixed and standing at `at` K. */
  readonly peak?: { readonly temperature: number; readonly mass: number; readonly at: number };
}

/** Published band of the activation energy of room-temperature epoxies, J/mol. */
export const ROOM_EPOXY = { low: 50e3, high: 65e3 } as const;

/** The mix, with a law of its kind to start from. */
export interface MixToCalibrate {
  readonly law: RateSpec;
  readonly heat: number;
  readonly specificHeat: number; // J/(kg K)
  readonly density: number; // kg/m3
  readonly gel: number;
  /** Published band of the activation energy, J/mol. Default: `ROOM_EPOXY`. */
  readonly energyLow?: number;
  readonly energyHigh?: number;
  /** Heat loss of the cup, W/(m2 K). Default 10: still air with radiation. */
  readonly cupLoss?: number;
}

/** A rate law that fits the figures, and how it was moved from the one started from. */
export interface Candidate {
  readonly spec: RateSpec;
  /** Rates at 25 degC over those of the law started from. */
  readonly scale: number;
  /** Of the leading term, J/mol. */
  readonly energy: number;
  readonly heat: number;
}

/** What the data sheet does not settle: codes of sentences. */
export type Unsettled =
  | "energy" // how much faster it gets when warmer
  | "heat"
  | "cup_loss" // how much heat the cup of the test lost
  | "thin_layer" // how slow it is where it can't warm itself
  | "facts_disagree"; // no law within the band meets all facts

/** The rate law that a data sheet's figures fix, and how far they leave it open. */
export interface Calibration extends Candidate {
  /** The slowest and the fastest law at room temperature that fit as well. */
  readonly slow: Candidate;
  readonly fast: Candidate;
  readonly unsettled: readonly Unsettled[];
}

const ROOM = 298.15;

/**
 * Fits a known rate law to a data sheet.
 *
 * The pot life is the time to the gel point of a cup as one lump that loses heat; the other limit, a cup that loses
 * none, gives the slow end. With a pot life and a thin-film time the energy follows too, within its published band;
 * with one of them it stays open and both ends of the band are kept. The peak sets the heat of reaction.
 *
 * @param mix law, heat J/kg, specific heat, density, gel cure
 * @param sheet at least a pot life or a thin-film time
 * @returns the most likely law, a slow and a fast one, and what stays open
 * @throws InputError when no time is given (`no_calibration`), or a figure is out of range
 * @example calibrateCure({ law: { law: "nth-order", A: 1e6, E: 55e3, n: 1 }, heat: 3e5, specificHeat: 1500, density:
 * 1100, gel: 0.6 }, { thinFilm: { duration: 7200, at: 298.15 } }).scale // 0.5499
 * @source lumped cup: Semenov 1928; that a gel test in a cup is nearly adiabatic: Richter & Macosko, Polym. Eng. Sci. 20 (1980) 921
 */
export function calibrateCure(mix: MixToCalibrate, sheet: DataSheet): Calibration {
  check(mix, sheet);
  const { low, high, own } = energiesOf(mix);
  const unsettled = new Set<Unsettled>();
  const both = sheet.potLife !== undefined && sheet.thinFilm !== undefined;
  if (!both) unsettled.add("energy");
  if (!sheet.peak) unsettled.add("heat");
  if (sheet.potLife) unsettled.add("cup_loss");
  if (!sheet.thinFilm) unsettled.add("thin_layer");

  const losses = sheet.potLife ? [lossOf(mix), 0] : [lossOf(mix)];
  const main = fitOne(mix, sheet, losses[0], own, unsettled);
  const candidates = losses.flatMap((loss) =>
    (both ? [own] : [low, high]).map((energy) => fitOne(mix, sheet, loss, energy, new Set())),
  );
  candidates.push(main);
  const roomTime = (c: Candidate) =>
    timeToCure(makeTabulatedRateLaw(c.spec), ROOM, { from: START, to: mix.gel }) ??
    Number.POSITIVE_INFINITY;
  candidates.sort((a, b) => roomTime(b) - roomTime(a));
  return {
    ...main,
    slow: candidates[0],
    fast: candidates[candidates.length - 1],
    unsettled: [...unsettled],
  };
}

/** The most likely law of `calibrateCure` alone, in a fifth of the time. */
export function likelyCure(mix: MixToCalibrate, sheet: DataSheet): Candidate {
  check(mix, sheet);
  return fitOne(mix, sheet, lossOf(mix), energiesOf(mix).own, new Set());
}

const energyBand = ({
  energyLow: low = ROOM_EPOXY.low,
  energyHigh: high = ROOM_EPOXY.high,
}: MixToCalibrate) => ({ low, high });

function energiesOf(mix: MixToCalibrate) {
  const { low, high } = energyBand(mix);
  return { low, high, own: Math.min(Math.max(leadingEnergy(mix.law), low), high) };
}

const lossOf = ({ cupLoss = CUP_LOSS }: MixToCalibrate): number => cupLoss;

/** One law for one assumption on the cup and, where the sheet does not give it, on the energy. */
function fitOne(
  mix: MixToCalibrate,
  sheet: DataSheet,
  loss: number,
  energy: number,
  unsettled: Set<Unsettled>,
): Candidate {
  const withHeat = (heat: number, notes = unsettled) =>
    fitTimes({ ...mix, heat }, sheet, loss, energy, notes);
  const { peak } = sheet;
  if (!peak) return withHeat(mix.heat);
  // heat: between none at all and twice the expected
  const miss = (heat: number) => {
    const { spec } = withHeat(heat, new Set()); // only the law found in the end may disagree
    const cup = cupOf({ ...mix, heat }, spec, peak.mass, peak.at, loss);
    const gelled = timeToCure(cup.law, peak.at, { from: START, to: mix.gel }) ?? 1e6;
    return cureInCup(cup, mix.gel, 3 * gelled).peak - peak.temperature;
  };
  const least = 0.2 * mix.heat;
  const most = 2 * mix.heat;
  if (miss(least) > 0 || miss(most) < 0) {
    unsettled.add("facts_disagree");
    return withHeat(miss(least) > 0 ? least : most);
  }
  return withHeat(findRoot(miss, least, most, 1e-3 * mix.heat));
}

function fitTimes(
  mix: MixToCalibrate,
  sheet: DataSheet,
  loss: number,
  energy: number,
  unsettled: Set<Unsettled>,
): Candidate {
  const { potLife, thinFilm } = sheet;
  if (!potLife) return fitFilm(mix, thinFilm!, energy);
  if (!thinFilm) return fitCup(mix, potLife, loss, energy);
  // both: the more a reaction speeds up with heat, the slower a film is for the same pot life
  const film = (E: number) => {
    const law = makeTabulatedRateLaw(fitCup(mix, potLife, loss, E).spec);
    const time = timeToCure(law, thinFilm.at, { from: START, to: thinFilm.cure ?? mix.gel });
    return Math.log((time ?? 1e12) / thinFilm.duration);
  };
  const { low, high } = energyBand(mix);
  const atLow = film(low);
  const atHigh = film(high);
  if (atLow * atHigh > 0) {
    unsettled.add("facts_disagree");
    return fitCup(mix, potLife, loss, Math.abs(atLow) < Math.abs(atHigh) ? low : high);
  }
  return fitCup(mix, potLife, loss, findRoot(film, low, high, 1));
}

function fitFilm(
  mix: MixToCalibrate,
  film: NonNullable<DataSheet["thinFilm"]>,
  energy: number,
): Candidate {
  const law = makeTabulatedRateLaw(moved(mix.law, 1, energy));
  const span = { from: START, to: film.cure ?? mix.gel, within: FILM_WITHIN };
  const time = timeToCure(law, film.at, span);
  if (time === null) throw neverGels(film.at);
  return candidate(mix, time / film.duration, energy);
}

/** Relative error of a step: of a thin film's time, and of times that only tell between which scales to look. */
const FILM_WITHIN = 1e-8;
const ENDS_WITHIN = 1e-4;
/** By so much, in logarithms, these scales are taken further apart. */
const ENDS_APART = 0.01;
/** A cup that is so late, in logarithms, is hardly followed to its gel. */
const LATEST = 4;
const MOST_SCALES = 64;
/** As close as the times of a cup are. */
const SCALE_WITHIN = 1e-6;

function fitCup(
  mix: MixToCalibrate,
  potLife: NonNullable<DataSheet["potLife"]>,
  loss: number,
  energy: number,
): Candidate {
  const { duration, at, mass } = potLife;
  const plain = moved(mix.law, 1, energy);
  const law = makeTabulatedRateLaw(plain);
  const rise = mix.heat / mix.specificHeat;
  // time goes with 1/scale in both limits: a cup without loss is the quickest, a thin film the slowest
  const keepsHeat = loss === 0 || mix.heat === 0;
  const closely = keepsHeat ? {} : { within: ENDS_WITHIN };
  const quickest = adiabaticTime(law, { T: at, rise, initial: START, ...closely }, mix.gel);
  const slowest = timeToCure(law, at, { from: START, to: mix.gel, ...closely });
  if (quickest === null || slowest === null) throw neverGels(at);
  const fewest = quickest / duration;
  if (keepsHeat) return candidate(mix, fewest, energy);
  const cup = cupOf(mix, plain, mass, at, loss);
  const known = new Map<number, number>();
  // all rates times the scale is the same course in less time, in which as much less is lost: one law serves every scale
  const late = (logScale: number) =>
    memoized(known, logScale, MOST_SCALES, () => {
      const scale = Math.exp(logScale);
      const most = 100 * duration * scale;
      const time = cupGelTime({ ...cup, h: loss / scale }, mix.gel, most) ?? most;
      return Math.log(time / (scale * duration));
    });
  const low = Math.log(fewest) - ENDS_APART;
  // twice the scale is less than half of the time: there is less time to lose heat
  const gained = late(low) < LATEST ? low + late(low) : Number.POSITIVE_INFINITY;
  const high = Math.min(gained, Math.log(slowest / duration)) + ENDS_APART;
  return candidate(mix, Math.exp(findRoot(late, low, high, SCALE_WITHIN)), energy);
}

function candidate(mix: MixToCalibrate, scale: number, energy: number): Candidate {
  return { spec: moved(mix.law, scale, energy), scale, energy, heat: mix.heat };
}

function cupOf(mix: MixToCalibrate, spec: RateSpec, mass: number, at: number, h: number): Cup {
  return {
    law: makeTabulatedRateLaw(spec),
    heat: mix.heat,
    specificHeat: mix.specificHeat,
    density: mix.density,
    mass,
    start: at,
    room: at,
    h,
    initial: START,
  };
}

/** Activation energy of the term that carries most of the reaction, J/mol. */
export function leadingEnergy(spec: RateSpec): number {
  if (spec.law === "nth-order" || spec.law === "second-order") return spec.E;
  if (spec.law === "piecewise") return spec.E3;
  return spec.A2 > 0 ? spec.E2 : spec.E1;
}

/**
 * The same law, `scale` times as fast at 25 degC and with its leading energy moved to `energy`; the other energies
 * move by as much.
 *
 * @param scale > 0
 * @param energy J/mol
 * @throws InputError when scale or energy is out of range
 */
export function moved(spec: RateSpec, scale: number, energy: number): RateSpec {
  const checks = new Checks();
  checks.number("scale", scale, { above: 0, most: 1e12 });
  checks.number("energy", energy, { above: 0, most: 500e3 });
  checks.done();
  const shift = energy - leadingEnergy(spec);
  const factor = scale * Math.exp(shift / (GAS_CONSTANT * ROOM));
  switch (spec.law) {
    case "nth-order":
    case "second-order":
      return { ...spec, A: spec.A * factor, E: spec.E + shift };
    case "piecewise":
      return {
        ...spec,
        A1: spec.A1 * factor,
        A2: spec.A2 * factor,
        A3: spec.A3 * factor,
        E1: spec.E1 + shift,
        E2: spec.E2 + shift,
        E3: spec.E3 + shift,
      };
    default:
      return {
        ...spec,
        A1: spec.A1 * factor,
        A2: spec.A2 * factor,
        E1: spec.A1 === 0 ? spec.E1 : spec.E1 + shift,
        E2: spec.A2 === 0 ? spec.E2 : spec.E2 + shift,
      };
  }
}

function neverGels(at: number): InputError {
  return new InputError([{ code: "never_gels", path: "law", given: at }]);
}

function check(mix: MixToCalibrate, sheet: DataSheet): void {
  const checks = new Checks();
  checks.number("heat", mix.heat, { least: 0, most: 2e6 });
  checks.number("specificHeat", mix.specificHeat, { above: 0 });
  checks.number("density", mix.density, { above: 0 });
  checks.number("gel", mix.gel, { above: START, below: 1 });
  const { low, high } = energyBand(mix);
  checks.number("energyLow", low, { above: 0 });
  checks.number("energyHigh", high, { least: low });
  checks.number("cupLoss", mix.cupLoss ?? CUP_LOSS, { least: 0 });
  const { potLife, thinFilm, peak } = sheet;
  const temperature = (path: string, T: number) =>
    checks.number(path, T, { least: 250, most: 450 });
  if (potLife) {
    checks.number("potLife.duration", potLife.duration, { above: 0 });
    checks.number("potLife.mass", potLife.mass, { above: 0 });
    temperature("potLife.at", potLife.at);
  }
  if (thinFilm) {
    checks.number("thinFilm.duration", thinFilm.duration, { above: 0 });
    checks.number("thinFilm.cure", thinFilm.cure ?? mix.gel, { above: START, below: 1 });
    temperature("thinFilm.at", thinFilm.at);
  }
  if (peak) {
    checks.number("peak.mass", peak.mass, { above: 0 });
    checks.number("peak.temperature", peak.temperature, { above: peak.at, most: 700 });
    temperature("peak.at", peak.at);
  }
  if (!potLife && !thinFilm) checks.add({ code: "no_calibration", path: "potLife" });
  checks.done();
}

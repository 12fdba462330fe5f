/**
 * The mixed resin of a pour: its heat, its speed and its bands, for one corner of what is known.
 *
 * SI: k W/(m K), rho kg/m3, cp J/(kg K), heat J/kg of the whole mix, T K, E J/mol, times s.
 */
import type { IgnoredCode } from "../../answers/answer.ts";
import {
  type DataSheet,
  likelyCure,
  type MixToCalibrate,
  ROOM_EPOXY,
} from "../../cure/calibrate.ts";
import type { GlassTransition } from "../../cure/glass-transition.ts";
import { publishedLaw } from "../../cure/published.ts";
import type { RateSpec } from "../../cure/rate-form.ts";
import { makeTabulatedRateLaw } from "../../cure/tabulated.ts";
import type { Job } from "../../job/types.ts";
import type { MaterialEntry, Pick, ResinTraits, Spread } from "../../materials/entry.ts";
import type { Material } from "../../materials/material.ts";
import { drawn, drawnAboveZero, drawnAsRatio } from "../../numerics/deviates.ts";
import { InputError } from "../../units/problem.ts";
import { type Mix, mixOf } from "./mix.ts";

/** An end of a band, or a standard normal deviate along it. */
type Place = Pick | number;
type Ends = Omit<Spread, "source" | "guess">;

/** Which place of each band is taken. `speed: "high"`, or above 0, is a fast hardener. */
export interface ResinCorner {
  readonly speed: Place;
  readonly energy: Place;
  readonly heat: Place;
  readonly conductivity: Place;
}

/** Above this no pour is recommended, K: it foams, cracks and smokes (common practice, no source). */
export const TOO_HOT = 373.15;

/** What a pour is held to, K: a limit of the job that is higher does not make smoke any milder. */
export const peakLimit = ({ limits }: Job): number => Math.min(limits.peak, TOO_HOT);

/** A limit of the job that is passed over, for it is higher than that. */
export const ignoredByPeak = ({ limits }: Job): IgnoredCode[] =>
  limits.peak > TOO_HOT ? ["peak_limit"] : [];

export const LIKELY_RESIN: ResinCorner = {
  speed: "value",
  energy: "value",
  heat: "value",
  conductivity: "value",
};

/** What an alternative changes of the mix. */
export interface ResinChange {
  /** Times of the hardener multiplied by this: 2 is a hardener of twice the pot life. */
  readonly slower?: number;
  /** Share of the volume that is dry metal granules. */
  readonly granules?: number;
}

export interface PouredResin {
  readonly material: Material;
  readonly spec: RateSpec;
  readonly mix: Mix;
  /** Heat of full cure, J/kg of everything poured. */
  readonly heat: number;
  readonly conductivity: number;
  readonly specificHeat: number;
  readonly density: number;
  readonly gel: number;
  readonly glass: GlassTransition;
  /** Leading activation energy, J/mol. */
  readonly energy: number;
}

/** Makes the resin of a corner; each is calibrated once. */
export type ResinMaker = (corner: ResinCorner, change?: ResinChange) => PouredResin;

/** How far the glass transition outruns the temperature before the reaction all but stops, K; a dial. */
export const VITRIFICATION_OFFSET = 12;
/** Sharpness of the cap; 20 to 40 is published. */
const CAP_SHARPNESS = 30;
/** A pot life is read off by hand: this share to either side (common practice, no source). */
const TIMING = 0.15;
/** Pot life by the word for the hardener, against the catalog's: a guess, and a dial. */
const HARDENER_WORDS = { fast: 0.4, medium: 1, slow: 3 } as const;

/**
 * What the job says of its resin, ready to be taken at any corner.
 *
 * @param options `vitrification: false` leaves the slowing by glass out: for comparing with models that do
 * @throws InputError when the material does not cure (`wrong_material`), or the filler does not fit in
 */
export function resinMaker(job: Job, options: { vitrification?: boolean } = {}): ResinMaker {
  const { pour } = job;
  const traits = resinTraits(pour.material, "pour.material");
  const published = publishedLaw(traits.law);
  const measured = job.uncertainty.materials === "measured";
  const glass: GlassTransition = {
    uncured: traits.glassUncured.value,
    cured: traits.glassCured.value,
    lambda: traits.glassCurvature.value,
  };
  const capped = options.vitrification !== false && glass.cured > 270;
  const law: RateSpec = capped
    ? {
        ...published.spec,
        cap: { kind: "glass", C: CAP_SHARPNESS, ...glass, offset: VITRIFICATION_OFFSET },
      }
    : published.spec;
  const energies = energyBand(traits);
  const heats = heatOfMix(traits.heatOfReaction, pour);
  const made = new Map<string, PouredResin>();
  const at: ResinMaker = (corner, change = {}) => {
    const key = JSON.stringify([corner, change]);
    const known = made.get(key);
    if (known) return known;
    const mix = mixOf(job, change.granules ?? pour.granules);
    const gel = traits.gelCure.value;
    // the ends of bad luck are the resin's own: that the share of powder is off besides is told as left out
    const spread = typeof corner.heat === "number" ? heats : traits.heatOfReaction;
    const heat = picked(spread, corner.heat, measured);
    // what the data sheet was measured on: without the granules
    const plain = mixOf(job, 0);
    const toFit: MixToCalibrate = {
      law,
      heat: heat * plain.resinMassShare,
      specificHeat: plain.specificHeat,
      density: plain.density,
      gel,
      ...energyChoice(energies, corner.energy, job, () => at(LIKELY_RESIN).energy),
    };
    const calibrated = likelyCure(toFit, dataSheet(job, traits, corner.speed, change));
    const ofMix = (calibrated.heat / plain.resinMassShare) * mix.resinMassShare;
    const conductivity = pickedAsRatio(mix.conductivity, corner.conductivity, measured);
    const resin: PouredResin = {
      material: {
        name: "resin",
        conductivity,
        density: mix.density,
        specificHeat: mix.specificHeat,
        cure: {
          law: makeTabulatedRateLaw(calibrated.spec),
          heat: ofMix,
          initial: published.initial,
        },
      },
      spec: calibrated.spec,
      mix,
      heat: ofMix,
      conductivity,
      specificHeat: mix.specificHeat,
      density: mix.density,
      gel,
      glass,
      energy: calibrated.energy,
    };
    made.set(key, resin);
    return resin;
  };
  return at;
}

export function resinTraits(entry: MaterialEntry, path: string): ResinTraits {
  if (!entry.resin) throw new InputError([{ code: "wrong_material", path, given: entry.name }]);
  return entry.resin;
}

/** One place of a spread; what was measured has half the catalog's. */
function picked(spread: Ends, place: Place, measured: boolean): number {
  const { value } = spread;
  const left = measured ? 0.5 : 1;
  if (typeof place === "number") return drawnAboveZero(spread, left * place);
  return value + (spread[place] - value) * left;
}

/** The same of what is known to a factor. */
function pickedAsRatio(spread: Ends, place: Place, measured: boolean): number {
  if (typeof place !== "number") return picked(spread, place, measured);
  return drawnAsRatio(spread, measured ? place / 2 : place);
}

/**
 * Heat of reaction, J/kg of resin, with the spread of what the mix makes of it: of a resin that is sold filled nobody knows the
 * share of powder either, unless the job says it. Both spreads at once, independent of each other.
 */
function heatOfMix(
  { value, low, high }: Ends,
  { material: { filler }, fillerMassShare }: Job["pour"],
): Ends {
  if (fillerMassShare !== null || !filler) return { value, low, high };
  const share = filler.volumeShare;
  // a volume makes as much heat as there is resin in it
  const of = (end: "low" | "high") => (1 - share[end]) / (1 - share.value) - 1;
  const wider = (own: number, other: number) => Math.hypot(own / value - 1, other);
  return {
    value,
    low: value * (1 - wider(low, of("high"))),
    high: value * (1 + wider(high, of("low"))),
  };
}

function energyBand(traits: ResinTraits): { low: number; high: number } {
  const { low, value, high } = traits.activationEnergy;
  const roomEpoxy = value > ROOM_EPOXY.low && value < ROOM_EPOXY.high;
  if (!roomEpoxy) return { low, high };
  return { low: Math.min(low, ROOM_EPOXY.low), high: Math.max(high, ROOM_EPOXY.high) };
}

/** With two times on the data sheet the energy follows from them, within its band. */
function energyChoice(
  band: { low: number; high: number },
  place: Place,
  job: Job,
  likely: () => number,
): { energyLow: number; energyHigh: number } {
  const settled = job.pour.potLife !== null && job.pour.thinFilm !== null;
  if (settled || place === "value") return { energyLow: band.low, energyHigh: band.high };
  const energy =
    typeof place === "number" ? drawn({ ...band, value: likely() }, place) : band[place];
  return { energyLow: energy, energyHigh: energy };
}

/** Times of a data sheet as they may have been read off, against what it says. */
const READ_OFF: Ends = { value: 1, low: 1 - TIMING, high: 1 + TIMING };

/** A fast hardener has short times. */
function opposite(speed: Place): Place {
  if (typeof speed === "number") return -speed;
  return speed === "high" ? "low" : speed === "low" ? "high" : "value";
}

function dataSheet(
  job: Job,
  traits: ResinTraits,
  speed: Place,
  { slower = 1 }: ResinChange,
): DataSheet {
  const { potLife, thinFilm, peakExotherm, hardener } = job.pour;
  const stretched = slower * picked(READ_OFF, opposite(speed), false);
  const peak = peakExotherm
    ? { ...peakExotherm, at: potLife?.at ?? thinFilm?.at ?? 298.15 }
    : undefined;
  const given = peak === undefined ? {} : { peak };
  if (potLife || thinFilm)
    return {
      ...(potLife && {
        potLife: { duration: potLife.time * stretched, mass: potLife.mass, at: potLife.at },
      }),
      ...(thinFilm && { thinFilm: { duration: thinFilm.time * stretched, at: thinFilm.at } }),
      ...given,
    };
  // the catalog's: its short end is the fast hardener
  const usual = pickedAsRatio(traits.potLife, opposite(speed), false);
  const duration = usual * HARDENER_WORDS[hardener] * slower;
  return { potLife: { duration, mass: traits.potLifeMass, at: 298.15 }, ...given };
}

/** The times that tell how fast the job's resin is, at one place of their range. @param speed `high`: a fast hardener */
export function sheetTimes(job: Job, speed: Place): DataSheet {
  return dataSheet(job, resinTraits(job.pour.material, "pour.material"), speed, {});
}

/** A word for the hardener that says something beside a time of the sheet, which goes before it. */
export function ignoredBySheet(job: Job): IgnoredCode[] {
  return isCalibrated(job) && job.pour.hardener !== "medium" ? ["hardener_word"] : [];
}

/** Of a resin that is sold filled how much powder is in it, where the job does not say. */
export function ignoredByFiller({ pour }: Job): IgnoredCode[] {
  return pour.fillerMassShare === null && pour.material.filler ? ["filler_share"] : [];
}

/** true when the job itself says how fast its hardener is. */
export function isCalibrated(job: Job): boolean {
  return job.pour.potLife !== null || job.pour.thinFilm !== null;
}

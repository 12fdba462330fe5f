/** How much of A and B for each pour, and is the scale good enough? SI. */

import type { Answer, Lever, Quantified, Reason } from "../../answers/answer.ts";
import type { Job, MixPour } from "../../job/types.ts";
import { castingCautions } from "../../models/cautions.ts";
import { type PlasticMix, plasticMix } from "../../models/plastic-mix.ts";
import { batchMaySmoke } from "../../models/pour/batch.ts";
import { everyPour } from "../../models/pour/every-pour.ts";
import { type PotLife, potLifeOf } from "../../models/pour/pot-life.ts";
import { ignoredBySheet } from "../../models/pour/resin.ts";
import { formatQuantity } from "../../units/format.ts";
import { InputError, type Problem, tried } from "../../units/problem.ts";
import { type MassRatio, ratioByMass, ratioByVolume, ratioError, smallestBatch } from "./batch.ts";

/** One pour of a mix: its parts, and what the scale does to their ratio. Masses in kg, volumes in m3. */
export interface MixedPour {
  readonly name: string;
  /** Name of the material. */
  readonly material: string;
  /** To fill, m3, without the excess. */
  readonly volume: number;
  /** To mix, kg, excess included. */
  readonly mass: number;
  readonly massA: number;
  readonly massB: number;
  /** Of `mass`, what is mixed in excess, kg. */
  readonly waste: number;
  /** Parts of B to 100 parts of A by mass. */
  readonly byMass: number;
  /** The same by volume; null when the densities of the two parts are not known. */
  readonly byVolume: number | null;
  /** Error that results when the figures of `byMass` are measured out by volume or the other way round, share; null: unknown. */
  readonly mixedUp: number | null;
  /** Smallest batch that this scale mixes within the tolerance, kg. */
  readonly smallestBatch: number;
  /** The same for errors of 3 % and 5 %. */
  readonly smallestBy: readonly { readonly tolerance: number; readonly mass: number }[];
  /**
   * From the moment of mixing, s, for `mass` kg standing at `at` K: of the resin of the job's pour as its sheet, its film or
   * its hardener has it, of another as the catalog does; null: that knows none.
   */
  readonly potLife: (Quantified & Pick<PotLife, "mass" | "at">) | null;
  /** Worst error of the ratio for this batch on this scale, share. */
  readonly ratioError: number;
  /** False: too small a batch, or too coarse a scale. */
  readonly scaleIsEnough: boolean;
  /** False: A or B is lighter than one step of the scale. */
  readonly canBeWeighed: boolean;
  /** The smallest batch for this scale may itself smoke in its cup: no way out. */
  readonly smallestBatchMaySmoke: boolean;
  /** Coarsest step of a scale that would do, kg. */
  readonly coarsestScale: number;
}

/** What to weigh for each pour, and whether the scale is good enough. Masses in kg. */
export interface MixContent {
  readonly pours: readonly MixedPour[];
  /** The plastic of the shots of one evening, in all its molds. */
  readonly plastic: PlasticMix;
  /** Of all pours, kg. */
  readonly mass: number;
  readonly decidedBy: Reason | null;
  readonly levers: readonly Lever[];
}

/** The answer to `mix`. */
export type MixAnswer = Answer<"mix", MixContent>;

/**
 * Volume, mass of A and B, and the smallest sensible batch, for each pour of a job.
 *
 * A job that lists no pour is asked about all on the way to its bait: both halves (by the mass of `pour`, else the box
 * filled to the depth less the masters), the masters, the silicone for them; and what is stirred into the plastic. The
 * density of a mix follows from those of its two parts where both are given, else it is the catalog's (within 5 to
 * 10 %): weigh the first cup.
 *
 * @param job from `readJob`
 * @returns masses kg, volumes m3
 * @throws InputError with what is wrong with every pour: it has neither volume nor box (`volume_or_box`), or both and they
 *   differ (`volume_differs`), masters leave no room in the box (`masters_fill_box`), a ratio by volume has no densities
 *   (`densities_missing`); and when additions leave too little plastic
 * @example mix(readJob("bait: { thickness: 16 mm }\nmix: { pours: [{ material: polyurethane, volume: 100 ml, ratio: '100:90', waste: 0 % }] }").job).answer.pours[0].byMass // 90
 */
export function mix(job: Job): MixAnswer {
  const asked = job.mix.pours.length > 0 ? job.mix.pours : everyPour(job);
  const problems: Problem[] = [];
  const pours = asked.flatMap(
    (pour, i) => tried(problems, () => mixed(job, pour, `mix.pours[${i}]`)) ?? [],
  );
  // those on the way to the bait have their volumes by mass
  job.mix.pours.forEach((pour, i) => {
    boxProblem(pour, `mix.pours[${i}]`, problems);
  });
  const plastic = tried(problems, () => plasticMix(job, job.run.shots * job.run.molds));
  if (plastic === undefined || problems.length > 0) throw new InputError(problems);
  const short = pours.filter((pour) => !pour.scaleIsEnough);
  const heaps = asked.some(({ material }, i) => batchMaySmoke(job, material, pours[i].mass));
  const hasHalf = asked.some(
    ({ densityA, densityB }) => (densityA === null) !== (densityB === null),
  );
  // of the pour's own resin alone its sheet is told
  const isPours = asked.some(({ material }) => material.name === job.pour.material.name);
  const cautions = new Set(asked.flatMap(({ material }) => castingCautions(material)));
  return {
    question: "mix",
    answer: {
      pours,
      plastic,
      mass: pours.reduce((sum, pour) => sum + pour.mass, 0),
      decidedBy: short.length > 0 ? { code: "scale_step", name: short[0].name } : null,
      levers: short.length > 0 ? waysOut(short) : [],
    },
    cautions: [...(heaps ? (["batch_may_smoke"] as const) : []), ...cautions],
    ignored: [
      "mixing_faults",
      ...(isPours ? ignoredBySheet(job) : []),
      ...(hasHalf ? (["one_density"] as const) : []),
    ],
    effort: { cells: 0, steps: 0, energyImbalance: 0 },
  };
}

/** A larger batch is one only where it serves every pour that is too small, and smokes in none. */
function waysOut(short: readonly MixedPour[]): Lever[] {
  const smokes = short.some(({ smallestBatchMaySmoke }) => smallestBatchMaySmoke);
  return [...(smokes ? [] : [{ code: "larger_batch" } as const]), finerScale(short)];
}

/** The coarsest scale that serves every pour, by the steps in which scales are sold. */
function finerScale(short: readonly MixedPour[]): Lever {
  const most = Math.min(...short.map(({ coarsestScale }) => coarsestScale));
  const power = 10 ** Math.floor(Math.log10(most) + 1e-9);
  const digit = [5, 2].find((step) => step * power <= most * (1 + 1e-9)) ?? 1;
  return {
    code: "finer_scale",
    change: { path: "mix.scale", kind: "mass", to: Number((digit * power).toPrecision(1)) },
  };
}

function mixed(job: Job, pour: MixPour, path: string): MixedPour {
  const step = job.mix.scale;
  const { densityA, densityB, material } = pour;
  const known = densityA !== null && densityB !== null;
  const problems: Problem[] = [];
  if (pour.ratio.by === "volume" && !known)
    problems.push({
      code: "densities_missing",
      path: densityA === null ? `${path}.densityA` : `${path}.densityB`,
    });
  const volume = volumeOf(pour, path, problems);
  if (problems.length > 0) throw new InputError(problems);
  const ratio: MassRatio =
    pour.ratio.by === "weight"
      ? { a: pour.ratio.a, b: pour.ratio.b }
      : ratioByMass(pour.ratio, densityA!, densityB!);
  const parts = ratio.a + ratio.b;
  // what both data sheets say goes before the catalog; parts mixed keep their volumes
  const density = known
    ? parts / (ratio.a / densityA + ratio.b / densityB)
    : material.density.value;
  const needed = volume * density;
  const mass = needed * (1 + pour.waste);
  const byMass = (100 * ratio.b) / ratio.a;
  const byVolume = known ? ratioByVolume(ratio, densityA, densityB).b : null;
  const error = ratioError(mass, ratio, step);
  const smallest = smallestBatch(ratio, step, pour.tolerance);
  const isShort = error > pour.tolerance;
  const potLife = potLifeOf(job, material);
  return {
    name: pour.name,
    material: material.name,
    volume,
    mass,
    massA: (mass * ratio.a) / parts,
    massB: (mass * ratio.b) / parts,
    waste: mass - needed,
    byMass,
    byVolume,
    mixedUp: byVolume === null ? null : Math.abs(byVolume / byMass - 1),
    smallestBatch: smallest,
    smallestBy: [0.03, 0.05].map((tolerance) => ({
      tolerance,
      mass: smallestBatch(ratio, step, tolerance),
    })),
    potLife: potLife && { ...potLife, kind: "duration" },
    ratioError: error,
    scaleIsEnough: !isShort,
    canBeWeighed: mass * Math.min(ratio.a, ratio.b) >= step * parts,
    smallestBatchMaySmoke: isShort && batchMaySmoke(job, material, smallest),
    coarsestScale: (step * pour.tolerance) / error,
  };
}

/** A volume and a box that say it differently by more than this are two pours, share. */
const SAME_VOLUME = 0.1;

function boxProblem({ volume, box, less }: MixPour, path: string, problems: Problem[]): void {
  if (volume === null || box === null) return;
  const held = box.length * box.width * box.height - less;
  if (Math.abs(volume / held - 1) <= SAME_VOLUME) return;
  problems.push({
    code: "volume_differs",
    path: `${path}.volume`,
    given: formatQuantity(volume, "volume"),
    possible: [formatQuantity(Math.max(0, held), "volume")],
  });
}

function volumeOf(pour: MixPour, path: string, problems: Problem[]): number {
  if (pour.volume !== null) return pour.volume;
  if (pour.box === null) {
    problems.push({ code: "volume_or_box", path: `${path}.volume` });
    return 0;
  }
  const { length, width, height } = pour.box;
  const box = length * width * height;
  if (!(pour.less < box)) {
    problems.push({
      code: "masters_fill_box",
      path: `${path}.less`,
      given: formatQuantity(pour.less, "volume"),
      most: `${belowInFigures(box * 1e6)} ml`,
    });
    return 0;
  }
  return box - pour.less;
}

/** The largest number of three figures that is less. */
function belowInFigures(x: number): number {
  const power = 10 ** (Math.floor(Math.log10(x)) - 2);
  return Number(((Math.ceil(x / power - 1e-9) - 1) * power).toPrecision(3));
}

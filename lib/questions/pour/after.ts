/** After the pour: the first shot, the post-cure, and how far the powder sank. T K, times s. */

import type { Range } from "../../confidence/range.ts";
import { settledAtGel } from "../../cure/settling.ts";
import { freshViscosity } from "../../cure/viscosity.ts";
import { contactTemperature } from "../../formulas/contact.ts";
import type { Job } from "../../job/types.ts";
import { type StandIn, standInOf } from "../../models/bait/bar.ts";
import { isRubber, type PourCourse } from "../../models/pour/course.ts";
import { PACKING } from "../../models/pour/mix.ts";
import type { PourSetting } from "../../models/pour/problem.ts";
import { type PouredResin, resinTraits } from "../../models/pour/resin.ts";
import { warmerHalf } from "../../models/start.ts";
import { monotoneCubic } from "../../numerics/monotone.ts";
import { cureAfterProgram, postCureRamp } from "./cold.ts";

/** What a first shot does to a mold that is shot as soon as it may be clamped. */
export interface FirstShot {
  /** What the shot alone warms its face to, K. */
  readonly face: number;
  /** Glass transition by then, its low end, K. */
  readonly bears: number;
  readonly holds: boolean;
}

/** Volume of a bait against that of so thick a wall around it: of a bar the ring, of a sheet both sides. */
function bodyToWall({ form, across }: StandIn, wall: number): number {
  const half = across / 2;
  return form === "flat" ? half / wall : half ** 2 / ((half + wall) ** 2 - half ** 2);
}

/** @param glassReached of the mold left in its room; null: a rubber, or never to be clamped */
export function firstShotOn(
  job: Job,
  resin: PouredResin,
  { milestones, hardening: { t, glass } }: PourCourse,
  glassReached: Range,
): FirstShot | null {
  if (milestones.clamp === null || isRubber(resin.glass)) return null;
  const { shot, mold, run } = job;
  const { conductivity, density, specificHeat } = shot.material;
  const plastic = {
    k: conductivity.value,
    c: density.value * specificHeat.value,
    T: shot.temperature,
  };
  const wall = {
    k: resin.conductivity,
    c: resin.density * resin.specificHeat,
    T: Math.max(warmerHalf(job), run.preheat ?? 0),
  };
  // a thin wall around a fat bait is warmed through: both come to one temperature, before the room has any of it
  const mixed = Math.max(
    ...job.bait.stations.map((station) => {
      const held = bodyToWall(standInOf(station), mold.wall) * (plastic.c / wall.c);
      return (held * plastic.T + wall.T) / (held + 1);
    }),
  );
  const face = Math.max(contactTemperature(plastic, wall), mixed);
  // a slower resin is clamped later, as hard as this one then, or is all that it ever gets to be
  const bears = Math.min(monotoneCubic(t, glass)(milestones.clamp), glassReached.low);
  return { face, bears, holds: bears > face };
}

export interface PostCure {
  /** Fastest even ramp, K/s, to `to`; `duration` Infinity: the resin never gets there. */
  readonly to: number;
  readonly ramp: number;
  readonly duration: number;
  /** Glass transition after a hold, K: of the job's own program when it has one. */
  readonly hold: number;
  readonly glassReached: number;
  /** Most that the job's program gets over the glass transition of the moment, K: positive, it sags; null without. */
  readonly outruns: number | null;
}

/** Where a mold is usually post-cured when the job does not say (common practice, no source). */
const USUAL = { temperature: 353.15, hold: 4 * 3600 } as const;

export function postCureOf(job: Job, resin: PouredResin, course: PourCourse): PostCure | null {
  if (resin.glass.cured < 270) return null;
  const own = job.pour.postCure;
  const last = own[own.length - 1];
  const to = Math.max(last?.temperature ?? USUAL.temperature, job.room.temperature);
  const { law } = resin.material.cure!;
  const start = { cure: course.cureReached, from: job.room.temperature };
  const { ramp, duration } = postCureRamp(law, resin.glass, start, to);
  const program =
    own.length > 0 ? own : [{ ...USUAL, ramp: Number.isFinite(duration) ? duration : 24 * 3600 }];
  const after = cureAfterProgram(law, resin.glass, { cure: start.cure, T: start.from }, program);
  return {
    to,
    ramp,
    duration,
    hold: last?.hold ?? USUAL.hold,
    glassReached: after.glass,
    outruns: own.length > 0 ? after.outruns : null,
  };
}

export interface FillerReport {
  readonly massShare: number;
  readonly volumeShare: number;
  readonly granules: number;
  /** W/(m K). */
  readonly conductivity: Range;
  /** Clear resin on top when it gels, m, for the usual, finest and coarsest grain; null: it never gels. */
  readonly settled: Range | null;
}

export function fillerOf(job: Job, resin: PouredResin, setting: PourSetting): FillerReport | null {
  const { mix } = resin;
  if (mix.filler === null && mix.granules === 0) return null;
  const { value, low, high } = mix.conductivity;
  return {
    massShare: mix.fillerMassShare,
    volumeShare: mix.fillerVolumeShare,
    granules: mix.granules,
    conductivity: { value, low, high },
    settled: mix.filler === null ? null : settledRange(job, resin, setting),
  };
}

function settledRange(
  job: Job,
  resin: PouredResin,
  { room, stock, depth }: PourSetting,
): Range | null {
  const { filler, fillerVolumeShare } = resin.mix;
  const traits = resinTraits(job.pour.material, "pour.material");
  // a pour takes the temperature of the room long before it gels
  const T = Math.max(room, Math.min(stock, room + 5));
  const sunk = (grain: number) => {
    const settled = settledAtGel(
      {
        grain,
        fillerDensity: filler!.density.value,
        liquidDensity: filler!.matrix.density.value,
        viscosity: freshViscosity(
          { viscosity: traits.viscosity.value, at: 298.15, energy: traits.viscosityEnergy.value },
          T,
        ),
        share: fillerVolumeShare,
      },
      resin.material.cure!.law,
      resin.gel,
      T,
      Math.max(1e-6, resin.material.cure!.initial),
    );
    // what has sunk can't be more than the liquid over a bed of packed powder
    return settled === null
      ? null
      : Math.min(settled.depth, depth * (1 - fillerVolumeShare / PACKING));
  };
  const { value, low, high } = filler!.grain;
  const [usual, fine, coarse] = [sunk(value), sunk(low), sunk(high)];
  return usual === null || fine === null || coarse === null
    ? null
    : // a filler that floats has its clear layer below: the coarser, the more negative
      { value: usual, low: Math.min(fine, coarse), high: Math.max(fine, coarse) };
}

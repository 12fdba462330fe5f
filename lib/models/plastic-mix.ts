/** The plastic of an evening: what one shot takes, and what is stirred into it. Masses kg. */
import type { Range } from "../confidence/range.ts";
import type { Job } from "../job/types.ts";
import { InputError } from "../units/problem.ts";
import { baitVolume } from "./bait/body.ts";

export interface PlasticMix {
  /** Of one bait, and of one shot with its sprue. */
  readonly bait: number;
  readonly shot: number;
  readonly shots: number;
  /** Of all shots, with what stays in cup and injector. */
  readonly mass: number;
  /** What it is stirred together from. */
  readonly plain: number;
  readonly color: number;
  readonly hardener: number;
  readonly softener: number;
  readonly glitter: number;
}

/** Plastic without anything stirred in is at least this share. */
export const LEAST_PLAIN = 0.2;

/**
 * Plastic for a number of shots, each filling all cavities and one sprue with its gate.
 *
 * @throws InputError `too_much_stirred_in` when additions leave too little plastic
 */
export function plasticMix(job: Job, shots: number): PlasticMix {
  const { mix, bait, mold, sprue, shot } = job;
  const { color, hardener, softener, glitter, waste } = mix.plastic;
  const stirred = color + hardener + softener + glitter;
  if (stirred > 1 - LEAST_PLAIN)
    throw new InputError([
      {
        code: "too_much_stirred_in",
        path: "mix.plastic",
        given: `${Math.round(stirred * 100)} %`,
        most: `${100 - LEAST_PLAIN * 100} %`,
      },
    ]);
  const density = shot.material.density.value;
  const one = baitVolume(bait) * density;
  const { gate } = sprue;
  const way =
    (Math.PI / 4) * sprue.diameter ** 2 * sprue.length +
    mold.cavities * gate.width * gate.height * gate.length;
  const each = mold.cavities * one + way * density;
  const mass = shots * each * (1 + waste);
  return {
    bait: one,
    shot: each,
    shots,
    mass,
    plain: mass * (1 - stirred),
    color: mass * color,
    hardener: mass * hardener,
    softener: mass * softener,
    glitter: mass * glitter,
  };
}

/** Volume of baits and sprues and what stays in the cup: off by this share together; a guess. */
const OFF = 0.05;

/** Plastic of all shots with its range, kg. */
export function plasticInAll({ mass }: PlasticMix): Range {
  return { value: mass, low: mass * (1 - OFF), high: mass * (1 + OFF) };
}

/** Whole shots that a cup of `cup.mass` gives, with what stays in cup and injector; 0: it holds less than one. */
export function shotsInCup(job: Job): number {
  // a hair of floating point is no shot less
  return Math.floor(job.cup.mass / plasticMix(job, 1).mass + 1e-9);
}

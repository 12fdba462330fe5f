/** The cups of an evening: when each is heated, what it holds, how much of its life its heat takes. SI. */
import type { Quantified } from "../../answers/answer.ts";
import type { Job } from "../../job/types.ts";
import { type PlasticMix, plasticMix, shotsInCup } from "../../models/plastic-mix.ts";
import type { PlannedShot } from "../../models/shots/timeline.ts";

export interface PlannedCup {
  readonly number: number; // from 1
  /** Numbers of its first and last shot. */
  readonly from: number;
  readonly to: number;
  /** When it is put on to heat, and when it is hot, s; the first before the evening begins. */
  readonly heated: number;
  readonly hot: number;
  /** Until its last shot. */
  readonly emptied: number;
  /** Masses of all that is stirred together for it. */
  readonly plastic: PlasticMix;
  /** Share of the life left to it that this heat takes; Infinity where none is left. */
  readonly used: Quantified;
  /** False: it is held hot for longer than it surely bears. */
  readonly lasts: boolean;
}

/**
 * Cups filled one after the other, each with as many shots as it takes.
 *
 * @param left how long the plastic bears the heat of the shot, s
 */
export function cupsOf(job: Job, shots: readonly PlannedShot[], left: Quantified): PlannedCup[] {
  const each = Math.max(1, shotsInCup(job));
  const cups: PlannedCup[] = [];
  for (let k = 0; k < shots.length; k += each) {
    const own = shots.slice(k, k + each);
    const hot = own[0].injected;
    const emptied = own[own.length - 1].injected;
    const held = emptied - hot;
    cups.push({
      number: cups.length + 1,
      from: own[0].number,
      to: own[own.length - 1].number,
      heated: hot - job.plan.heating,
      hot,
      emptied,
      plastic: plasticMix(job, own.length),
      used: {
        value: shareOf(held, left.value),
        low: shareOf(held, left.high),
        high: shareOf(held, left.low),
        kind: "ratio",
      },
      lasts: shareOf(held, left.low) <= 1,
    });
  }
  return cups;
}

/** Of a life that is over not even the moment of one shot is left. */
const shareOf = (held: number, left: number) => (left > 0 ? held / left : Number.POSITIVE_INFINITY);

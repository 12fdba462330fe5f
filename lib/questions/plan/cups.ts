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
  /** Share of its life that this heat takes. */
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
        value: held / left.value,
        low: Number.isFinite(left.high) ? held / left.high : 0,
        high: left.low > 0 ? held / left.low : held > 0 ? Number.POSITIVE_INFINITY : 0,
        kind: "ratio",
      },
      lasts: held <= left.low,
    });
  }
  return cups;
}

/** What the baits of an evening cost, in the shop's own money. */
import type { Job } from "../../job/types.ts";

export interface Cost {
  /** Of one bait; each part null where its price was not given. */
  readonly each: number;
  readonly plastic: number | null;
  readonly extras: number | null;
  readonly labor: number | null;
  readonly mold: number | null;
}

interface Spent {
  readonly pieces: number;
  readonly shots: number;
  readonly plastic: number; // kg
  readonly time: number; // s
}

/** Null when no price was given, or nothing is made. */
export function costOf({ plan }: Job, { pieces, shots, plastic, time }: Spent): Cost | null {
  const { prices } = plan;
  const { plastic: kilogram, extras, labor: hour, mold } = prices;
  if (pieces === 0) return null;
  if ([kilogram, extras, hour, mold].every((price) => price === null)) return null;
  const parts = {
    plastic: kilogram === null ? null : (kilogram * plastic) / pieces,
    extras,
    labor: hour === null ? null : (hour * time) / 3600 / pieces,
    mold: mold === null ? null : ((mold / prices.moldShots) * shots) / pieces,
  };
  const each = Object.values(parts).reduce<number>((sum, part) => sum + (part ?? 0), 0);
  return { each, ...parts };
}

/** What can have been read at a bench: a slip of the finger is refused before it stands in the log. */
import { formatQuantity } from "../../../lib/units/format.ts";
import type { UnitSystem } from "../reading/shown.ts";

type Measured = "temperature" | "mass" | "duration";

/** K, kg, s: from a cold cellar to burnt plastic; a bait; a day. */
const LIMITS: Readonly<Record<Measured, readonly [number, number]>> = {
  temperature: [233.15, 573.15],
  mass: [1e-5, 10],
  duration: [0, 86_400],
};

/** Words for a reading that cannot be; undefined for one that can. */
export function beyond(value: number, kind: Measured, system: UnitSystem): string | undefined {
  const [least, most] = LIMITS[kind];
  if (value >= least && value <= most) return undefined;
  const words = (v: number) => formatQuantity(v, kind, { system });
  return `Possible is from ${words(least)} to ${words(most)}.`;
}

export function isPossible(value: number, kind: Measured): boolean {
  const [least, most] = LIMITS[kind];
  return value >= least && value <= most;
}

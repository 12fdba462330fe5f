/** The inputs of our own earlier one-dimensional calculation: constant properties, one conductance everywhere. */

import { materialNamed } from "../../../lib/materials/catalog.ts";
import type { MaterialEntry, Spread } from "../../../lib/materials/entry.ts";
import { type Job, readJob } from "../../../lib/questions/job.ts";
import type { Supposed } from "../../../lib/questions/supposed.ts";

export const C = 273.15;

const exactly = (value: number): Spread => ({ value, low: value, high: value, source: "stated" });

function constant(
  name: string,
  [conductivity, density, specificHeat]: readonly [number, number, number],
): MaterialEntry {
  return {
    ...materialNamed(name),
    conductivity: exactly(conductivity),
    density: exactly(density),
    specificHeat: exactly(specificHeat),
  };
}

/** Plastisol k 0.16 W/(m K), 1050 kg/m3, 1900 J/(kg K), expansion 6e-4 1/K, set below 130 degC. */
const plastic = constant("soft plastisol", [0.16, 1050, 1900]);
/** Filled epoxy k 1.0 W/(m K), 1700 kg/m3, 1150 J/(kg K). */
const epoxy = constant("filled epoxy", [1, 1700, 1150]);

const air = (h: number, ambient: number) => ({ kind: "exchange", h, ambient }) as const;

/** A job file with those properties: contact 800, outside 10 W/(m2 K), filled until 130 degC, shrinks to 25 degC. */
export function ownJob(text: string, change: (job: Job) => Job = (job) => job): Supposed {
  const { job } = readJob(text);
  const own: Job = change({
    ...job,
    shot: {
      ...job.shot,
      material: {
        ...plastic,
        plastisol: {
          ...plastic.plastisol!,
          setTemperature: exactly(130 + C),
          expansion: exactly(6e-4),
        },
      },
    },
    mold: { ...job.mold, material: epoxy, contact: 800 },
    limits: { ...job.limits, fill: 130 + C },
  });
  const still = air(10, own.room.temperature);
  return {
    job: own,
    airFactor: 1,
    around: {
      outside: still,
      outsideOpen: still,
      open: still,
      dip: air(500, own.room.bathTemperature),
      back: undefined,
      ends: { h: 10, ambient: own.room.temperature },
    },
  };
}

export const within = (x: number, expected: number, share: number) =>
  Math.abs(x / expected - 1) <= share;

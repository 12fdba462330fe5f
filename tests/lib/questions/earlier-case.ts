/**
 * The base case of our own earlier one-dimensional calculation, against which the questions are held as a regression:
 * constant properties, contact 800, still air 10, fan 35, water 500 W/(m2 K), open when the center is at 65 degC.
 */
import type { Boundary } from "../../../lib/heat/problem.ts";
import { type Job, type MaterialEntry, materialNamed, readJob } from "../../../lib/index.ts";
import type { Surroundings } from "../../../lib/models/surroundings.ts";

export const ZERO = 273.15;

function constant(base: string, k: number, rho: number, cp: number): MaterialEntry {
  const exactly = (value: number) => ({ value, low: value, high: value, source: "test" });
  return {
    ...materialNamed(base),
    conductivity: exactly(k),
    density: exactly(rho),
    specificHeat: exactly(cp),
  };
}

export const earlierPlastisol = constant("soft plastisol", 0.16, 1050, 1900);
export const earlierEpoxy = constant("filled epoxy", 1.0, 1700, 1150);
export const earlierAluminum = constant("aluminum 6061", 167, 2700, 896);

/** A job of the base case; `more` is YAML that overrides what is typed here. */
export function earlierJob(bait: string, change: (job: Job) => Job = (job) => job): Job {
  const { job } = readJob(`
bait: ${bait}
room: { temperature: 20 degC }
mold: { wall: 20 mm, contact: 800 W/(m^2 K) }
shot: { temperature: 170 degC }
limits: { demold: 65 degC }
`);
  return change({
    ...job,
    mold: { ...job.mold, material: earlierEpoxy },
    shot: { ...job.shot, material: earlierPlastisol },
    layer: { ...job.layer, second: { ...job.layer.second, material: earlierPlastisol } },
  });
}

/** Fixed coefficients all round. */
export function earlierAround(
  h: number,
  roomC: number,
  other: Partial<Surroundings> = {},
): Surroundings {
  const air: Boundary = { kind: "exchange", h, ambient: roomC + ZERO };
  const water: Boundary = { kind: "exchange", h: 500, ambient: roomC + ZERO };
  return {
    outside: air,
    outsideOpen: air,
    open: air,
    openCavity: air,
    dip: water,
    back: undefined,
    ends: { h, ambient: roomC + ZERO },
    ...other,
  };
}

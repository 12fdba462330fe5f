/** What the mold, the open cavity and a fresh layer exchange heat with. W/(m2 K), K. */
import {
  fanCoefficient,
  radiationCoefficient,
  stillAirCoefficient,
  WATER_BATH,
} from "../formulas/air.ts";
import type { Boundary } from "../heat/problem.ts";
import type { Job } from "../job/types.ts";

export interface Surroundings {
  /** Outer faces of the closed mold. */
  readonly outside: Boundary;
  /** Outer faces while the mold lies open between two shots. */
  readonly outsideOpen: Boundary;
  /** Cavity faces, and a first color, that look into the room. */
  readonly open: Boundary;
  /** Cavity faces during a dip in water. */
  readonly dip: Boundary;
  /** Face of a back plate that water runs through; undefined: it looks into the room. */
  readonly back: Boundary | undefined;
  /** Whole conductance of the outside with radiation, W/(m2 K), and its temperature: for the loss through the ends. */
  readonly ends: { readonly h: number; readonly ambient: number };
}

/** Water through the back of a mold; 500 to 2000 by the flow, a guess. */
const WATER_IN_BACK = 1000;
/** How much warmer than the room a face is at which its air is taken, K: mold, and fresh plastic or open cavity. */
const MOLD_ABOVE = 25;
const OPEN_ABOVE = 50;
/** A desk fan stirs more than a quiet stream; from memory, 1.3 to 2. */
const FAN_TURBULENCE = 1.6;

type Exchange = Boundary & { kind: "exchange" };

/**
 * Surroundings of a job.
 *
 * @param airFactor every coefficient of air and water times this: the spread of the correlations
 * @source lib/heat/air.ts; still air for a standing face as high as the mold, at the room's temperature + 25 K
 * @param job from `readJob`
 * @returns coefficients in W/(m2 K), temperatures in K
 * @example surroundingsOf(readJob("bait: { thickness: 16 mm }").job).dip.ambient // 288.15
 */
export function surroundingsOf(job: Job, airFactor = 1): Surroundings {
  const { room, mold, run, shot, bait } = job;
  const high = bait.thickness + 2 * mold.wall;
  const still = (above: number): number =>
    stillAirCoefficient({
      facing: "side",
      length: high,
      surface: room.temperature + above,
      air: room.temperature,
      emissivity: 0,
    }).convection;
  const inAir = (fan: boolean, above: number, emissivity: number): Exchange => ({
    kind: "exchange",
    h:
      airFactor *
      (fan
        ? Math.max(
            still(above),
            fanCoefficient(room.fanSpeed, high, room.temperature + above / 2, FAN_TURBULENCE),
          )
        : still(above)),
    ambient: room.temperature,
    emissivity,
  });
  const inWater = (h: number, ambient: number): Exchange => ({
    kind: "exchange",
    h: airFactor * h,
    ambient,
  });
  const fan = room.air === "fan";
  const bath = inWater(WATER_BATH.still.value, room.bathTemperature);
  const skin = mold.material.emissivity.value;
  const outside = room.air === "bath" ? bath : inAir(fan, MOLD_ABOVE, skin);
  const water = mold.back?.water ?? null;
  const radiation =
    outside.emissivity === undefined
      ? 0
      : radiationCoefficient(skin, room.temperature + MOLD_ABOVE, room.temperature);
  return {
    outside,
    outsideOpen: room.air === "bath" ? bath : inAir(fan || run.fan, MOLD_ABOVE, skin),
    open: inAir(fan || run.fan, OPEN_ABOVE, shot.material.emissivity.value),
    dip: bath,
    back: water === null ? undefined : inWater(WATER_IN_BACK, water),
    ends: { h: (outside.h as number) + radiation, ambient: outside.ambient as number },
  };
}

/** What the mold, the open cavity and a fresh layer exchange heat with. W/(m2 K), K. */
import {
  type AirFace,
  fanCoefficient,
  radiationCoefficient,
  stillAirCoefficient,
  WATER_BATH,
} from "../formulas/air.ts";
import type { Boundary } from "../heat/problem.ts";
import type { Job } from "../job/types.ts";

/** What a mold gives its heat to, face by face. */
export interface Surroundings {
  /** Outer faces of the closed mold. */
  readonly outside: Boundary;
  /** Outer faces while the mold lies open between two shots. */
  readonly outsideOpen: Boundary;
  /** Cavity faces of an open mold: they radiate as the mold does. */
  readonly openCavity: Boundary;
  /** Plastic that looks into the room: a first color, a bait out of its mold. */
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

export type Exchange = Boundary & { kind: "exchange" };

/** A face that looks into the room: which way, its length as the correlations take it (m), how much warmer than the air (K). */
export interface RoomFace {
  readonly facing: AirFace["facing"];
  readonly length: number;
  /** Along the stream of a fan, m. */
  readonly along: number;
  readonly above: number;
  readonly emissivity: number;
  /** Blown at; where the fan does less than still air does, still air counts. */
  readonly fan: boolean;
  /** Of the air, K. */
  readonly air: number;
}

/** What a face exchanges with the room's air: the one model of mold, open cavity, fresh plastic and pour. */
export function airAt(
  { fanSpeed }: Job["room"],
  { facing, length, along, above, emissivity, fan, air }: RoomFace,
): Exchange {
  const still = stillAirCoefficient({
    facing,
    length,
    surface: air + above,
    air,
    emissivity: 0,
  }).convection;
  const blown = fan ? fanCoefficient(fanSpeed, along, air + above / 2, FAN_TURBULENCE) : 0;
  return { kind: "exchange", h: Math.max(still, blown), ambient: air, emissivity };
}

/** What a face exchanges with still water around it. */
export function waterAt(temperature: number): Exchange {
  return { kind: "exchange", h: WATER_BATH.still.value, ambient: temperature };
}

/** Convection and radiation together, W/(m2 K), of a face that is warmer than what it looks at by `above`, K. */
export function wholeCoefficient({ h, ambient, emissivity }: Exchange, above: number): number {
  const T = ambient as number;
  const radiation = emissivity === undefined ? 0 : radiationCoefficient(emissivity, T + above, T);
  return (h as number) + radiation;
}

/**
 * Surroundings of a job.
 *
 * @param airFactor every coefficient of air and water times this: the spread of the correlations
 * @source lib/formulas/air.ts; still air for a standing face as high as the mold, at the room's temperature + 25 K
 * @param job from `readJob`
 * @returns coefficients in W/(m2 K), temperatures in K
 * @example surroundingsOf(readJob("bait: { thickness: 16 mm }").job).dip.ambient // 288.15
 */
export function surroundingsOf(job: Job, airFactor = 1): Surroundings {
  const { room, mold, run, shot, bait } = job;
  const high = bait.thickness + 2 * mold.wall;
  const unsure = (exchange: Exchange): Exchange => ({
    ...exchange,
    h: airFactor * (exchange.h as number),
  });
  const inAir = (fan: boolean, above: number, emissivity: number): Exchange =>
    unsure(
      airAt(room, {
        facing: "side",
        length: high,
        along: high,
        above,
        emissivity,
        fan,
        air: room.temperature,
      }),
    );
  const fan = room.air === "fan";
  const bath = unsure(waterAt(room.bathTemperature));
  const skin = mold.material.emissivity.value;
  const outside = room.air === "bath" ? bath : inAir(fan, MOLD_ABOVE, skin);
  const water = mold.back?.water ?? null;
  return {
    outside,
    outsideOpen: room.air === "bath" ? bath : inAir(fan || run.fan, MOLD_ABOVE, skin),
    openCavity: inAir(fan || run.fan, OPEN_ABOVE, skin),
    open: inAir(fan || run.fan, OPEN_ABOVE, shot.material.emissivity.value),
    dip: bath,
    back:
      water === null ? undefined : unsure({ kind: "exchange", h: WATER_IN_BACK, ambient: water }),
    ends: { h: wholeCoefficient(outside, MOLD_ABOVE), ambient: outside.ambient as number },
  };
}

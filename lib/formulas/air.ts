/**
 * Heat transfer from a mold to air and water: the textbook correlations.
 *
 * Symbols: h W/(m2 K), T K, k W/(m K), nu m2/s, lengths m; Ra Rayleigh, Nu Nusselt, Pr Prandtl number.
 */
import { linearAt } from "../numerics/linear.ts";
import { Checks } from "../units/check.ts";
import { GRAVITY, STEFAN_BOLTZMANN } from "../units/constants.ts";

/** What correlations of convection need to know of air, at one temperature and sea level. */
export interface AirProperties {
  /** W/(m K). */
  readonly k: number;
  /** Kinematic viscosity, m2/s. */
  readonly nu: number;
  readonly Pr: number;
  /** Expansion of an ideal gas, 1/T, 1/K. */
  readonly beta: number;
}

// Dry air at 1 atm, every 50 K: T, k, nu, Pr. Incropera & DeWitt, table A.4 (from memory; 300 K and 350 K are in
// every course)
const AIR: readonly (readonly [number, number, number, number])[] = [
  [250, 0.0223, 11.44e-6, 0.72],
  // biome-ignore lint/suspicious/noApproximativeNumericConstant: the table's Prandtl number, not 1/sqrt(2)
  [300, 0.0263, 15.89e-6, 0.707],
  [350, 0.03, 20.92e-6, 0.7],
  [400, 0.0338, 26.41e-6, 0.69],
  [450, 0.0373, 32.39e-6, 0.686],
  [500, 0.0407, 38.79e-6, 0.684],
];

/**
 * Dry air at 1 atm.
 *
 * @param T film temperature, the mean of surface and air, 250 to 500 K
 * @throws InputError outside the table
 * @example airProperties(300).k // 0.0263
 * @source Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, table A.4 (from memory)
 */
export function airProperties(T: number): AirProperties {
  const checks = new Checks();
  checks.number("T", T, { least: 250, most: 500 });
  checks.done();
  const at = (column: 1 | 2 | 3) =>
    linearAt(
      AIR.map(([T]) => T),
      AIR.map((row) => row[column]),
      T,
    );
  return { k: at(1), nu: at(2), Pr: at(3), beta: 1 / T };
}

/**
 * Rayleigh number of a warm face in air.
 *
 *     Ra = g beta dT L3 Pr / nu2
 *
 * @param dT surface less air, K; its sign does not matter
 * @param length m: height of a vertical face, area over perimeter of a level one
 * @example rayleigh({ k: 0.02808, nu: 1.896e-5, Pr: 0.7202, beta: 1 / 333 }, 60, 0.6) // 764902757
 */
export function rayleigh(air: AirProperties, dT: number, length: number): number {
  return (GRAVITY * air.beta * Math.abs(dT) * length ** 3 * air.Pr) / (air.nu * air.nu);
}

/**
 * Nusselt number of a vertical face, laminar.
 *
 *     Nu = 0.68 + 0.670 Ra^(1/4) / [1 + (0.492/Pr)^(9/16)]^(4/9)
 *
 * @param Ra up to 1e9
 * @example verticalLaminar(6.348e6, 0.705) // 26.47
 * @source Churchill & Chu, Int. J. Heat Mass Transfer 18 (1975) 1323
 */
export function verticalLaminar(Ra: number, Pr: number): number {
  return 0.68 + (0.67 * Ra ** 0.25) / (1 + (0.492 / Pr) ** (9 / 16)) ** (4 / 9);
}

/**
 * Nusselt number of a vertical face, any Rayleigh number.
 *
 *     Nu = {0.825 + 0.387 Ra^(1/6) / [1 + (0.492/Pr)^(9/16)]^(8/27)}2
 *
 * @example verticalAny(764900000, 0.7202) // 113.3
 * @source Churchill & Chu, Int. J. Heat Mass Transfer 18 (1975) 1323
 */
export function verticalAny(Ra: number, Pr: number): number {
  return (0.825 + (0.387 * Ra ** (1 / 6)) / (1 + (0.492 / Pr) ** (9 / 16)) ** (8 / 27)) ** 2;
}

/**
 * Nusselt number of a hot level face that looks up (or a cold one that looks down).
 *
 *     Nu = 0.54 Ra^(1/4) up to 2e7, 0.15 Ra^(1/3) above; a step of 13 % where they meet, far above any mold
 *
 * @param Ra with length = area / perimeter; 1e4 to 3e10
 * @example hotFaceUp(11951606) // 31.75
 * @source McAdams, Heat Transmission, 3rd ed. 1954
 */
export function hotFaceUp(Ra: number): number {
  return Ra <= 2e7 ? 0.54 * Ra ** 0.25 : 0.15 * Math.cbrt(Ra);
}

/**
 * Nusselt number of a hot level face that looks down (or a cold one that looks up).
 *
 *     Nu = 0.27 Ra^(1/4)
 *
 * @param Ra with length = area / perimeter; 1e5 to 1e10
 * @example hotFaceDown(11951606) // 15.88
 * @source McAdams, Heat Transmission, 3rd ed. 1954
 */
export function hotFaceDown(Ra: number): number {
  return 0.27 * Ra ** 0.25;
}

/**
 * Nusselt number of a level pipe or round bar.
 *
 *     Nu = {0.6 + 0.387 Ra^(1/6) / [1 + (0.559/Pr)^(9/16)]^(8/27)}2
 *
 * @param Ra with length = diameter, up to 1e12
 * @example levelPipe(1867258, 0.7241) // 17.39
 * @source Churchill & Chu, Int. J. Heat Mass Transfer 18 (1975) 1049
 */
export function levelPipe(Ra: number, Pr: number): number {
  return (0.6 + (0.387 * Ra ** (1 / 6)) / (1 + (0.559 / Pr) ** (9 / 16)) ** (8 / 27)) ** 2;
}

/**
 * Heat transfer by radiation to surroundings at the air's temperature, W/(m2 K).
 *
 *     h = emissivity sigma (Ts + Ta)(Ts2 + Ta2)
 *
 * @param emissivity 0 to 1
 * @param surface K
 * @param room K
 * @throws InputError when an input is out of range
 * @example radiationCoefficient(0.9, 313.15, 295.15) // 5.749
 * @source Stefan-Boltzmann law
 */
export function radiationCoefficient(emissivity: number, surface: number, room: number): number {
  const checks = new Checks();
  checks.number("emissivity", emissivity, { least: 0, most: 1 });
  checks.number("surface", surface, { above: 0 });
  checks.number("room", room, { above: 0 });
  checks.done();
  return emissivity * STEFAN_BOLTZMANN * (surface + room) * (surface ** 2 + room ** 2);
}

/** A face that gives heat to the air of a room by itself. */
export interface AirFace {
  /** Which way the face looks. */
  readonly facing: "side" | "up" | "down";
  /** Height of a side; else area over perimeter. m. */
  readonly length: number;
  readonly surface: number; // K
  readonly air: number; // K
  /** 0: radiation left out. */
  readonly emissivity: number;
}

/**
 * Heat transfer of a face in still air, radiation included, W/(m2 K).
 *
 * A cold face swaps up and down. Correlations are good to 20 %; faces smaller than their range (Ra under 1e4) lose
 * somewhat more than this says.
 *
 * @returns convection, radiation and their sum
 * @throws InputError when an input is out of range
 * @example stillAirCoefficient({ facing: "side", length: 0.1, surface: 333.15, air: 295.15, emissivity: 0.92 }).total // 12.42
 * @source Churchill & Chu 1975; McAdams 1954
 */
export function stillAirCoefficient(face: AirFace): {
  readonly convection: number;
  readonly radiation: number;
  readonly total: number;
} {
  const checks = new Checks();
  checks.number("length", face.length, { above: 0, most: 10 });
  checks.number("surface", face.surface, { above: 200, most: 700 });
  checks.number("air", face.air, { above: 200, most: 400 });
  checks.number("emissivity", face.emissivity, { least: 0, most: 1 });
  checks.done();
  const film = Math.min(Math.max((face.surface + face.air) / 2, 250), 500);
  const air = airProperties(film);
  const dT = face.surface - face.air;
  const Ra = rayleigh(air, dT, face.length);
  const looksUp = (face.facing === "up") === dT >= 0;
  const Nu =
    face.facing === "side"
      ? Ra < 1e9
        ? verticalLaminar(Ra, air.Pr)
        : verticalAny(Ra, air.Pr)
      : looksUp
        ? hotFaceUp(Ra)
        : hotFaceDown(Ra);
  const convection = (Nu * air.k) / face.length;
  const radiation = radiationCoefficient(face.emissivity, face.surface, face.air);
  return { convection, radiation, total: convection + radiation };
}

/**
 * Heat transfer of a flat face in a stream of air, W/(m2 K), radiation not included.
 *
 *     h = factor k/L 0.664 Re^(1/2) Pr^(1/3)
 *
 * @param speed m/s, > 0
 * @param length along the stream, m, > 0
 * @param film mean of surface and air, K
 * @param turbulence factor over a quiet laminar stream: 1.3 to 2 for a desk fan (from memory), 1 without
 * @returns holds for Re up to 5e5
 * @throws InputError when an input is out of range
 * @example fanCoefficient(2, 0.1, 310) // 17.39
 * @source Pohlhausen 1921, in Incropera & DeWitt, eq. 7.30
 */
export function fanCoefficient(
  speed: number,
  length: number,
  film: number,
  turbulence = 1,
): number {
  const checks = new Checks();
  checks.number("speed", speed, { above: 0, most: 50 });
  checks.number("length", length, { above: 0, most: 10 });
  checks.number("turbulence", turbulence, { least: 1, most: 4 });
  checks.done();
  const air = airProperties(film);
  const Re = (speed * length) / air.nu;
  return ((turbulence * air.k) / length) * 0.664 * Math.sqrt(Re) * Math.cbrt(air.Pr);
}

/** A coefficient with its band, W/(m2 K). */
interface Band {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** Tap water around a mold, W/(m2 K); from memory. */
export const WATER_BATH: Readonly<Record<"still" | "stirred", Band>> = {
  still: { value: 350, low: 200, high: 600 },
  stirred: { value: 900, low: 500, high: 1500 },
};

/** Mold to wooden bench: lying flat, or on three supports with air below; a guess. W/(m2 K). */
export const BENCH: Readonly<Record<"flat" | "supports", Band>> = {
  flat: { value: 35, low: 20, high: 60 },
  supports: { value: 5, low: 3, high: 8 },
};

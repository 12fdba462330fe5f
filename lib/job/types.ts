/**
 * A job: one bait, its mold, materials, room and limits. What every question reads.
 *
 * SI and kelvin. Every field is there: what the file left out has its default, and `JobReading.defaults` lists
 * those paths. `null` means "none" or "find it" as the comment says. Plain data: it can be sent to a worker.
 */

import type { MaterialEntry } from "../materials/entry.ts";
import type { Point } from "../shape/outline.ts";
import type { FittedInput, JobInputName } from "./input-names.ts";

/** A job, and which of its values nobody typed. */
export interface JobReading {
  readonly job: Job;
  /** Paths that the file left to their defaults: `mold.temperature`. */
  readonly defaults: readonly string[];
}

/** A job file as the library reads it: SI and K, every default filled in. */
export interface Job {
  readonly name: string;
  readonly room: Room;
  readonly bait: Bait;
  readonly mold: Mold;
  readonly shot: Shot;
  readonly layer: Layering;
  readonly run: Run;
  readonly cup: Cup;
  readonly pour: Pour;
  readonly sprue: Sprue;
  readonly mix: Mix;
  readonly shrink: Shrink;
  readonly limits: Limits;
  readonly uncertainty: Uncertainty;
  /** What a log has taught about the inputs, whose values are moved there already; empty: nothing. */
  readonly fitted: readonly FittedInput[];
  /** How far inputs were moved along their own spreads, in deviates; left out: not at all. */
  readonly deviates: Readonly<Partial<Record<JobInputName, number>>>;
  readonly swim: Swim;
  readonly plan: Evening;
}

export interface Room {
  readonly temperature: number; // K
  readonly air: "still" | "fan" | "bath";
  /** Air speed of the fan at the mold, m/s. */
  readonly fanSpeed: number;
  /** Temperature of the water bath, K. */
  readonly bathTemperature: number;
}

/** How a body is treated in one dimension: a round bar, or a sheet. */
export type Form = "round" | "flat";

export interface Station {
  readonly name: string;
  /** From the nose, m. */
  readonly at: number;
  readonly width: number; // m, along the parting line
  readonly height: number; // m, across it
  /** `flat` when one side is over three times the other. */
  readonly form: Form;
  /** Its own outline, stretched to width and height, m; left out: an ellipse, or a rectangle where `flat`. */
  readonly outline?: readonly Point[];
  /** How far its middle lies above the axis of the bait, m; left out: 0. */
  readonly rise?: number;
}

export interface Bait {
  /** The thickest spot, m: the largest circle that fits into a station. */
  readonly thickness: number;
  readonly form: Form;
  readonly length: number; // m
  /** At least one, from nose to tail; one named `body` when only the thickness was given. */
  readonly stations: readonly Station[];
  /** What the one station was made from where none was measured or drawn; null: they were. */
  readonly even: EvenBody | null;
}

/** A body that is the same all along, made from its thickness. */
interface EvenBody {
  /** As typed, m; null: it follows from thickness and form. */
  readonly width: number | null;
}

/** A plate of another material in the mold, parallel to the parting line. */
export interface Plate {
  readonly material: MaterialEntry;
  readonly thickness: number; // m
  /** From the deepest point of the cavity to the plate, m. */
  readonly distance: number;
  /** Width and height of the plate's face across the section, m; null: the whole mold. */
  readonly width: number | null;
  /** Contact conductance between plate and mold, W/(m2 K). */
  readonly contact: number;
}

export interface BackPlate extends Plate {
  /** Temperature of the water that runs through it, K; null: none. */
  readonly water: number | null;
}

export interface Mold {
  readonly material: MaterialEntry;
  /** From the deepest point of the cavity to the outside, m. */
  readonly wall: number;
  /** Of the mold at the start, K. */
  readonly temperature: number;
  /** Of the second half (upper in `layer`), K. */
  readonly upperTemperature: number;
  readonly cavities: number;
  /** Between the edges of neighboring cavities, m. */
  readonly spacing: number;
  /** Of the mold along the bait, m: for the loss through its ends. */
  readonly length: number;
  /** Contact conductance plastisol to mold, W/(m2 K). */
  readonly contact: number;
  readonly back: BackPlate | null;
  readonly inserts: readonly Plate[];
}

export interface Shot {
  readonly material: MaterialEntry;
  readonly temperature: number; // K, as it enters the mold
  /** How long the injection takes, s. */
  readonly fill: number;
}

export interface Layering {
  readonly form: "belly" | "skin" | "stripe" | "tail";
  /** Depth of the first color in the open half, m. */
  readonly depth: number;
  readonly temperature: number; // K, of the first color as it is poured
  readonly second: { readonly material: MaterialEntry; readonly temperature: number };
  /** Further colors after the second, in order. */
  readonly more: readonly {
    readonly depth: number;
    readonly material: MaterialEntry;
    readonly temperature: number;
  }[];
  /** To close and clamp the mold and start the injector, s. */
  readonly handling: number;
  /** What must have set before the mold is turned: all of the layer, or a skin of `skin`. */
  readonly ready: "set" | "skin";
  readonly skin: number; // m
  /** Healing of the interface that is asked for, 0 to 1. */
  readonly healing: number;
}

export interface Run {
  readonly shots: number;
  /** Mold open between two shots, s. */
  readonly open: number;
  readonly molds: number;
  /** Fixed time from injection to opening, s; null: open at the answer's own limit. */
  readonly timer: number | null;
  /** Fan on the open mold and between shots. */
  readonly fan: boolean;
  /** Dip of the open mold in water between shots, s; 0: none. */
  readonly bath: number;
  /** Mold preheated to this before the first shot, K; null: starts at `mold.temperature`. */
  readonly preheat: number | null;
  /** Length of the session, s. */
  readonly session: number;
  /** Work of the hands for each shot: open, remove, close, inject, s. */
  readonly hands: number;
}

/** The cup of hot plastisol: for the heat budget. */
export interface Cup {
  /** What it has been through already. */
  readonly heats: readonly { readonly temperature: number; readonly duration: number }[];
  /** One observation: yellowed after this long at this temperature; null: the catalog's. */
  readonly yellowed: { readonly temperature: number; readonly duration: number } | null;
  /** Mass, kg. */
  readonly mass: number;
}

export interface Pour {
  readonly material: MaterialEntry;
  readonly depth: number; // m, over the clay
  /** kg; null: from box and depth. */
  readonly mass: number | null;
  /** Which size was left out and follows from the mass (`measuredPour`); null: none. */
  readonly fromMass: "depth" | "box" | null;
  /** Whether the job says anything of its pour: a mold that it pours is judged by what it does with it. */
  readonly described: boolean;
  readonly box: {
    readonly length: number; // m, inside
    readonly width: number;
    readonly material: MaterialEntry;
    readonly wall: number;
  };
  /** The bed that holds the masters. */
  readonly clay: { readonly material: MaterialEntry; readonly thickness: number };
  readonly masters: {
    readonly material: MaterialEntry;
    readonly count: number;
    readonly width: number; // m
    readonly height: number; // m, how far they stand out of the clay
    readonly length: number;
    /** Sizes were left to their defaults: masters are the bait's own shape, bedded to its middle. */
    readonly ofBait: boolean;
    /** Hottest that they bear, K. */
    readonly softens: number;
  };
  /** What the box stands on. */
  readonly bench: { readonly material: MaterialEntry; readonly thickness: number };
  /** Temperature of resin and hardener when mixed, K. */
  readonly stock: number;
  /** Nobody typed it: it lies in the room, and is as warm as that. */
  readonly stockOfRoom: boolean;
  /** Data sheet: pot life of a mass at a temperature; null: the catalog's. */
  readonly potLife: { readonly time: number; readonly mass: number; readonly at: number } | null;
  /** Other figures of the data sheet; null: not given. */
  readonly thinFilm: { readonly time: number; readonly at: number } | null;
  readonly peakExotherm: { readonly temperature: number; readonly mass: number } | null;
  /** Word for the hardener when there is no pot life: scales the catalog's. */
  readonly hardener: "fast" | "medium" | "slow";
  /** Filler, share of the whole mass; null: the catalog's for the material. */
  readonly fillerMassShare: number | null;
  /** Dry metal granules stirred in, share of the volume. */
  readonly granules: number;
  /** Number of layers; null: find it. */
  readonly layers: number | null;
  /** Steps in the oven after the cure in the room: K, held for s after a ramp of s. */
  readonly postCure: readonly {
    readonly temperature: number;
    readonly hold: number;
    readonly ramp: number;
  }[];
  /** Since mixing, s: how far is the cure now; null: not asked. */
  readonly age: number | null;
  readonly plate: Plate | null;
}

export interface Sprue {
  readonly diameter: number; // m
  readonly length: number; // m
  readonly gate: {
    readonly width: number;
    readonly height: number;
    readonly length: number;
    /** Not typed: as wide, and as high, as the sprue is, whatever that comes to be. */
    readonly widthOfSprue: boolean;
    readonly heightOfSprue: boolean;
  };
  /** Sprue kept full by the injector, s; null: until it closes. */
  readonly hold: number | null;
  /** The widest sprue that the gate spot allows, m. */
  readonly widest: number;
  /** Volume share that may stay unfed without being seen. A guess. */
  readonly tolerated: number;
  /** A skin thicker than this share of half the thickness stands, and a void opens inside. A guess. */
  readonly stiffSkin: number;
}

export interface MixPour {
  readonly name: string;
  readonly material: MaterialEntry;
  /** Volume to fill, m3; null: box less masters. */
  readonly volume: number | null;
  readonly box: { readonly length: number; readonly width: number; readonly height: number } | null;
  /** Volume that masters take up in the box, m3. */
  readonly less: number;
  /** Parts A to parts B. */
  readonly ratio: { readonly a: number; readonly b: number; readonly by: "weight" | "volume" };
  /** Densities of the two parts, kg/m3: null when the ratio is by weight or they are unknown. */
  readonly densityA: number | null;
  readonly densityB: number | null;
  /** Mixed too much on purpose, share. */
  readonly waste: number;
  /** Largest error of the ratio that does no harm, share. */
  readonly tolerance: number;
}

export interface Mix {
  /** Empty: the mold half of `pour`. */
  readonly pours: readonly MixPour[];
  /** The scale shows steps of this, kg. */
  readonly scale: number;
  /** Stirred into the plastic of an evening, shares of its mass; `waste` is mixed beyond the shots. */
  readonly plastic: {
    readonly color: number;
    readonly hardener: number;
    readonly softener: number;
    readonly glitter: number;
    readonly waste: number;
  };
}

export type Metal = "lead" | "tungsten" | "brass" | "steel" | "bismuth";

/** The bait in the water. Places along it from the nose, m; `below` from its axis, m. */
export interface Swim {
  readonly water: "fresh" | "salt";
  readonly temperature: number; // K
  readonly hook: {
    readonly name: string;
    readonly mass: number; // kg
    /** Between shank and point, m; null: not given. */
    readonly gap: number | null;
    readonly at: number;
    readonly below: number;
  } | null;
  /** Hooks at hand that could take its place. */
  readonly otherHooks: readonly {
    readonly name: string;
    readonly mass: number;
    readonly gap: number;
  }[];
  readonly weights: readonly {
    readonly name: string;
    readonly mass: number;
    readonly metal: Metal;
    readonly at: number;
    readonly below: number;
  }[];
  /** Shares of the mass of the plastic. */
  readonly salt: number;
  readonly hollow: number;
  /** Of the gap, beyond the body, m. */
  readonly clearance: number;
}

/** The evening's plan. Prices in the shop's own money; null: not asked. */
export interface Evening {
  /** Seconds after midnight; null: told from the start on. */
  readonly start: number | null;
  /** To heat a cup of plastic, s. */
  readonly heating: number;
  readonly prices: {
    readonly plastic: number | null; // for each kg
    readonly extras: number | null; // for each bait
    readonly labor: number | null; // for each hour
    readonly mold: number | null;
    /** Shots that a mold lasts. */
    readonly moldShots: number;
  };
}

export interface ShrinkStep {
  readonly name: string;
  readonly material: MaterialEntry;
  /** Linear, share of length; null: the catalog's. */
  readonly shrinkage: number | null;
  /** Cured at this, K: heat-cured silicone shrinks more; null: at room temperature. */
  readonly curedAt: number | null;
}

export interface Shrink {
  readonly steps: readonly ShrinkStep[];
}

export interface Limits {
  /** Hottest point of the bait at opening, K. */
  readonly demold: number;
  /** Hottest that the cavity face may get, K; null: the mold material's own limit. */
  readonly wall: number | null;
  /** A thinner wall cracks when it is clamped or demolded, m. */
  readonly stiff: number;
  /** Hottest that a pour may get, K. */
  readonly peak: number;
  /** No longer flows, K; null: the plastisol's own. */
  readonly set: number | null;
  /** Coldest interface that bonds, K; null: the plastisol's own. */
  readonly bond: number | null;
  /** A section whose mean is colder no longer fills, K; null: 10 K above the set temperature, a guess. */
  readonly fill: number | null;
}

/** Half-widths of what was measured. */
export interface Uncertainty {
  readonly thickness: number; // m
  readonly shotTemperature: number; // K
  readonly moldTemperature: number; // K
  readonly roomTemperature: number; // K
  /** How far a time may be off, s. */
  readonly time: number;
  /** How sure the material data are: `measured` halves the catalog's spread. */
  readonly materials: "catalog" | "measured";
}

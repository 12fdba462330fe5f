/**
 * A heat problem as data: what `simulate` takes. SI and kelvin throughout; lengths m, times s.
 *
 * One engine for all frames: a 1-D frame is a grid with one row.
 */
import type { Material } from "../materials/material.ts";
import type { Outline } from "../shape/outline.ts";

/**
 * The geometry of a problem: layers of a slab, around an axis or a center; a plane section, or one turned
 * around its axis.
 */
export type Frame = "slab" | "cylinder" | "sphere" | "section" | "round";

/** A number, a table linear between its points (constant outside), or a function of the time in s. */
export type OverTime =
  | number
  | { readonly t: readonly number[]; readonly value: readonly number[] }
  | ((t: number) => number);

/** What a face exchanges heat with. Convection and radiation add up; `held` fixes the face temperature. */
export type Boundary =
  | { readonly kind: "insulated" }
  | { readonly kind: "held"; readonly temperature: OverTime }
  | { readonly kind: "flux"; readonly flux: OverTime } // W/m2 into the body
  | {
      readonly kind: "exchange";
      readonly h: OverTime; // W/(m2 K)
      readonly ambient: OverTime; // K
      readonly emissivity?: number; // radiates to the ambient temperature
    };

/** 1-D: from the left face, or from the center outwards. */
export interface Layer {
  readonly name: string;
  readonly material: string;
  readonly thickness: number;
  readonly initial: number;
  /** Contact conductance toward the next layer, W/(m2 K); left out: perfect contact. */
  readonly contact?: number;
}

/** 2-D: a shape in the block; a later shape covers an earlier one. */
export interface Shape {
  readonly name: string;
  readonly outline: Outline;
  readonly material: string;
  readonly initial: number;
  /** Contact conductance around the shape, W/(m2 K); left out: perfect contact. */
  readonly contact?: number;
}

/** The rectangle around the shapes of a section: size in m, its material by name, start in K. */
export interface Block {
  readonly width: number;
  readonly height: number;
  readonly material: string;
  readonly initial: number;
}

/** Outer sides of a problem; layers have left and right only. */
export type Side = "left" | "right" | "top" | "bottom";

/** Contact conductance between two named regions (`block` is the block), W/(m2 K): goes before their own. */
export interface PairContact {
  readonly between: readonly [string, string];
  readonly conductance: number;
}

/** Loss through the two ends of a section of finite length, lumped into each cell. */
export interface EndLoss {
  readonly length: number;
  readonly h: number;
  readonly ambient: number;
}

/** New content of a region from the start of a stage on. */
export interface Refill {
  readonly name: string;
  readonly temperature: number;
  readonly material?: string;
}

export interface Stop {
  readonly probe: string;
  readonly below?: number;
  readonly above?: number;
}

/** A probe in what cures that has been as hot as it will be. */
export interface Past {
  readonly probe: string;
  /** Its rise from where it started to its highest is more than this, K. */
  readonly risen: number;
  /** It has fallen from there by more than this share of the rise. */
  readonly fallen: number;
}

/** A span of time with fixed materials and boundaries. */
export interface Stage {
  /** Absolute time at which the stage ends at the latest, s. */
  readonly until: number;
  /** Ends this long after its start at the latest, s: for what follows a stage that ends by a crossing. */
  readonly lasts?: number;
  /** Ends earlier, when the probe crosses. */
  readonly stop?: Stop;
  /** Ends with the first step that finds the probe past its highest: for who asks for nothing else. */
  readonly past?: Past;
  readonly refill?: readonly Refill[];
  /** Overrides from here on. */
  readonly boundary?: Partial<Record<Side, Boundary>>;
  /** Regions that are empty space during this stage (only this one); their neighbors see `exposed`. */
  readonly absent?: readonly string[];
  readonly exposed?: Boundary;
  /** Contact conductances from here on, by the name of the layer or shape that declared them. */
  readonly contact?: Readonly<Record<string, number>>;
}

/** A place, the mean of a region, or the hottest or coldest point of a region. */
export type Probe =
  | {
      readonly kind: "point";
      readonly x: number;
      readonly y?: number;
      readonly side?: "left" | "right";
    }
  | { readonly kind: "mean" | "hottest" | "coldest"; readonly region: string }
  /** The face of `region` where it meets `neighbor`: its hottest, coldest or mean temperature. */
  | {
      readonly kind: "face";
      readonly region: string;
      readonly neighbor: string;
      readonly of: "hottest" | "coldest" | "mean";
    };

/** A probe that goes below or above a temperature, K. */
export interface Crossing {
  readonly probe: string;
  readonly below?: number;
  readonly above?: number;
}

/**
 * A problem of heat and cure: what lies where, what it is made of, what surrounds it, and what is asked. SI
 * and K.
 */
export interface HeatProblem {
  readonly frame: Frame;
  readonly materials: Readonly<Record<string, Material>>;
  readonly layers?: readonly Layer[];
  readonly block?: Block;
  readonly shapes?: readonly Shape[];
  readonly boundary: Partial<Record<Side, Boundary>>;
  readonly contacts?: readonly PairContact[];
  readonly ends?: EndLoss;
  readonly stages: readonly Stage[];
  /** true: only the state that nothing changes any more, of the first stage; its `until` is not asked. */
  readonly steady?: boolean;
  /** Cells against the default, 1 = default, 2 = half the cell size. Two nested grids are run for the error estimate. */
  readonly resolution?: number;
  /** false: solve the whole section even where it is its own mirror image. Default true. */
  readonly useSymmetry?: boolean;
  /** Insulated sides that are mirrors: the field goes on evenly beyond them. */
  readonly mirrors?: readonly Side[];
  /** false: only the finer grid, without an estimate of its error; faster, for searches. Default true. */
  readonly estimateGrid?: boolean;
  /** false: what the steps leave is not followed where something cures, and `timeError` is Infinity: not known. Default true. */
  readonly estimateSteps?: boolean;
  /**
   * Nested grids at least. Of two no more is known than their difference, which may be a hundred times the error of what is
   * extrapolated from them; three tell how fast it falls. Left out: 2; with a tolerance 3, as long as the third is no great work.
   */
  readonly grids?: 2 | 3;
  /** Relative to the span of the problem's temperatures; governs time, and space where two grids are run. Left out: 1e-4 in time, default grid. */
  readonly tolerance?: number;
  /** Cells of a grid that are not gone beyond; left out: 250 000 for the first grids, 3000 or 25 000 for those that a tolerance asks for. */
  readonly mostCells?: number;
  /** Steps on a grid that are not gone beyond; left out: 200 000, fewer on large grids. */
  readonly mostSteps?: number;
  readonly probes: Readonly<Record<string, Probe>>;
  /** Times at which the probes are reported, s. */
  readonly times?: readonly number[];
  readonly crossings?: readonly Crossing[];
  /** Times of whole-field snapshots, s. */
  readonly snapshots?: readonly number[];
  /** One more snapshot at the end of each step: the closer together, the faster things change. */
  readonly everyStep?: boolean;
  /** Asked now and then; true ends the run with `stopped: true`. */
  readonly shouldStop?: () => boolean;
  /** Told after each step how far the run is. */
  readonly follow?: (progress: Progress) => void;
}

/** How far the run of a grid is. */
export interface Progress {
  readonly cells: number;
  readonly steps: number;
  /** s, of `end` s at the latest. */
  readonly time: number;
  readonly end: number;
}

/** Over the times at which the probe's place holds something; -Infinity and Infinity when it never does. */
export interface Extreme {
  readonly max: number;
  readonly maxTime: number;
  readonly min: number;
  readonly minTime: number;
}

export interface CrossingFound {
  readonly probe: string;
  readonly below?: number;
  readonly above?: number;
  /** s; null when it was not crossed before the end. */
  readonly time: number | null;
  /** Estimated error of the time, from grid and time steps, s. */
  readonly error: number;
}

/** What a solution took, and how far it may be trusted. */
export interface Effort {
  readonly cells: number;
  readonly steps: number;
  readonly rejected: number;
  /** (stored - in - released) over the largest of the three: 0 when every joule is accounted for. */
  readonly energyImbalance: number;
  /** Estimated error of the temperatures from time stepping, K. */
  readonly timeError: number;
  /** Estimated error of the temperatures from the grid, K; NaN-free: when only one grid was run, what a front leaves open. */
  readonly gridError: number;
  /** Estimated error of the values at the wanted times (in one dimension also of crossings and extremes), grid and time steps together, K. */
  readonly reached: number;
  /** Of it, K: what a front of reaction leaves open that is narrower than the cells; 0 where none is. */
  readonly frontError: number;
  /** What `tolerance` asked for, K; null where none was given. */
  readonly asked: number | null;
  /** What ended the refinement before that was reached; null when nothing did. */
  readonly limitedBy: Limit | null;
}

/** `cells`: a finer grid would have too many; `steps`: it would take too long for crossings and extremes alone, or time steps would have to be shorter; `halvings`: none helped. */
export type Limit = "cells" | "steps" | "halvings";

/** What a simulation returns. */
export interface History {
  /** End of the run, s. */
  readonly end: number;
  /** End of each stage, s. */
  readonly stageEnds: readonly number[];
  readonly times: Float64Array;
  /** K at each of `times`. */
  readonly probes: Readonly<Record<string, Float64Array>>;
  /** At each of `times`: 1, or 0 where the probe's place is empty space then and its value means nothing. */
  readonly holds: Readonly<Record<string, Uint8Array>>;
  /** Cure at each of `times`, for probes that lie in a curing material. */
  readonly cure: Readonly<Record<string, Float64Array>>;
  readonly extremes: Readonly<Record<string, Extreme>>;
  /** Of a steady state: into the body through each side, W (slab: for 1 m2; cylinder and section: for 1 m). */
  readonly flows?: Readonly<Record<Side, number>>;
  readonly crossings: readonly CrossingFound[];
  /** Every accepted step: for plots. Times s, then K for each probe. */
  readonly trace: {
    readonly times: Float64Array;
    readonly probes: Readonly<Record<string, Float64Array>>;
  };
  readonly snapshots: readonly Snapshot[];
  readonly effort: Effort;
  readonly stopped: boolean;
}

/** The whole field at one time, ready to be moved to another thread. Row by row from the bottom. */
export interface Snapshot {
  readonly time: number;
  /** Faces of the grid, m. */
  readonly x: Float32Array;
  readonly y: Float32Array;
  /** K, x fastest. */
  readonly temperature: Float32Array;
  readonly cure?: Float32Array;
}

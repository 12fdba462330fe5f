/**
 * What every answer carries besides its numbers: cautions, what was ignored, levers, reasons. Codes and data here;
 * the sentences are written in src/messages, which does not compile while a code has none.
 */
import type { Range } from "../confidence/range.ts";
import type { Kind } from "../units/kinds.ts";

/** Safety notes that belong to the step in hand. */
export const cautionCodes = [
  "hot_plastisol", // burns
  "plastic_too_hot", // than its entry allows to pour
  "plastisol_fumes", // overheated PVC gives off hydrogen chloride
  "water_near_melt",
  "core_flows", // opened at a limit at which its plastic may still flow
  "sprue_molten", // the bait is cool enough, the sprue still flows inside
  "damp_mold", // one that soaks up water: damp in it bursts out as steam
  "soaked_mold", // the same, where the job cools it with water
  "touch_burn", // skin cool, core hot
  "hot_mold", // burns whoever takes hold of it
  "wall_above_limit", // the cavity face gets hotter than the mold bears; each family gives way in its own manner
  "plaster_above_limit",
  "silicone_above_limit",
  "wood_above_limit",
  "metal_above_limit",
  "mold_not_post_cured", // what it bears holds for the post-cured resin, and the job pours it without
  "pour_not_recommended", // too hot, or too near the cliff
  "pour_may_smoke", // above 100 degC with bad luck
  "pour_unattended",
  "batch_may_smoke", // a mass in a cup heats itself
  "resin_contact",
  "isocyanate",
  "metal_powder",
  "oven_ramp",
  "silicone_inhibited",
  "lead_weights",
  "damp_additives", // salt, glitter or filler that is not dry, into hot plastic
] as const;
export type CautionCode = (typeof cautionCodes)[number];

/** What the model leaves out; the first thing an engineer asks. */
export const ignoredCodes = [
  "one_dimension",
  "sides_of_block", // of a flat bait in a mold that spreads its heat sideways
  "mold_ends",
  "corners_of_block",
  "neighbor_cavities",
  "other_walls", // than the job's own: carried over from there
  "bench_below",
  "fill_time",
  "flow_heat",
  "shrink_gap",
  "constant_contact",
  "runner_heat",
  "uneven_fill",
  "filled_as_belly", // a stripe or tail
  "plasticizer_migration",
  "clamp_gap",
  "humidity",
  "mixing_faults",
  "settling", // of a filler: told how far, not what it does to the heat
  "void_or_dent_place",
  "air_drafts",
  "thermometer_error",
  "hot_spots",
  "stabilizer",
  "sprue_ends",
  "line_in_water", // and the pull of the line
  "glide", // sinks straight down
  "fins_and_tail",
  "uneven_pace", // of the hands, over an evening
  "mold_before_preheat", // its temperature, where a preheat says another
  "peak_limit", // one that is higher than any pour may get
  "filler_share", // of a filled resin of which the job does not say it, with all bad luck at once
  "one_density", // of a mix whose other part has none
  "cure_warmth", // where a shrinkage has it in it, or nothing is known of it
  "hardener_word", // where a time of the sheet says how fast it is
  "fixed_timer", // the plan opens when it is cool
  "shots_wanted", // the plan has as many as the session has time for
  "one_color", // of a job with more, each shot is one
] as const;
export type IgnoredCode = (typeof ignoredCodes)[number];

/** What would change the answer. */
export const leverCodes = [
  "thinner_body",
  "cooler_shot",
  "preheat_mold",
  "better_conductor",
  "fan",
  "water_bath",
  "water_back",
  "metal_insert",
  "more_molds",
  "longer_open",
  "higher_demold",
  "hotter_second",
  "thicker_layer",
  "faster_hands",
  "close_on_skin",
  "post_cure",
  "layers",
  "slower_hardener",
  "granules",
  "unwarmed_stock",
  "chilled_stock",
  "cooler_room",
  "warm_box_after_gel",
  "fatter_sprue",
  "fatter_sprue_and_gate",
  "wider_gate",
  "longer_hold",
  "top_off",
  "finer_scale",
  "larger_batch",
  "measure_conductivity",
  "measure_mold",
  "measure_room",
  "measure_shot",
  "measure_thickness",
  "more_stations", // of a bait, where it bends
  "measure_pot_life",
  "measure_set",
  "dunk",
  "smaller_cup",
  "fresh_stock",
  "discard_cup",
  "measure_yellowing",
  "weigh_baits",
  "log_one_bait", // a probe in the middle of one bait, then `fit`
  "peel_test", // at three closing times
  "time_the_fall", // over a known depth of water
] as const;
export type LeverCode = (typeof leverCodes)[number];

export interface Lever {
  readonly code: LeverCode;
  /** The change of the job that was tried, in SI: `{ path: "room.temperature", kind: "temperature", to: 288.15 }`. */
  readonly change?: { readonly path: string; readonly kind: Kind; readonly to: number };
  /** What the answer's main number becomes by it, SI. */
  readonly gives?: { readonly kind: Kind; readonly value: number };
  /** Better by this share of the main number as it is. */
  readonly gain?: number;
  /** 1: at hand now, 2: some preparation, 3: another mold, 4: a mold made anew. A guess. */
  readonly effort?: 1 | 2 | 3 | 4;
}

/** What decides an answer. */
export const reasonCodes = [
  "station", // the station `name` is the slowest
  "set", // no longer flows when turned
  "skin", // enough skin to be turned
  "bond", // interface still bonds
  "healing",
  "exotherm",
  "overheating",
  "sprue_closes",
  "gate_closes",
  "shrinkage",
  "body_too_fat",
  "core_reheats",
  "heaviest_heat", // number `name`
  "shot_temperature",
  "scale_step",
] as const;
export type ReasonCode = (typeof reasonCodes)[number];

export interface Reason {
  readonly code: ReasonCode;
  /** Station, input path or region that is meant. */
  readonly name?: string;
}

export interface AnswerEffort {
  readonly cells: number;
  readonly steps: number;
  /** (stored - in - released) over the largest of the three. */
  readonly energyImbalance: number;
}

/** Extended by every answer. SI and kelvin. */
export interface Answer<Question extends string, Content> {
  readonly question: Question;
  readonly answer: Content;
  readonly cautions: readonly CautionCode[];
  readonly ignored: readonly IgnoredCode[];
  readonly effort: AnswerEffort;
}

/** A range with the kind of its number, so that it can be shown in any unit system. */
export interface Quantified extends Range {
  readonly kind: Kind;
}

/** What makes most of a range, and the one measurement that is expected to narrow it the most. */
export interface Cause {
  readonly code: "input";
  /** Path of the input. */
  readonly name: string;
  readonly measure: LeverCode;
  /** Its part of the result's variance, 0 to 1: total Sobol index. */
  readonly share: number;
  /** Other inputs with a tenth of it or more, the largest first. */
  readonly others: readonly { readonly name: string; readonly share: number }[];
  /** Width of the range to be expected after the measurement, as a share of today's, and its work, s; null: none helps. */
  readonly narrows: { readonly to: number; readonly takes: number } | null;
}

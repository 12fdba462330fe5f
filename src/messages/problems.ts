/** A sentence for each mistake that can be made in an input: what was given, what is possible, what to do. */
import { ZERO_CELSIUS } from "../../lib/units/constants.ts";
import type { Problem } from "../../lib/units/problem.ts";
import { PAGE_SENTENCES } from "./page-problems.ts";
import { given, hint, inBoth, range, type Sentence, words, write } from "./pieces.ts";

/** How a job gives what is stirred into its resin. */
const FILLER_MEASURES: Readonly<Record<string, string>> = {
  "pour.filler": "by weight",
  "pour.granules": "by volume",
};

/** By code: of a job, a page, a log and the engine. Those of shapes and sweeps stand in `all-problems.ts`. */
export const SENTENCES: Readonly<Record<string, Sentence>> = {
  ...PAGE_SENTENCES,

  // a quantity as it is typed
  unit_missing: (p) => [`${given(p)} has no unit.`, write(p, "Write it like"), range(p)],
  doubtful_comma: (p) => [`The comma in ${given(p)} can mean two things.`, write(p, "Write")],
  wrong_kind: (p) => [`${given(p)} has a unit of another kind.`, write(p, "Write it in"), range(p)],
  unknown_unit: (p) => [`The unit in ${given(p)} is not known.`, write(p, "Write it in"), range(p)],
  weight_not_volume: (p) => [`${given(p)} is a weight, a volume is asked for.`, hint(p)],
  volume_not_weight: (p) => [
    `${given(p)} is a volume, a weight is asked for.`,
    write(p, "Write it in"),
  ],
  meters_not_minutes: (p) => [`${given(p)} reads as meters, a time is asked for.`, hint(p)],
  not_a_quantity: (p) => [
    `"${given(p)}" is no number with a unit.`,
    p.possible ? write(p, "Write one like") : "Write one like 16 mm, 5/8 in or 338 degF.",
    range(p),
  ],
  not_text: (p) => [
    p.given === undefined ? "One value is asked for here." : `${given(p)} is no quantity.`,
    write(p, "Write it like"),
  ],
  not_a_number: (p) => [`${given(p)} is no finite number.`, range(p)],
  too_small: (p) => [`${given(p)} is too little.`, range(p), hint(p)],
  too_big: (p) => [`${given(p)} is too much.`, range(p), hint(p)],
  not_positive: (p) => [`${given(p)} must be above zero.`, range(p)],
  not_whole: (p) => [`${given(p)} is no whole number.`, range(p)],

  // keys, words, groups and lists
  missing: (p) => ["This is missing.", write(p, "Write it like"), range(p)],
  empty: (p) => [
    "This key has no value.",
    p.suggestion === undefined
      ? "Fill it in or leave it out."
      : `Usual is ${p.suggestion}; or leave it out.`,
  ],
  unknown_key: (p) => ["This key is not known.", hint(p), words(p, 16)],
  unknown_word: (p) => [`"${given(p)}" is not possible here.`, hint(p), words(p)],
  not_possible: (p) => [`"${given(p)}" is not possible here.`, hint(p), words(p)],
  unknown_material: (p) => [`There is no material "${given(p)}".`, hint(p), words(p, 30)],
  wrong_material: (p) => [`"${given(p)}" does not belong here.`, words(p, 30)],
  not_a_group: (p) => [`A group of keys is asked for, not ${given(p)}.`, words(p, 16)],
  not_a_list: (p) => [`A list is asked for, not ${given(p)}.`, "One entry a line, behind a dash."],
  not_a_pair: () => ["A point is two lengths.", "Write it like [0 mm, 8 mm]."],
  not_a_name: (p) => [`${given(p)} is no name.`],
  name_too_long: (p) => ["This name is too long.", range(p)],
  name_twice: (p) => [`The name "${given(p)}" is there twice.`, "Give each its own."],
  not_an_amount: (p) => [
    `"${given(p)}" is no amount.`,
    "Write a plain number, in the money of your shop, like 12.50.",
  ],
  not_a_clock_time: (p) => [
    `"${given(p)}" is no time of the day.`,
    "Write it like 18:30 or 6:30 PM, in quotes.",
  ],
  not_a_ratio: (p) => [
    `"${given(p)}" is no ratio.`,
    write(p, "Write parts of A to parts of B, like"),
  ],
  comma_in_braces: (p) => [
    `Between braces a comma ends the value: "${given(p)}" was read as a new key.`,
    'Put quotes around it, like "0,5 mm", or write a point.',
  ],
  too_many: (p) => [
    p.given === undefined ? "There are too many of these." : `${given(p)} are too many.`,
    range(p),
  ],
  too_few: (p) => [
    p.given === undefined ? "There are too few of these." : `${given(p)} are too few.`,
    range(p),
  ],
  not_a_probe: () => [
    "This is no probe.",
    'Write the name of a layer or shape for its mean, [x] or [x, y] in m for a point, {"hottest": NAME}, {"coldest": NAME}, or {"face": NAME, "neighbor": NAME}.',
  ],
  not_a_boundary: () => [
    "This is no boundary.",
    'Write "insulated", {"temperature": degC}, {"flux": W/m2}, or {"h": W/(m2 K), "ambient": degC}.',
  ],
  not_a_law: (p) => [
    `${given(p)} is no number, no table of pairs and no expression.`,
    "Write it like 0.2, like [[20, 0.2], [120, 0.25]], or like 0.2 + 0.0005 * T.",
  ],
  one_of: (p) => ["Exactly one of several is asked for here.", words(p)],
  lists_differ: (p) => [`Two lists that belong together differ in length.`, range(p)],
  bad_path: (p) => [`${given(p)} can't be set: there is no such place in this job.`],

  // the file as a whole
  too_long: (p) => [`The file is too big: ${given(p)}.`, range(p)],
  file_empty: () => ["The file is empty.", "The shortest job is: bait: { thickness: 16 mm }"],
  not_text_file: () => ["This is no text file.", "A job file is YAML: keys and values, as text."],
  not_yaml: (p) => [
    `"${given(p)}" does not fit here.`,
    "A line of YAML is a key, a colon, a space and a value; what belongs together is indented alike.",
  ],
  key_twice: (p) => [`The key in "${given(p)}" is there twice.`, "Leave one of the two out."],
  tab_indents: () => ["A tab indents this line.", "YAML asks for spaces."],
  several_documents: () => [
    "The file holds several jobs, parted by ---.",
    "Give each its own file.",
  ],
  bracket_open: (p) => [
    `Before or in "${given(p)}" a brace, a bracket or a quote is opened and not closed.`,
    "This is no YAML yet.",
  ],
  nested_too_deep: () => ["The file is nested too deep.", "A job has four levels at the most."],
  alias_in_file: () => [
    "Anchors and aliases (& and *) are not allowed in a job file.",
    "Write the value out.",
  ],
  not_a_job: () => [
    "This is no job file: keys and values are asked for.",
    "The shortest one is: bait: { thickness: 16 mm }",
  ],
  mold_still_closed: (p) => [
    `Mold ${given(p)} was not open yet when it was filled again.`,
    "Correct the mold, or one of the two times.",
  ],
  opened_before_filled: () => [
    "It was opened before it was injected.",
    "Correct one of the two times.",
  ],
  few_verdicts: (p) => [
    `The log has ${p.given === 0 ? "no line" : "one line"} that came out good or soft.`,
    "It takes two or more.",
  ],
  few_readings: (p) => [`Readings after the shot: ${given(p)}.`, `It takes ${p.least ?? "more"}.`],
  steady_readings: (p) => [
    "The probe's readings hardly change: nothing cooled while it was logged.",
    `They must differ by ${p.least ?? "more"} or more.`,
  ],

  // two values that don't go together
  station_past_end: (p) => [`${given(p)} lies past the end of the bait.`, range(p)],
  station_twice: (p) => [
    `There is already a station at ${given(p)}, of another size.`,
    "Give one section for each place; leave the other out.",
  ],
  width_twice: () => [
    "Stations and outlines have widths of their own.",
    "Leave bait.width out, or give the body by its thickness and width alone.",
  ],
  thickness_differs: (p) => [
    `${given(p)} does not fit the stations, whose thickest measures ${(p.possible ?? ["otherwise"]).join(" or ")}.`,
    "Leave one of the two out, or correct it.",
  ],
  stations_scaled: (p) => [
    `${given(p)} would scale a station past what one may measure.`,
    range(p),
    "Or give that bait's own stations.",
  ],
  deeper_than_bait: (p) => [`${given(p)} is deeper than the bait is thick.`, range(p)],
  skin_deeper_than_color: (p) => [
    `A skin of ${given(p)} is deeper than the color that it is on.`,
    range(p),
    "layer.depth says how deep that is.",
  ],
  lining_fills_bait: (p) => [
    `A skin of ${given(p)} at both faces leaves no room within it for the second color.`,
    range(p),
    "Make it thinner, or pour it as a belly.",
  ],
  colors_fill_bait: (p) => [
    `${given(p)} more than the colors below it does not fit into the bait.`,
    range(p),
    "Make one of the colors thinner, or leave one out.",
  ],
  mold_hotter_than_shot: (p) => [
    `A mold at ${given(p)} would not cool this shot.`,
    range(p),
    "Check which is which.",
  ],
  limit_below_room: (p) => [`The bait never gets down to ${given(p)} in this room.`, range(p)],
  limit_above_shot: (p) => [
    `${given(p)} is no limit for this shot: it is there from the start.`,
    range(p),
  ],
  limit_above_set: (p) => [`At ${given(p)} this plastic still flows.`, range(p)],
  mold_shorter: (p) => [
    `A mold of ${given(p)} is shorter than the bait.`,
    range(p),
    "bait.length says how long that is.",
  ],
  outside_bait: (p) => [
    `${given(p)} from the nose is beyond the tail.`,
    range(p),
    "bait.length says where that is.",
  ],
  volume_differs: (p) => {
    const both = inBoth(p, "volume");
    return [
      `${given(both)} is not what the box holds: that is ${(both.possible ?? ["another volume"]).join(" or ")} without the masters.`,
      "Leave one of the two out, or correct it.",
    ];
  },
  less_of_volume: (p) => {
    const both = inBoth(p, "volume");
    return [
      `${given(both)} of masters can be taken from a box only: a volume is what is left to fill.`,
      "Leave it out, or give the box instead of the volume.",
    ];
  },
  masters_stand_out: (p) => [`Masters of ${given(p)} would stand out of the resin.`, range(p)],
  plate_outside_mold: (p) => [
    `A plate ${given(p)} behind the cavity lies outside the mold wall, or in its back plate.`,
    range(p),
  ],
  plate_fills_wall: (p) => [
    `A plate of ${given(p)} does not fit into the wall behind the cavity.`,
    range(p),
  ],

  outline_crosses: (p) => [
    `The outline crosses or touches itself at ${given(p)}.`,
    "Draw it once around, without loops.",
  ],
  outline_without_area: (p) => [
    `The outline encloses nothing: it starts at ${given(p)} and runs back over itself.`,
    "Three corners that are not on one line are needed.",
  ],

  // formulas
  not_a_formula: (p) => [`"${given(p)}" is no formula.`, "Write one like 1500 + 2.5*T."],
  not_in_a_formula: (p) => [`"${given(p)}" is not possible in a formula.`, words(p, 24)],

  // the engine's own problem file
  law_not_positive: (p) => [
    `The law gives ${given(p)} ${p.most === undefined ? "there" : `beyond ${p.most}`}.`,
    p.least === undefined ? "" : `This problem reaches ${p.least}.`,
    "It must be above zero at every temperature that occurs: write it with max(..., ...) or as a table.",
  ],
  too_many_cells: (p) => [
    `A grid for this would have about ${given(p)} cells.`,
    range(p),
    "A thin or tiny part asks for them: leave it out, make it a contact, or lower the resolution.",
    "A larger mostCells allows it.",
  ],
  too_many_steps: (p) => [
    `This would take about ${given(p)} steps.`,
    range(p),
    "Something changes very often or very fast: shorten the time, smooth the law, or ask for less tolerance.",
    "A larger mostSteps allows it.",
  ],
  not_steady: () => [
    "This has no meaning where until is steady.",
    "Leave it out, or give until as a time.",
  ],
  no_steady_state: () => [
    "Nothing holds the temperature of this body: it has no steady state of its own.",
    "Give a side a temperature, or an ambient with an h above zero.",
  ],
  // of a file in degC, or of the library in K: both are told
  temperature_impossible: (p) => [
    typeof p.given === "number"
      ? `A temperature of ${Number((p.given - ZERO_CELSIUS).toPrecision(9))} degC (${Number(p.given.toPrecision(9))} K) is not possible.`
      : `A temperature of ${given(p)} is not possible.`,
    "Possible is above -273.15 degC (0 K).",
  ],
  time_runs_back: (p) => [`The time ${given(p)} comes after a later one.`, range(p)],

  unknown_frame: (p) => [`There is no frame "${given(p)}".`, words(p)],
  unknown_region: (p) => [`There is no layer or shape "${given(p)}".`, words(p)],
  unknown_probe: (p) => [`There is no probe "${given(p)}".`, words(p)],
  too_few_corners: (p) => [`A polygon with ${given(p)} corners has no area.`, "Three are needed."],
  not_rising: (p) => [
    `${given(p)} does not come after the one before.`,
    // of a log, its lines are named
    /^line \d/.test(p.path)
      ? "Times of a log must rise: sort its lines by time."
      : "Times and temperatures of a table must rise.",
  ],
  not_a_share: (p) => [`${given(p)} is no share.`, "Possible is 0 to 1."],
  not_finite: (p) => [`${given(p)} is no finite number.`],
  outside: (p) => [`${given(p)} lies outside the body.`],
  tolerance_impossible: (p) => [
    `A tolerance of ${given(p)} can't be kept.`,
    "Possible is 1e-9 to 0.1.",
  ],
  table_broken: () => ["The two columns of this table differ in length, or are empty."],

  // resins
  rate_overflow: (p) => [
    `${given(p)} makes the reaction faster than molecules move.`,
    range(p),
    "Check the unit of time: per minute or per second?",
  ],
  never_gels: () => ["With these figures the resin never gels."],
  no_calibration: () => [
    "Nothing says how fast this hardener is.",
    "Give its pot life, or the time in which a thin film sets.",
  ],
  filler_above_packing: (p) => {
    const measure = FILLER_MEASURES[p.path];
    const most = measure && p.most && { most: `${p.most} ${measure}` };
    return [
      `No more filler fits in: ${given(p)} ${measure ?? "of the volume"}.`,
      range({ ...p, ...most }),
    ];
  },
  filler_near_packing: (p) => [
    `With ${given(p)} of filler by volume the grains almost touch, and this formula climbs without limit.`,
    range(p),
  ],
  same_density: () => [
    "Filler and resin weigh the same for their size, so a weighing does not tell their shares.",
  ],

  // mixing and size
  too_much_stirred_in: (p) => [`What is stirred in makes up ${given(p)} of the plastic.`, range(p)],
  no_such_mold: (p) => [
    `There is no mold ${given(p)} in this job.`,
    range(p),
    "run.molds says how many.",
  ],
  materials_differ: (p) => [
    `${given(p)} is poured, but the mold is of another material${p.possible ? `: ${p.possible.join(", ")}` : ", which is not poured"}.`,
    "Give mold.material and pour.material as the same resin.",
  ],
  mass_differs: (p) => {
    const both = inBoth(p, "mass");
    return [
      `${given(both)} does not go with the depth and the box: they hold about ${(both.possible ?? ["another mass"]).join(" or ")}.`,
      "Leave one of the three out, or correct it.",
    ];
  },
  mass_out_of_box: (p) => {
    const both = inBoth(p, "mass");
    const high = inBoth({ ...p, given: null }, "length").possible ?? ["out"];
    return [
      `${given(both)} does not fill this box to a depth that can be: masters that stand ${high.join(" or ")} high must be covered.`,
      range(both),
      "Or give a smaller box, or pour.masters.height.",
    ];
  },
  volume_or_box: () => ["How much is poured?", "Give a volume, or the box that is filled."],
  masters_fill_box: (p) => [`The masters take ${given(p)}: no room is left in the box.`, range(p)],
  densities_missing: () => [
    "A ratio by volume can only be weighed with the density of both parts.",
    "It stands on the data sheet, as density or specific gravity.",
  ],
  shrinkage_missing: (p) => [
    `How much ${given(p)} shrinks is not known here.`,
    "Give its linear shrinkage.",
  ],
};

/** What is wrong, what is possible and what to do, as one line. */
export function sentenceOf(problem: Problem, sentences: typeof SENTENCES): string {
  const sentence = sentences[problem.code];
  const parts = sentence
    ? sentence(problem)
    : [
        `This is not possible (${problem.code.replaceAll("_", " ")}).`,
        range(problem),
        hint(problem),
      ];
  const line = parts.filter((part) => part !== "").join(" ");
  return line.replace(/^this\b/, "This");
}

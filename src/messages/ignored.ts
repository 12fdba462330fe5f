/** What an answer leaves out, in a line each. */
import type { IgnoredCode } from "../../lib/answers/answer.ts";

const LINES: Readonly<Record<IgnoredCode, string>> = {
  one_dimension: "The body is taken as a round bar or a sheet in a wall of even thickness.",
  sides_of_block:
    "The mold beside a flat bait, into which its heat spreads: it may open in half of the time, or less.",
  mold_ends: "Heat that leaves through the two ends of the mold.",
  corners_of_block: "The corners of the mold block.",
  neighbor_cavities: "Heat from neighboring cavities.",
  other_walls:
    "The block around other walls than yours: their shots are those of a bar or a sheet, carried over by what your own section adds to it.",
  bench_below: "The bench under the mold: it is taken as standing free in air.",
  fill_time: "The time to fill: the cavity is full at once.",
  flow_heat: "Heat made and carried by the flow through the gate.",
  shrink_gap: "The gap that opens when the plastic shrinks off the wall.",
  constant_contact: "The contact between plastic and mold is the same everywhere and all the time.",
  runner_heat: "Heat of sprue and runner.",
  uneven_fill: "Parts that fill later than others.",
  filled_as_belly:
    "What a stripe or tail has of its own (layer.form): the first color is taken as a belly's, filled level to its depth.",
  plasticizer_migration: "Plasticizer and color that wander between the two.",
  clamp_gap: "The gap at the parting line.",
  humidity: "Humidity.",
  mixing_faults: "Faults of weighing and mixing.",
  settling:
    "What filler that sinks before the resin gels does to the heat: it is taken as spread evenly.",
  void_or_dent_place: "Where exactly the dent or void appears.",
  air_drafts: "Drafts, sun and other heaters.",
  thermometer_error: "Errors of your thermometers beyond what the job states.",
  hot_spots: "Hotter spots in the cup: the bottom on a plate, the middle in a microwave.",
  stabilizer: "How much stabilizer your product has, beyond what one observation tells.",
  sprue_ends:
    "The ends of sprue and gate, and the hot plastic beside them: a short one stays open longer.",
  line_in_water: "The line: its pull, its drag and its weight.",
  glide: "Gliding to the side: it sinks or rises straight.",
  uneven_pace: "Breaks, mishaps and hands that tire: log the shots, and the plan is made anew.",
  mold_before_preheat:
    "The job's mold.temperature: the mold starts as warm as it is preheated (run.preheat).",
  peak_limit:
    "The job's limit for the peak (limits.peak), where it is higher: no pour may get above 100 °C (212 °F), and that decides.",
  filler_share:
    "Less powder in the resin than usual, on top of all bad luck: it gets hotter then. Say how much it holds (pour.filler).",
  one_density:
    "The density of one part alone (densityA or densityB): the mix has the catalog's until both are given.",
  cure_warmth:
    "How warm a casting was cured (curedAt): a shrinkage of your own has it in it, and it counts for silicone only.",
  hardener_word:
    "The word for the hardener (pour.hardener): the pot life or the thin film of the job says how fast it is.",
  fixed_timer: "The fixed timer of the job: each shot is opened when it is cool.",
  shots_wanted:
    "How many shots the job asks for (run.shots): the plan has as many as the session has time for.",
  one_color: "Further colors (layer): each shot is of one color.",
  fins_and_tail: "What fins and a soft tail do to the flow, beyond the range that is given.",
};

export function ignoredLine(code: IgnoredCode): string {
  return LINES[code];
}

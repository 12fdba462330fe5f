/**
 * A sentence for every mistake that can be made in an input. Those of shapes from files, of sweeps and of what only the
 * command reads are told by the command and where a file is read; the first answer of a sheet does not wait for them.
 */
import type { Problem } from "../../lib/units/problem.ts";
import { given, hint, range, words, write } from "./pieces.ts";
import { SENTENCES, sentenceOf } from "./problems.ts";

const ENDS = 'Write it like --vary bait.thickness="8 mm..24 mm".';

/** By code. A test reads the codes of the library and asks for a sentence each. */
export const ALL_SENTENCES: typeof SENTENCES = {
  ...SENTENCES,

  // only the command reads and writes these files, only many jobs are varied
  not_of_this_shape: (p) => [
    p.given === "mesh"
      ? "A mesh has no use for this: its size and its sections are its own."
      : p.given === "drawing"
        ? "A drawing has no use for this."
        : "A shape of stations has no use for this.",
    words(p),
  ],
  file_missing: () => ["There is no such file."],
  file_unreadable: (p) => [`The file can't be read (${given(p)}).`],
  folder_unwritable: (p) => [
    `Nothing can be written there (${given(p)}).`,
    "Name a folder that can be made or written to.",
  ],
  file_unwritable: (p) => [`The file can't be written (${given(p)}).`],
  overridden: (p) => [
    `This counts for nothing while the job has ${p.possible?.[0] ?? "another key"}.`,
    "Change that one, or take it out of the job.",
  ],
  another_table: () => [
    "This file holds something else than this sweep.",
    "Name another file with --out, or take this one away.",
  ],
  two_ways_of_times: (p) => [
    `${given(p)} is a time of the day, but this log begins with ${p.suggestion ?? "one"} from the first shot on.`,
    "Write all its times in one way.",
  ],
  first_far_from_start: (p) => [
    `${given(p)}, the first time of this log, is more than ${p.least} before or after the evening starts, as a time of the day and from the first shot on.`,
    "plan.start of the job says when the evening starts; write the first shot of that evening first,",
    "like 19:05:00, like 7:05 PM, or like 12 min 30 s from the first shot.",
  ],
  far_from_start: (p) => [
    `${given(p)} is more than ${p.least} before the evening starts, or more than ${p.most} after it: its session and 6 h more.`,
    "plan.start of the job says when it starts, run.session how long it lasts; a time is written like 19:05:00, like 7:05 PM, or like 12 min 30 s from the first shot.",
  ],
  no_time_of_log: (p) => [
    `"${given(p)}" is no time.`,
    hint(p),
    "Write it like 19:05:00, like 7:05 PM, or like 12 min 30 s from the first shot.",
  ],
  log_of_shots_empty: () => [
    "The log is empty.",
    "Its first line names the columns: mold,injected,opened; then comes a line for each shot.",
  ],
  not_json: (p) => [
    `This is no JSON: ${given(p)}`,
    "A problem for solve is JSON; a job is asked with a question, such as demold.",
  ],

  // logs that were read from files
  no_column: (p) => [`There is no column "${given(p)}".`, write(p, "Head it like")],
  empty_cell: (p) => ["This field is empty.", write(p, "Write it like"), range(p)],
  clock_or_elapsed: (p) => [
    `${given(p)} can be a time of the day, or count from the first shot.`,
    "Write the one like 7:05 PM, the other like 7 min.",
  ],
  log_empty: () => [
    "The log is empty.",
    "Of a probe its first line names the columns time and temperature, of shots seconds and verdict; then come the readings.",
  ],
  no_verdicts: () => [
    "This is a log of shots that doesn't say how they came out: fit learns from that.",
    "Add a column verdict with good or soft for each shot, beside seconds, or injected and opened. Of a probe it takes time and temperature. castclock plan JOB.yaml SHOTS.csv plans from a log as this one is.",
  ],
  minutes_or_hours: (p) => [
    `${given(p)} can be minutes and seconds, or hours and minutes.`,
    "Head the column time min for the one, clock for the other; or write the one like 0:14:30.",
  ],

  // shapes from files
  not_stl: () => [
    "This is no STL file, neither binary nor text.",
    "Export the bait as STL from the program that drew it.",
  ],
  stl_empty: () => ["The file holds no triangle.", "Export the bait again."],
  stl_truncated: (p) => [
    `The file ends here, after ${given(p)} triangles.`,
    "It was cut off: copy or export it again.",
  ],
  stl_too_many: (p) => [`${given(p)} triangles are too many.`, range(p), "Export it coarser."],
  stl_not_finite: (p) => [
    `Corners that are no numbers: ${given(p)} triangles, this is the first.`,
    "Export the bait again.",
  ],
  mesh_without_volume: () => [
    "These triangles enclose nothing.",
    "A bait is a closed body: check that it was exported whole.",
  ],
  bait_too_long: (p) => [`A bait of ${given(p)}? That is too long.`, hint(p), range(p)],
  bait_too_short: (p) => [`A bait of ${given(p)}? That is too short.`, hint(p), range(p)],
  up_along_bait: (p) => [`The bait lies along ${given(p)}: that can't be up.`, words(p)],
  not_svg: (p) => [`This is no SVG drawing (${given(p)}).`, "Save it as plain SVG."],
  drawing_too_big: (p) => [
    `The drawing is too big: ${given(p)}.`,
    range(p),
    "Leave only the outlines in it.",
  ],
  drawing_too_deep: (p) => ["Groups are nested too deep in this drawing.", range(p), "Ungroup it."],
  drawing_reaches_out: (p) => [
    `${given(p)} is not allowed in a drawing: only lines are read.`,
    "Take it out, or save the outlines alone as plain SVG.",
  ],
  drawing_line_broken: (p) => [`This line can't be read: ${given(p)}.`, "Draw or save it again."],
  drawing_empty: () => [
    "The drawing holds no line.",
    "Text and pictures are not read: trace them.",
  ],
  drawing_roles: (p) => [
    p.given === 0 ? "There is no closed outline to be the side view." : "Which outline is which?",
    "Name them side and top (their id or label), and a line of known length mark.",
    words(p, 6),
  ],
  drawing_scale: (p) => [
    p.path === "drawing"
      ? "There is no line named mark in the drawing."
      : "Nothing says how large the drawing is.",
    "Name a line of known length mark and give --set mark=50mm, or the bait's length: --set length=110mm.",
  ],
  drawing_open: (p) => [
    `The outline is open: it ends at ${given(p)}, not where it began.`,
    "Close it, and it is read.",
  ],
  views_differ: (p) => [
    `Seen from the top it is ${given(p)} long, from the side ${(p.possible ?? ["otherwise"]).join(" or ")}.`,
    "Draw both views at one scale.",
  ],

  // what a sweep is asked
  not_two_ends: (p) => [`"${given(p)}" is no range.`, ENDS],
  ends_no_numbers: (p) => [`"${given(p)}" has no number at one of its ends.`, ENDS],
  ends_of_two_units: (p) => [`The ends of "${given(p)}" are not in one unit.`, ENDS],
  ends_reversed: (p) => [
    `"${given(p)}" does not go from the lower to the higher end.`,
    "The lower end goes first.",
  ],
  varied_twice: () => ["This key is varied twice.", "Leave one of the two out."],
};

/** Codes that have a sentence. */
export const problemCodes: readonly string[] = Object.keys(ALL_SENTENCES);

/** What is wrong, what is possible and what to do, as one line. */
export function problemSentence(problem: Problem): string {
  return sentenceOf(problem, ALL_SENTENCES);
}

/** With the place in front: `shot.temperature: 350 degC is too much. ...` */
export function problemLine(problem: Problem): string {
  const sentence = problemSentence(problem);
  return problem.path === "" ? sentence : `${problem.path}: ${sentence}`;
}

/**
 * What a working can say, as data. Everything that comes back from a run is checked here before anything is
 * drawn: kinds, names of marks and options, finite numbers, sizes. No functions, no addresses, no markup.
 *
 * Numbers are SI and kelvin; `unit` names the unit that fits the value, from which the reader's own is chosen.
 */
import { z } from "zod";
import { type Extent, extentOf } from "./extent.ts";

// Compiling checkers needs `new Function`, which the site's policy forbids; without this zod would try it.
z.config({ jitless: true });

/** Sizes past which an output is refused. Large enough for any honest page, small enough to draw at once. */
export const LIMITS = {
  /** Outputs of one run. */
  outputs: 200,
  /** Characters of a label, caption, cell or unit; of a note. */
  label: 300,
  note: 4000,
  rows: 2000,
  columns: 24,
  marks: 24,
  /** Points of all marks of one figure. */
  points: 60_000,
  frames: 120,
  /** Grid cells of one frame. */
  cells: 250_000,
  outlinePoints: 20_000,
  isotherms: 24,
  /** Of one run, all outputs together. */
  bytes: 24_000_000,
  values: 2_000_000,
  depth: 8,
} as const;

/** Its size was looked at before (`extentOf`). */
const finite = z.number();
/** s; a year. */
const moment = z.number().min(-3.2e7).max(3.2e7);
const label = z.string().max(LIMITS.label);
const unit = z.string().max(24);
const tone = z.enum(["info", "caution"]);

/** Colors by what they mean; the page's look says what they are. */
export const TONES = [
  "ink",
  "quiet",
  "accent",
  "warm",
  "cool",
  "wall",
  "skin",
  "good",
  "caution",
] as const;
export type Tone = (typeof TONES)[number];

const answer = z.strictObject({
  kind: z.literal("answer"),
  label,
  /** null when there is none ("the window never opens"); then `instead` says so. */
  value: finite.nullable(),
  low: finite.nullable(),
  high: finite.nullable(),
  unit,
  decidedBy: label.optional(),
  instead: label.optional(),
  /** The one number that the page is about. */
  main: z.boolean().optional(),
});

const range = z.strictObject({ value: finite, low: finite, high: finite });
const tableCell = z.union([finite, label, z.boolean(), z.null(), range]);

const table = z
  .strictObject({
    kind: z.literal("table"),
    caption: label,
    columns: z
      .array(z.strictObject({ key: z.string().min(1).max(60), label, unit: unit.optional() }))
      .min(1)
      .max(LIMITS.columns),
    rows: z.array(z.record(z.string().max(60), tableCell)).max(LIMITS.rows),
  })
  .refine((t) => new Set(t.columns.map((c) => c.key)).size === t.columns.length, {
    error: "two columns have the same key",
  });

export const MARKS = [
  "line",
  "area",
  "dot",
  "rule-x",
  "rule-y",
  "tick-x",
  "bar-x",
  "bar-y",
  "rect",
  "text",
] as const;
export type MarkName = (typeof MARKS)[number];

/** A field of the data, a tone or a color. Letters, digits and a few signs: no `url(...)`, no address. */
const word = z
  .string()
  .max(60)
  .regex(/^(?!.*url)[\p{L}\p{N} _.,#%()+-]*$/iu, { error: "only words, field names and colors" });
const channel = z.union([finite, word]);
const share = finite.min(0).max(1);

const column = z.union([
  z.array(z.union([finite, label, z.null()])).max(LIMITS.points),
  z.custom<Float64Array | Float32Array>(
    (v) => v instanceof Float64Array || v instanceof Float32Array,
  ),
]);

/** Data by rows or by columns of equal length. */
const markData = z.union([
  z.array(z.record(z.string().max(60), z.union([finite, label, z.null()]))).max(LIMITS.points),
  z.record(z.string().max(60), column).refine(
    (columns) => {
      const lengths = Object.values(columns).map((c) => c.length);
      return lengths.every((n) => n === lengths[0] && n <= LIMITS.points);
    },
    { error: "columns of different length" },
  ),
]);

const mark = z.strictObject({
  mark: z.enum(MARKS),
  data: markData,
  x: channel.optional(),
  y: channel.optional(),
  x1: channel.optional(),
  x2: channel.optional(),
  y1: channel.optional(),
  y2: channel.optional(),
  z: word.optional(),
  stroke: word.optional(),
  fill: word.optional(),
  text: word.optional(),
  symbol: z.enum(["circle", "cross", "diamond", "square", "star", "triangle"]).optional(),
  r: finite.min(0).max(40).optional(),
  strokeWidth: finite.min(0).max(20).optional(),
  strokeDasharray: z
    .string()
    .max(20)
    .regex(/^[\d ,.]*$/)
    .optional(),
  strokeOpacity: share.optional(),
  fillOpacity: share.optional(),
  curve: z.enum(["linear", "step", "step-after", "step-before", "monotone-x"]).optional(),
  textAnchor: z.enum(["start", "middle", "end"]).optional(),
  dx: finite.min(-200).max(200).optional(),
  dy: finite.min(-200).max(200).optional(),
  fontSize: finite.min(6).max(40).optional(),
  /** Words for the line, written beside it or in the legend. */
  label: label.optional(),
});

const axis = z.strictObject({
  label,
  unit: unit.optional(),
  domain: z.array(finite).length(2).optional(),
  type: z.enum(["linear", "log", "band"]).optional(),
  grid: z.boolean().optional(),
});

const figure = z.strictObject({
  kind: z.literal("figure"),
  caption: label,
  marks: z.array(mark).min(1).max(LIMITS.marks),
  x: axis,
  y: axis,
  width: finite.min(100).max(2000).optional(),
  height: finite.min(60).max(1600).optional(),
});

const floats = z.custom<Float32Array>((v) => v instanceof Float32Array, {
  error: "a Float32Array is expected",
});

function rises(faces: Float32Array): boolean {
  for (let i = 1; i < faces.length; i++) if (!(faces[i]! > faces[i - 1]!)) return false;
  return true;
}

const frame = z
  .strictObject({
    time: finite,
    x: floats,
    y: floats,
    temperature: floats,
    cure: floats.optional(),
  })
  .refine(
    (f) => {
      const cells = (f.x.length - 1) * (f.y.length - 1);
      return (
        cells > 0 &&
        cells <= LIMITS.cells &&
        rises(f.x) &&
        rises(f.y) &&
        f.temperature.length === cells &&
        f.temperature.every((T) => T >= 0 && T < 1e5) &&
        (f.cure === undefined || f.cure.length === cells)
      );
    },
    { error: "the field does not fit its grid" },
  );

const point = z.tuple([finite, finite]);

const field = z.strictObject({
  kind: z.literal("field"),
  caption: label,
  frames: z.array(frame).min(1).max(LIMITS.frames),
  /** Closed lines in m, drawn over the field. */
  outline: z.array(z.array(point).max(LIMITS.outlinePoints)).max(40),
  /** K */
  isotherms: z.array(finite).max(LIMITS.isotherms).optional(),
});

const note = z.strictObject({
  kind: z.literal("note"),
  text: z.string().max(LIMITS.note),
  tone,
});

const timeline = z
  .strictObject({
    kind: z.literal("timeline"),
    label,
    from: moment,
    until: moment,
    unit: z.literal("s"),
    marks: z.array(z.strictObject({ at: moment, label })).max(40),
    spans: z
      .array(
        z.strictObject({
          from: moment,
          to: moment,
          label,
          tone: z.enum(["good", "wait", "late"]),
        }),
      )
      .max(40),
  })
  .refine((t) => t.until > t.from && t.spans.every((span) => span.to >= span.from), {
    error: "a time line runs from earlier to later",
  });

const output = z.discriminatedUnion("kind", [answer, table, figure, field, note, timeline]);

export type Output = z.infer<typeof output>;
export type OutputKind = Output["kind"];
export type AnswerOutput = z.infer<typeof answer>;
export type TableOutput = z.infer<typeof table>;
export type TableCell = z.infer<typeof tableCell>;
export type FigureOutput = z.infer<typeof figure>;
export type FigureMark = z.infer<typeof mark>;
export type FieldOutput = z.infer<typeof field>;
export type FieldFrame = z.infer<typeof frame>;
export type NoteOutput = z.infer<typeof note>;
export type TimelineOutput = z.infer<typeof timeline>;

/** What was wrong with an output, in data: `path` within it, and the checker's own words for a developer. */
export interface OutputProblem {
  readonly path: string;
  readonly why: string;
}

export type OutputCheck =
  | { readonly ok: true; readonly output: Output; readonly extent: Extent }
  | { readonly ok: false; readonly problems: readonly OutputProblem[] };

/** Checks one output that came from outside. Never throws; what it returns shares nothing by accident: unknown keys are refused. */
export function checkOutput(given: unknown): OutputCheck {
  const extent = extentOf(given, LIMITS.values, LIMITS.depth);
  if (extent === undefined) {
    return { ok: false, problems: [{ path: "", why: "not plain data, or too large or too deep" }] };
  }
  if (extent.bytes > LIMITS.bytes) {
    return { ok: false, problems: [{ path: "", why: `${extent.bytes} bytes are too many` }] };
  }
  const read = output.safeParse(given);
  if (read.success) {
    const points = read.data.kind === "figure" ? figurePoints(read.data) : 0;
    if (points > LIMITS.points) {
      return { ok: false, problems: [{ path: "marks", why: `${points} points are too many` }] };
    }
    return { ok: true, output: read.data, extent };
  }
  const problems = read.error.issues.slice(0, 8).map((i) => ({
    path: i.path.map(String).join("."),
    why: i.message,
  }));
  return { ok: false, problems };
}

/** Points of all marks together. */
export function figurePoints(shown: FigureOutput): number {
  let points = 0;
  for (const m of shown.marks) points += pointsOf(m.data);
  return points;
}

/** Rows of a mark's data, whichever way it is written. */
export function pointsOf(data: FigureMark["data"]): number {
  if (Array.isArray(data)) return data.length;
  return Object.values(data)[0]?.length ?? 0;
}

/**
 * What a working can say, as data. Everything that comes back from a run is checked here before anything is
 * drawn: kinds, names of marks and options, finite numbers, sizes. No functions, no addresses, no markup.
 *
 * Numbers are SI and kelvin; `unit` names the unit that fits the value, from which the reader's own is chosen.
 */
import * as z from "zod/mini";
import { FARTHEST, jobInputNames } from "../../../lib/job/input-names.ts";
import type { UnitSystem } from "../../../lib/units/display.ts";
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
  /** Of one timer. */
  timerMarks: 500,
  /** Points of all marks of one figure. */
  points: 20_000,
  frames: 120,
  /** Grid cells of one frame. */
  cells: 250_000,
  outlinePoints: 20_000,
  isotherms: 24,
  /** Of one run, all outputs together: what is copied out of its worker. */
  bytes: 24_000_000,
  values: 300_000,
  depth: 8,
} as const;

/** Of a figure that says none, px, with what stands around its lines. */
export const FIGURE_HEIGHT = 380;

/** Its size was looked at before (`extentOf`). */
const finite = z.number();
const between = (least: number, most: number) =>
  z.number().check(z.minimum(least), z.maximum(most));
/** s; a year. */
const moment = between(-3.2e7, 3.2e7);
const text = (most: number) => z.string().check(z.maxLength(most));
const list = <T extends z.core.$ZodType>(of: T, most: number) =>
  z.array(of).check(z.maxLength(most));
const label = text(LIMITS.label);
const unit = text(24);
const key = text(60);
const side = z.enum(["down", "up"]);
const fineness = between(1e-9, 1e9);
/** Multiples of this are shown, SI: for all, or by the reader's system. */
const step = z.union([fineness, z.strictObject({ metric: fineness, "shop-us": fineness })]);

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
  value: z.nullable(finite),
  low: z.nullable(finite),
  high: z.nullable(finite),
  unit,
  /** A bound, rounded to this side; its range, where it has one, outwards. */
  towards: z.optional(side),
  /** A temperature that the bound is held to, K: rounding does not carry it past. */
  keeps: z.optional(finite),
  /** Left out: as its range bears out. */
  step: z.optional(step),
  /** A window, not a range of one number: its ends are rounded into it. */
  window: z.optional(z.boolean()),
  decidedBy: z.optional(label),
  instead: z.optional(label),
  /** The one number that the page is about. */
  main: z.optional(z.boolean()),
  /** What a timer of this answer counts to, s after its start; left out: the answer itself, where it is a time. */
  marks: z.optional(list(z.strictObject({ at: between(0, 604_800), label }), LIMITS.timerMarks)),
});

const range = z.strictObject({ value: finite, low: finite, high: finite });
const tableCell = z.union([finite, label, z.boolean(), z.null(), range]);

const table = z
  .strictObject({
    kind: z.literal("table"),
    caption: label,
    columns: list(
      z.strictObject({
        key: key.check(z.minLength(1)),
        label,
        unit: z.optional(unit),
        /** Bounds, rounded to this side. */
        towards: z.optional(side),
        /** A temperature that they are held to, K: rounding does not carry them past. */
        keeps: z.optional(finite),
        step: z.optional(step),
      }),
      LIMITS.columns,
    ).check(z.minLength(1)),
    rows: list(z.record(key, tableCell), LIMITS.rows),
  })
  .check(
    z.refine((t) => new Set(t.columns.map((c) => c.key)).size === t.columns.length, {
      error: "two columns have the same key",
    }),
    z.refine(
      (t) =>
        t.rows.length === 0 || t.columns.every((c) => t.rows.some((r) => Object.hasOwn(r, c.key))),
      {
        error: "a column that no row has a cell for",
      },
    ),
  );

const MARKS = [
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

/**
 * What may stand where a color is drawn: a field of the data, a tone, a color's name, its hexadecimal digits, or one
 * of the functions that take numbers only. Nothing else has brackets, so nothing can lead to an address.
 */
const WORD = /^#?[\p{L}\p{N} _.,%+-]*$/u;
const COLOR_OF_NUMBERS = /^(?:rgba?|hsla?|hwb|lab|lch|oklab|oklch)\([\d .,%/+-]*\)$/i;
const isPlainWord = (given: string) => WORD.test(given) || COLOR_OF_NUMBERS.test(given);
const word = key.check(z.refine(isPlainWord, { error: "only words, field names and colors" }));
const channel = z.union([finite, word]);
const share = between(0, 1);
const dataCell = z.union([finite, label, z.null()]);

const column = z.union([
  list(dataCell, LIMITS.points),
  z.custom<Float64Array | Float32Array>(
    (v) => v instanceof Float64Array || v instanceof Float32Array,
  ),
]);

/** Data by rows or by columns of equal length. */
const markData = z.union([
  list(z.record(key, dataCell), LIMITS.points),
  z.record(key, column).check(
    z.refine(
      (columns) => {
        const lengths = Object.values(columns).map((c) => c.length);
        return lengths.every((n) => n === lengths[0] && n <= LIMITS.points);
      },
      { error: "columns of different length" },
    ),
  ),
]);

/** Cells of a field that says how something is painted are held to what a color may be. */
function isPainted(shown: { data: z.infer<typeof markData>; stroke?: string; fill?: string }) {
  const { data } = shown;
  const plain = (cell: unknown) => typeof cell !== "string" || isPlainWord(cell);
  return [shown.stroke, shown.fill].every((field) => {
    if (field === undefined) return true;
    if (Array.isArray(data)) {
      return data.every((row) => !Object.hasOwn(row, field) || plain(row[field]));
    }
    const cells = Object.hasOwn(data, field) ? data[field] : undefined;
    return !Array.isArray(cells) || cells.every(plain);
  });
}

const mark = z
  .strictObject({
    mark: z.enum(MARKS),
    data: markData,
    x: z.optional(channel),
    y: z.optional(channel),
    x1: z.optional(channel),
    x2: z.optional(channel),
    y1: z.optional(channel),
    y2: z.optional(channel),
    z: z.optional(word),
    stroke: z.optional(word),
    fill: z.optional(word),
    text: z.optional(word),
    symbol: z.optional(z.enum(["circle", "cross", "diamond", "square", "star", "triangle"])),
    r: z.optional(between(0, 40)),
    strokeWidth: z.optional(between(0, 20)),
    strokeDasharray: z.optional(text(20).check(z.regex(/^[\d ,.]*$/))),
    strokeOpacity: z.optional(share),
    fillOpacity: z.optional(share),
    curve: z.optional(z.enum(["linear", "step", "step-after", "step-before", "monotone-x"])),
    textAnchor: z.optional(z.enum(["start", "middle", "end"])),
    dx: z.optional(between(-200, 200)),
    dy: z.optional(between(-200, 200)),
    fontSize: z.optional(between(6, 40)),
    /** Words for the line, written beside it or in the legend. */
    label: z.optional(label),
  })
  .check(
    z.refine((m) => isPainted(m as Parameters<typeof isPainted>[0]), {
      error: "a color that is none",
    }),
  );

const axis = z.strictObject({
  label,
  unit: z.optional(unit),
  domain: z.optional(z.array(finite).check(z.length(2))),
  type: z.optional(z.enum(["linear", "log", "band"])),
  grid: z.optional(z.boolean()),
});

const figure = z.strictObject({
  kind: z.literal("figure"),
  caption: label,
  marks: list(mark, LIMITS.marks).check(z.minLength(1)),
  x: axis,
  y: axis,
  width: z.optional(between(100, 2000)),
  height: z.optional(between(60, 1600)),
  /** A body as it is: a millimeter is as long across as it is up. */
  sameScale: z.optional(z.boolean()),
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
    cure: z.optional(floats),
  })
  .check(
    z.refine(
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
    ),
  );

const point = z.tuple([finite, finite]);

const drawnLine = z.strictObject({
  part: z.enum(["bait", "insert", "parting", "master", "edge"]),
  points: list(point, LIMITS.outlinePoints).check(z.minLength(2)),
});

const field = z.strictObject({
  kind: z.literal("field"),
  caption: label,
  frames: list(frame, LIMITS.frames).check(z.minLength(1)),
  /** What is seen, in words: "the whole block, two cavities". */
  shows: z.optional(label),
  /** Lines of the parts in m: closed, but for a parting line. Each kind is drawn and named in its own way. */
  lines: z.optional(list(drawnLine, 80)),
  /** Closed lines in m, drawn over the field. */
  outline: list(list(point, LIMITS.outlinePoints), 40),
  /** K */
  isotherms: z.optional(list(finite, LIMITS.isotherms)),
});

const note = z.strictObject({
  kind: z.literal("note"),
  text: text(LIMITS.note),
  tone: z.enum(["info", "caution"]),
  /** Heading under which the text lies folded: for what nobody needs twice. A caution is never folded. */
  fold: z.optional(label),
});

const span = z.strictObject({
  from: moment,
  to: moment,
  label,
  tone: z.enum(["good", "wait", "late"]),
});

const timeline = z
  .strictObject({
    kind: z.literal("timeline"),
    label,
    from: moment,
    until: moment,
    unit: z.literal("s"),
    marks: list(z.strictObject({ at: moment, label }), 40),
    spans: list(span, 40),
  })
  .check(
    z.refine((t) => t.until > t.from && t.spans.every((s) => s.to >= s.from), {
      error: "a time line runs from earlier to later",
    }),
  );

/** Deviates; no log moves an input farther. */
const deviate = between(-FARTHEST, FARTHEST);

/** What a log has taught about the job's inputs, offered to be kept in the job: by the reader, never by the page. */
const lesson = z.strictObject({
  kind: z.literal("lesson"),
  /** From the answer to `fit`; null: nothing that may be kept. */
  fitted: z.nullable(
    list(
      z.strictObject({
        name: z.enum(jobInputNames),
        middle: deviate,
        row: list(deviate, jobInputNames.length),
      }),
      jobInputNames.length,
    ).check(
      z.refine((inputs) => inputs.every(({ row }, i) => row.length === i + 1), {
        error: "rows of a triangle: the first has one number, the next two",
      }),
    ),
  ),
});

const output = z.discriminatedUnion("kind", [answer, table, figure, field, note, timeline, lesson]);

export type Output = z.infer<typeof output>;
type Step = z.infer<typeof step>;
export type AnswerOutput = z.infer<typeof answer>;
export type TableOutput = z.infer<typeof table>;
export type TableCell = z.infer<typeof tableCell>;

/** The step of an answer or a column for one reader. */
export function stepFor(given: Step | undefined, system: UnitSystem): number | undefined {
  if (typeof given !== "object") return given;
  return system === "metric" ? given.metric : given["shop-us"];
}

/** A row's cell under a column's key, which may be any word: own cells only. */
export function cellAt(row: TableOutput["rows"][number], key: string): TableCell {
  return (Object.hasOwn(row, key) ? row[key] : undefined) ?? null;
}

export type FigureOutput = z.infer<typeof figure>;
export type FigureMark = z.infer<typeof mark>;
export type FieldOutput = z.infer<typeof field>;
export type FieldLine = z.infer<typeof drawnLine>;
export type FieldFrame = z.infer<typeof frame>;
export type NoteOutput = z.infer<typeof note>;
export type TimelineOutput = z.infer<typeof timeline>;
export type LessonOutput = z.infer<typeof lesson>;

/** What was wrong with an output, in data: `path` within it, and the checker's own words for a developer. */
interface OutputProblem {
  readonly path: string;
  readonly why: string;
}

type OutputCheck =
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
function figurePoints(shown: FigureOutput): number {
  let points = 0;
  for (const m of shown.marks) points += pointsOf(m.data);
  return points;
}

/** Rows of a mark's data, whichever way it is written. */
export function pointsOf(data: FigureMark["data"]): number {
  if (Array.isArray(data)) return data.length;
  return Object.values(data)[0]?.length ?? 0;
}

/** A figure as options for Plot. Only marks and options that the output's schema names; data in the reader's units. */
import {
  areaY,
  barX,
  barY,
  dot,
  line,
  type Markish,
  type PlotOptions,
  rect,
  ruleX,
  ruleY,
  text,
  tickX,
} from "@observablehq/plot";
import { FRAME_ROOM, frameMark, type Way, wholeSteps } from "./figure-frame.ts";
import {
  FIGURE_HEIGHT,
  type FigureMark,
  type FigureOutput,
  pointsOf,
  TONES,
  type Tone,
} from "./output.ts";

/** How the reader wants to see it. */
export interface FigureReader {
  /** SI value in the reader's unit: `(443.15, "degC") => 338`. */
  readonly inUnit: (value: number, unit: string) => number;
  /** Name of that unit: `°F`. */
  readonly unitName: (unit: string) => string;
  /** CSS color of a tone. */
  readonly tone: (tone: Tone) => string;
  readonly width: number;
  /** Needed where there is no global one. */
  readonly document?: Document;
}

const MINUTE = 60;
const LABEL_LINE = 15; // px
const LETTER = 6.6; // px, at the size of a figure's labels

export function plotOptions(figure: FigureOutput, reader: FigureReader): PlotOptions {
  const height = figure.height ?? FIGURE_HEIGHT;
  const columns = figure.marks.map((mark) => columnsOf(mark, figure, reader));
  const labels = endLabels(figure, columns, reader, height);
  const longest = Math.max(0, ...labels.map(({ words }) => words.length));
  const across = span(columns, ["x", "x1", "x2"]);
  const up = span(columns, ["y", "y1", "y2"]);
  const x = wayOf(figure.x, reader, across);
  const y = wayOf(figure.y, reader, up);
  const marginRight = Math.min(16 + longest * LETTER, reader.width / 3);
  const room = {
    width: reader.width - FRAME_ROOM.left - marginRight,
    height: height - FRAME_ROOM.top - FRAME_ROOM.bottom,
  };
  const even = figure.sameScale ? evenDomains(across.ends, up.ends, room) : undefined;
  return {
    width: reader.width,
    height,
    marginLeft: FRAME_ROOM.left,
    marginBottom: FRAME_ROOM.bottom,
    marginTop: FRAME_ROOM.top,
    marginRight,
    ...(reader.document && { document: reader.document }),
    style: { fontSize: "13px", background: "transparent", overflow: "visible" },
    x: {
      ...x.scale,
      ...numbered(figure.x, columns, "x"),
      ...(even && { domain: even.x }),
      axis: null,
    },
    y: {
      ...y.scale,
      ...numbered(figure.y, columns, "y"),
      ...(even && { domain: even.y }),
      axis: null,
    },
    marks: [
      frameMark({ x: x.way, y: y.way, ink: reader.tone("ink"), quiet: reader.tone("quiet") }),
      ...figure.marks.map((mark, i) => markOf(mark, columns[i] ?? {}, reader)),
      ...labels.map(({ words, at, y: height, color }) =>
        text([0], { x: [at], y: [height], text: [words], fill: color, textAnchor: "start", dx: 6 }),
      ),
    ],
  };
}

/** Bands that are named by numbers stand in their order: 2 before 12. */
function numbered(axis: FigureOutput["x"], columns: readonly Columns[], place: "x" | "y") {
  if (axis.type !== "band") return {};
  const names = new Set(columns.flatMap((column) => Array.from(column[place] ?? [], String)));
  const byNumber = [...names].sort((a, b) => Number(a) - Number(b));
  return byNumber.every((name) => Number.isFinite(Number(name))) ? { domain: byNumber } : {};
}

/** Room beside a body, as a share of its size. */
const BESIDE = 0.06;

/** The longer side of a body fills its room, from the left; the other one has the same scale and stands in the middle. */
function evenDomains(
  [left, right]: readonly [number, number],
  [low, high]: readonly [number, number],
  room: { readonly width: number; readonly height: number },
): { x: [number, number]; y: [number, number] } {
  const perPixel = Math.max(
    ((1 + BESIDE) * (right - left)) / Math.max(1, room.width),
    ((1 + BESIDE) * (high - low)) / Math.max(1, room.height),
    Number.MIN_VALUE,
  );
  const middle = (low + high) / 2;
  const half = (perPixel * room.height) / 2;
  const start = left - (BESIDE / 4) * (right - left);
  return { x: [start, start + perPixel * room.width], y: [middle - half, middle + half] };
}

type Column = ArrayLike<string | number | null>;
type Columns = Readonly<Record<string, Column>>;

const PLACES = ["x", "x1", "x2", "y", "y1", "y2"] as const;

/** The mark's places by channel, converted; and its other fields as they are, under their own names. */
function columnsOf(mark: FigureMark, figure: FigureOutput, reader: FigureReader): Columns {
  const count = pointsOf(mark.data);
  const columns: Record<string, Column> = {};
  for (const place of PLACES) {
    const given = mark[place];
    if (given === undefined) continue;
    const unit = (place.startsWith("x") ? figure.x.unit : figure.y.unit) ?? "1";
    const convert = (v: string | number | null) =>
      typeof v === "number" ? reader.inUnit(v, unit) : v;
    const column = typeof given === "number" ? undefined : fieldOf(mark, given);
    if (typeof given === "number") {
      columns[place] = Array.from({ length: Math.max(count, 1) }, () => convert(given));
    } else if (column !== undefined) columns[place] = Array.from(column, convert);
  }
  return columns;
}

/** A field of the mark's data by its name. */
function fieldOf(mark: FigureMark, name: string): Column | undefined {
  const { data } = mark;
  if (Array.isArray(data)) {
    if (!data.some((row) => Object.hasOwn(row, name))) return undefined;
    return data.map((row) => row[name] ?? null);
  }
  return Object.hasOwn(data, name) ? data[name] : undefined;
}

function colorOf(mark: FigureMark, word: string | undefined, reader: FigureReader) {
  if (word === undefined) return undefined;
  // a tone is a tone, also where a field of the data has its name
  if ((TONES as readonly string[]).includes(word)) return reader.tone(word as Tone);
  const field = fieldOf(mark, word);
  return field === undefined ? word : Array.from(field);
}

/** What tells the series of a mark apart: a field that is named, or the words by which it is painted; else it is one. */
function seriesOf(mark: FigureMark, painted: readonly unknown[]): unknown[] | null {
  const named = mark.z === undefined ? undefined : fieldOf(mark, mark.z);
  if (named !== undefined) return Array.from(named);
  return painted.find(isOfWords) ?? null;
}

const isOfWords = (column: unknown): column is string[] =>
  Array.isArray(column) && column.every((cell) => typeof cell === "string");

function markOf(mark: FigureMark, columns: Columns, reader: FigureReader): Markish {
  const length = Object.values(columns)[0]?.length ?? pointsOf(mark.data);
  const data = { length } as ArrayLike<unknown>;
  const plain = (value: object) =>
    Object.fromEntries(Object.entries(value).filter(([, v]) => v !== undefined));
  const { strokeWidth, strokeDasharray, strokeOpacity, fillOpacity, r, dx, dy, fontSize } = mark;
  const words = mark.text === undefined ? undefined : fieldOf(mark, mark.text);
  const stroke = colorOf(mark, mark.stroke, reader);
  const fill = colorOf(mark, mark.fill, reader);
  const options = plain({
    ...columns,
    stroke,
    fill,
    z: seriesOf(mark, [stroke, fill]),
    strokeWidth,
    strokeDasharray,
    strokeOpacity,
    fillOpacity,
  });
  switch (mark.mark) {
    case "line":
      return line(data, { strokeWidth: 2.5, ...options, ...plain({ curve: mark.curve }) });
    case "area":
      return areaY(data, { ...options, ...plain({ curve: mark.curve }) });
    case "dot":
      return dot(data, { ...options, ...plain({ r, symbol: mark.symbol }) });
    case "rule-x":
      return ruleX(data, options);
    case "rule-y":
      return ruleY(data, options);
    case "tick-x":
      return tickX(data, options);
    case "bar-x":
      return barX(data, options);
    case "bar-y":
      return barY(data, options);
    case "rect":
      return rect(data, options);
    case "text": {
      const said = words ?? Array.from({ length }, () => mark.text ?? mark.label ?? "");
      const more = plain({ textAnchor: mark.textAnchor, dx, dy, fontSize });
      return text(data, { ...options, text: Array.from(said), ...more });
    }
  }
}

interface EndLabel {
  readonly words: string;
  readonly at: number;
  y: number;
  readonly color: string;
}

/** Each line's words behind its last point, moved apart where they would lie on each other. */
function endLabels(
  figure: FigureOutput,
  columns: readonly Columns[],
  reader: FigureReader,
  height: number,
): EndLabel[] {
  const labels: EndLabel[] = [];
  figure.marks.forEach((mark, i) => {
    const { x, y } = columns[i] ?? {};
    if (mark.label === undefined || mark.mark !== "line" || !x || !y) return;
    for (let k = x.length - 1; k >= 0; k--) {
      const at = x[k];
      const level = y[k];
      if (typeof at !== "number" || typeof level !== "number") continue;
      const color = colorOf(mark, mark.stroke, reader);
      labels.push({
        words: mark.label,
        at,
        y: level,
        color: typeof color === "string" ? color : reader.tone("ink"),
      });
      return;
    }
  });
  const [least, most] = domainOf(figure.y, reader) ?? span(columns, ["y", "y1", "y2"]).ends;
  const room =
    ((most - least) / Math.max(height - FRAME_ROOM.top - FRAME_ROOM.bottom, 1)) * LABEL_LINE;
  labels.sort((a, b) => b.y - a.y);
  labels.forEach((label, i) => {
    const above = labels[i - 1];
    if (above && above.y - label.y < room) label.y = above.y - room;
  });
  return labels;
}

function domainOf(axis: FigureOutput["x"], reader: FigureReader): [number, number] | undefined {
  if (axis.domain?.length !== 2) return undefined;
  const [from = 0, to = 1] = axis.domain.map((v) => reader.inUnit(v, axis.unit ?? "1"));
  return [from, to];
}

interface Span {
  /** Least and most. */
  readonly ends: [number, number];
  /** All are whole numbers. */
  readonly isCounted: boolean;
}

/** The span of the numbers in these channels. */
function span(columns: readonly Columns[], channels: readonly string[]): Span {
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  let isCounted = true;
  for (const mark of columns) {
    for (const channel of channels) {
      const column = Object.hasOwn(mark, channel) ? mark[channel] : undefined;
      for (let i = 0; column && i < column.length; i++) {
        const value = column[i];
        if (typeof value !== "number") continue;
        if (value < least) least = value;
        if (value > most) most = value;
        if (!Number.isInteger(value)) isCounted = false;
      }
    }
  }
  return least <= most ? { ends: [least, most], isCounted } : { ends: [0, 1], isCounted: false };
}

/** One way of the figure: its scale for Plot, and what the frame says along it. */
function wayOf(
  axis: FigureOutput["x"],
  reader: FigureReader,
  { ends: [least, most], isCounted }: Span,
): { scale: object; way: Way } {
  const unit = axis.unit ?? "1";
  const domain = domainOf(axis, reader);
  const scale = { ...(axis.type && { type: axis.type }), ...(domain && { domain }) };
  const leaders = axis.grid ?? true;
  const first = domain?.[0] ?? least;
  const last = domain?.[1] ?? most;
  const titled = (name: string) => (name === "" ? axis.label : `${axis.label} (${name})`);
  if (unit === "s" && last - first > 2 * MINUTE) {
    const { ticks, words, name } = timeTicks(first, last, reader.width);
    return { scale, way: { title: titled(name), ticks, words, leaders } };
  }
  if (unit !== "1") return { scale, way: { title: titled(reader.unitName(unit)), leaders } };
  // what is counted has no half
  const few = isCounted && last - first <= MOST_BY_ONE;
  const ticks = few ? wholeSteps(first, last, Math.max(1, last - first)) : undefined;
  return { scale, way: { title: titled(""), ticks, leaders } };
}

/** Counts up to here have a figure each: past them whole steps are whole by themselves. */
const MOST_BY_ONE = 10;

const TIME_STEPS = [15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14400, 21600, 43200, 86400];

/** Ticks at whole minutes or hours, since 250 s says nothing to anyone with a clock. */
function timeTicks(from: number, to: number, width: number) {
  const most = Math.max(3, Math.floor(width / 80));
  const step = TIME_STEPS.find((s) => (to - from) / s <= most) ?? (to - from) / most;
  const ticks: number[] = [];
  const first = Math.ceil(from / step);
  const count = Math.min(Math.floor(to / step + 1e-9) - first, most + 1);
  for (let k = 0; k <= count; k++) ticks.push((first + k) * step);
  const two = (n: number) => String(n).padStart(2, "0");
  const hours = step >= 1800;
  const words = (s: number) => {
    if (hours)
      return step % 3600 === 0 ? `${s / 3600}` : `${Math.floor(s / 3600)}:${two((s / 60) % 60)}`;
    return step % 60 === 0 ? `${s / 60}` : `${Math.floor(s / 60)}:${two(s % 60)}`;
  };
  return { ticks, words, name: hours ? "h" : "min" };
}

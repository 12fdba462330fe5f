/**
 * What stands around a figure's lines: the ways of a drawing board instead of a chart's axes. Across runs a printed
 * rule with long and fine marks, the same as the tape of an answer; up run dotted leaders from each figure; what they
 * count stands in a title block below.
 */
import type { Markish, RenderFunction } from "@observablehq/plot";

/** One way of a figure, across or up, as the reader sees it. */
export interface Way {
  readonly title: string;
  /** Places of the figures in the reader's units; left out: whole steps of the scale. */
  readonly ticks?: readonly number[] | undefined;
  readonly words?: ((value: number) => string) | undefined;
  readonly leaders: boolean;
}

interface Frame {
  readonly x: Way;
  readonly y: Way;
  readonly ink: string;
  readonly quiet: string;
}

/** Room that the frame takes, px. */
export const FRAME_ROOM = { left: 54, top: 14, bottom: 82 } as const;

const LETTER = 7; // px, of the title block
const CELL = 34; // px, its height

interface Scale {
  readonly type: string;
  readonly domain: readonly (number | string)[];
  readonly apply: (value: number | string) => number;
  readonly bandwidth?: number;
}

interface Place {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly width: number;
}

type Draw = (tag: string, attributes: Record<string, string | number>, words?: string) => void;

/** The frame as a mark that lies under the others. */
export function frameMark(frame: Frame): Markish {
  const render: RenderFunction = (_index, scales, _values, dimensions, context) => {
    const { document } = context;
    const group = document.createElementNS("http://www.w3.org/2000/svg", "g");
    group.setAttribute("class", "frame");
    const draw: Draw = (tag, attributes, words) => {
      const element = document.createElementNS("http://www.w3.org/2000/svg", tag);
      for (const [name, value] of Object.entries(attributes))
        element.setAttribute(name, String(value));
      if (words !== undefined) element.textContent = words;
      group.append(element);
    };
    const { x, y } = (scales as unknown as { scales: Record<"x" | "y", Scale | undefined> }).scales;
    const { width, height, marginLeft, marginRight, marginBottom } = dimensions;
    const place = {
      left: marginLeft,
      right: width - marginRight,
      bottom: height - marginBottom,
      width,
    };
    if (y) drawUp(draw, y, frame, place);
    if (x) drawAcross(draw, x, frame, place);
    titleBlock(draw, frame, place);
    return group;
  };
  return render;
}

/** Dotted leaders from the figures at the left, as in an index. */
function drawUp(draw: Draw, scale: Scale, { y, ink, quiet }: Frame, place: Place): void {
  for (const { at, words } of figuresOf(scale, y, 6)) {
    draw(
      "text",
      {
        x: place.left - 8,
        y: at,
        dy: "0.35em",
        "text-anchor": "end",
        fill: ink,
        "font-weight": 600,
      },
      words,
    );
    if (y.leaders)
      draw("line", {
        x1: place.left,
        x2: place.right,
        y1: at,
        y2: at,
        stroke: quiet,
        "stroke-width": 1.5,
        "stroke-linecap": "round",
        "stroke-dasharray": "0 7",
      });
  }
}

/** A printed rule: one long mark with its figure, four fine ones between. */
function drawAcross(draw: Draw, scale: Scale, { x, ink }: Frame, place: Place): void {
  const { left, right, bottom } = place;
  draw("line", { x1: left, x2: right, y1: bottom, y2: bottom, stroke: ink, "stroke-width": 2 });
  const figures = figuresOf(scale, x, Math.max(3, Math.floor((right - left) / 70)));
  const mark = (at: number, long: boolean) =>
    draw("line", {
      x1: at,
      x2: at,
      y1: bottom,
      y2: bottom + (long ? 13 : 7),
      stroke: ink,
      "stroke-width": long ? 1.5 : 1,
    });
  const [one, two] = figures;
  if (one && two && scale.type === "linear") {
    const fine = (two.at - one.at) / 5;
    const before = Math.floor((one.at - left + 0.5) / fine);
    for (let at = one.at - before * fine; at <= right + 0.5; at += fine) mark(at, false);
  }
  for (const { at, words } of figures) {
    mark(at, true);
    draw(
      "text",
      { x: at, y: bottom + 29, "text-anchor": "middle", fill: ink, "font-weight": 600 },
      words,
    );
  }
}

/** What the rule and the leaders count, in cells, as in the corner of a drawing. */
function titleBlock(draw: Draw, { x, y, ink, quiet }: Frame, { bottom, width }: Place): void {
  const cells = [
    { name: "up", words: y.title },
    { name: "across", words: x.title },
  ].filter(({ words }) => words !== "");
  if (cells.length === 0) return;
  const letters = cells.reduce((n, { words }) => n + words.length + 4, 0);
  const size = Math.max(9, Math.min(13, (13 * (width - 2)) / (letters * LETTER)));
  const top = bottom + 42;
  const wide = Math.min(width - 2, letters * LETTER);
  draw("rect", {
    x: 1,
    y: top,
    width: wide,
    height: CELL,
    fill: "none",
    stroke: ink,
    "stroke-width": 1.5,
  });
  let left = 1;
  cells.forEach(({ name, words }, i) => {
    if (i > 0)
      draw("line", {
        x1: left,
        x2: left,
        y1: top,
        y2: top + CELL,
        stroke: ink,
        "stroke-width": 1,
      });
    const place = { x: left + 8, "text-anchor": "start" };
    draw("text", { ...place, y: top + 13, fill: quiet, "font-size": 11 }, name);
    const weight = { fill: ink, "font-weight": 600, "font-size": size };
    draw("text", { ...place, ...weight, y: top + 28 }, words);
    left += (wide * (words.length + 4)) / letters;
  });
}

/** Where figures stand, px, and what they say. */
function figuresOf(scale: Scale, way: Way, most: number): { at: number; words: string }[] {
  const { domain, type, apply, bandwidth = 0 } = scale;
  if (type === "band" || type === "point" || type === "ordinal")
    return domain.map((v) => ({ at: apply(v) + bandwidth / 2, words: String(v) }));
  const ends = domain.filter((v) => typeof v === "number");
  const low = Math.min(...ends);
  const high = Math.max(...ends);
  const values = way.ticks ?? (type === "log" ? decades(low, high) : wholeSteps(low, high, most));
  const step = Math.abs((values[1] ?? 1) - (values[0] ?? 0));
  const digits = type === "log" ? undefined : Math.max(0, -Math.floor(Math.log10(step || 1)));
  const plain = (v: number) => (digits === undefined ? String(v) : v.toFixed(Math.min(digits, 8)));
  return values.map((v) => ({ at: apply(v), words: (way.words ?? plain)(v) }));
}

/** Whole steps of 1, 2 or 5 times a power of ten within the ends, at most `most` of them. */
export function wholeSteps(low: number, high: number, most: number): number[] {
  if (!(high > low)) return [low];
  const rough = (high - low) / most;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((n) => n * power).find((s) => s >= rough - 1e-12) ?? 10 * power;
  const first = Math.ceil(low / step - 1e-9);
  const last = Math.floor(high / step + 1e-9);
  // multiplied, not added up: 0.1 + 0.2 is not 0.3
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) =>
    Number(((first + i) * step).toPrecision(12)),
  );
}

/** Powers of ten within the ends, with 2 and 5 between where there are few. */
function decades(low: number, high: number): number[] {
  const from = Math.floor(Math.log10(low));
  const to = Math.ceil(Math.log10(high));
  const steps = to - from > 3 ? [1] : [1, 2, 5];
  const all: number[] = [];
  for (let k = from; k <= to; k++)
    for (const n of steps) all.push(Number((n * 10 ** k).toPrecision(6)));
  return all.filter((v) => v >= low * (1 - 1e-9) && v <= high * (1 + 1e-9));
}

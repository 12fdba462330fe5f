/**
 * Grid lines between two ends: cell sizes follow a wish that varies along the line, and chosen places (`snaps`)
 * are hit exactly, so that material boundaries along the grid fall on lines.
 */
import { doubles, doublesOf } from "../numerics/typed-lists.ts";

export function placeLines(
  from: number,
  to: number,
  snaps: readonly number[],
  size: (x: number) => number,
): Float64Array {
  const near = (to - from) * 1e-9;
  const stops = [from];
  for (const s of [...snaps].sort((a, b) => a - b))
    if (s > stops[stops.length - 1] + near && s < to - near) stops.push(s);
  stops.push(to);
  const lines = [from];
  for (let k = 0; k + 1 < stops.length; k++) {
    const inner = spread(stops[k], stops[k + 1], size);
    for (const x of inner) lines.push(x);
    lines.push(stops[k + 1]);
  }
  return doublesOf(lines, (x) => x);
}

/** Thrown instead of laying out more lines than any grid can have. */
export class TooManyLines extends Error {
  readonly count: number;
  constructor(count: number) {
    super(`${count} grid lines`);
    this.name = "TooManyLines";
    this.count = count;
  }
}

/** Lines of one stretch that are still laid out. */
const MOST_LINES = 1_000_000;
const LEAST_SAMPLES = 64;
const MOST_SAMPLES = 8192;

/** Inner lines so that each cell holds the same share of the integral of 1 / size. */
function spread(from: number, to: number, size: (x: number) => number): number[] {
  // the integral is taken in steps of half the smallest size: cells are smallest at the ends of a stretch
  const smallest = Math.min(size(from), size(to));
  const wanted = Math.ceil((2 * (to - from)) / smallest);
  const samples = Math.min(MOST_SAMPLES, Math.max(LEAST_SAMPLES, wanted));
  const sum = doubles(samples + 1);
  const step = (to - from) / samples;
  for (let i = 0; i < samples; i++) sum[i + 1] = sum[i] + step / size(from + (i + 0.5) * step);
  const count = Math.max(1, Math.round(sum[samples] + 0.2));
  if (!(count <= MOST_LINES)) throw new TooManyLines(count);
  const lines: number[] = [];
  for (let c = 1, i = 0; c < count; c++) {
    const want = (c / count) * sum[samples];
    while (sum[i + 1] < want) i++;
    lines.push(from + (i + (want - sum[i]) / (sum[i + 1] - sum[i])) * step);
  }
  return lines;
}

/** Every cell cut in two equal halves: the finer of two exactly nested grids. */
export function halved(lines: Float64Array): Float64Array {
  const out = doubles(2 * lines.length - 1);
  for (let i = 0; i < lines.length; i++) {
    out[2 * i] = lines[i];
    if (i + 1 < lines.length) out[2 * i + 1] = 0.5 * (lines[i] + lines[i + 1]);
  }
  return out;
}

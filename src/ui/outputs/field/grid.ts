/** A temperature field on its grid: where it lies, what it says at a place, its pixels. No state, no components. */
import type { FieldFrame, FieldOutput } from "../../../notebook/outputs/output.ts";
import { rampPixels } from "./color-ramp.ts";

export interface Extent {
  /** Extent in m. */
  readonly x0: number;
  readonly y0: number;
  readonly width: number;
  readonly height: number;
}

export interface Span {
  readonly coolest: number;
  readonly hottest: number;
}

export function extentOf(field: FieldOutput): Extent {
  const { x, y } = field.frames[0]!;
  return { x0: x[0]!, y0: y[0]!, width: x.at(-1)! - x[0]!, height: y.at(-1)! - y[0]! };
}

/** Over all frames, so that a color means the same temperature at every time. */
export function spanOf(frames: readonly FieldFrame[]): Span {
  let coolest = Number.POSITIVE_INFINITY;
  let hottest = Number.NEGATIVE_INFINITY;
  for (const { temperature } of frames)
    for (let i = 0; i < temperature.length; i++) {
      const T = temperature[i]!;
      if (T < coolest) coolest = T;
      if (T > hottest) hottest = T;
    }
  return { coolest, hottest: hottest > coolest ? hottest : coolest + 1 };
}

/** The cell that holds the place, or -1. */
function cellOf(faces: Float32Array, at: number): number {
  let low = 0;
  let high = faces.length - 1;
  if (!(at >= faces[0]!) || at > faces[high]!) return -1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (faces[middle]! <= at) low = middle;
    else high = middle;
  }
  return low;
}

/** Temperature of the cell at a place in m, K. */
export function temperatureAt(frame: FieldFrame, x: number, y: number): number | undefined {
  const i = cellOf(frame.x, x);
  const j = cellOf(frame.y, y);
  if (i < 0 || j < 0) return undefined;
  return frame.temperature[j * (frame.x.length - 1) + i];
}

/** Paints the frame, shaded between the middles of its cells; the canvas is as many pixels as it wants to be. */
export function paintField(canvas: HTMLCanvasElement, frame: FieldFrame, span: Span): void {
  const context = canvas.getContext("2d");
  if (!context) return;
  const { width, height } = canvas;
  const image = context.createImageData(width, height);
  const pixels = new Uint32Array(image.data.buffer);
  const even = evenly(frame, width, height);
  const scale = (rampPixels.length - 1) / (span.hottest - span.coolest);
  for (let i = 0; i < even.length; i++)
    pixels[i] = rampPixels[Math.round((even[i]! - span.coolest) * scale)]!;
  context.putImageData(image, 0, 0);
}

/** For each sample the cell whose middle lies before it, and how far it is on the way to the next middle. */
function betweenMiddles(
  faces: Float32Array,
  samples: number,
  flip: boolean,
): { cell: Int32Array; share: Float64Array } {
  const cell = new Int32Array(samples);
  const share = new Float64Array(samples);
  const last = faces.length - 2;
  const middle = (i: number) => (faces[i]! + faces[i + 1]!) / 2;
  const start = faces[0]!;
  const extent = faces.at(-1)! - start;
  for (let p = 0; p < samples; p++) {
    const s = (p + 0.5) / samples;
    const at = start + extent * (flip ? 1 - s : s);
    let i = Math.max(0, cellOf(faces, at));
    if (at < middle(i)) i--;
    if (i < 0 || i >= last) {
      cell[p] = Math.max(0, Math.min(last, i));
      continue;
    }
    cell[p] = i;
    share[p] = (at - middle(i)) / (middle(i + 1) - middle(i));
  }
  return { cell, share };
}

/** The frame on an even grid, row by row from the top, linear between the middles of its cells. */
export function evenly(frame: FieldFrame, columns: number, rows: number): Float64Array {
  const across = frame.x.length - 1;
  const up = frame.y.length - 1;
  const xs = betweenMiddles(frame.x, columns, false);
  const ys = betweenMiddles(frame.y, rows, true);
  const T = frame.temperature;
  const even = new Float64Array(columns * rows);
  for (let q = 0; q < rows; q++) {
    const low = ys.cell[q]! * across;
    const high = Math.min(up - 1, ys.cell[q]! + 1) * across;
    const fy = ys.share[q]!;
    for (let p = 0; p < columns; p++) {
      const i = xs.cell[p]!;
      const k = Math.min(across - 1, i + 1);
      const fx = xs.share[p]!;
      const below = T[low + i]! * (1 - fx) + T[low + k]! * fx;
      const above = T[high + i]! * (1 - fx) + T[high + k]! * fx;
      even[q * columns + p] = below * (1 - fy) + above * fy;
    }
  }
  return even;
}

/** Figures that several questions draw, as data. */
import type { FigureMark, FigureOutput, Tone } from "../notebook/outputs/output.ts";

interface Course {
  readonly times: readonly number[];
  readonly curves: Readonly<Record<string, readonly number[]>>;
}

/** Temperatures over time, with the limit as a line across. */
export function courseFigure(
  caption: string,
  { times, curves }: Course,
  limit: number,
  lines: readonly (readonly [name: string, tone: Tone, label: string])[],
): FigureOutput {
  const marks: FigureMark[] = lines
    .filter(([name]) => curves[name] !== undefined)
    .map(([name, stroke, label], i) => ({
      mark: "line",
      data: { t: [...times], T: [...curves[name]!] },
      x: "t",
      y: "T",
      stroke,
      label,
      ...(i > 0 && { strokeDasharray: ["", "12 3", "8 3", "2 3"][i % 4]! }),
    }));
  return {
    kind: "figure",
    caption,
    x: { label: "Time", unit: "s" },
    y: { label: "Temperature", unit: "degC" },
    marks: [
      { mark: "rule-y", data: [], y: limit, stroke: "good", strokeDasharray: "4 4" },
      ...marks,
    ],
  };
}

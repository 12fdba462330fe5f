/** What many jobs gave, as a table and a figure. */
import { outputUnit } from "../../../lib/units/display.ts";
import { figureName } from "../../messages/answer-figures.ts";
import type { FigureOutput, TableCell, TableOutput } from "../../notebook/outputs/output.ts";
import { shownText, type UnitSystem } from "../reading/shown.ts";
import type { Column, Gathered } from "./gathered.ts";

const SHARES = [
  ["the least", 0],
  ["one in ten is below", 0.1],
  ["half are below", 0.5],
  ["one in ten is above", 0.9],
  ["the most", 1],
] as const;
/** Dots of a figure: the first members are spread as evenly as all of them. */
const MOST_DOTS = 2000;

const unitOf = ({ kind }: Column) => (kind === undefined ? "" : outputUnit(kind));

/** A column in order; what has no such figure is left out, what never ends is last. */
interface Ordered extends Column {
  readonly ordered: Float64Array;
}

/** The figures that differ as they are written: others tell nothing. */
export function tellingColumns({ answered }: Gathered, system: UnitSystem): Ordered[] {
  return answered.flatMap((column) => {
    const ordered = Float64Array.from(column.numbers.filter((x) => !Number.isNaN(x))).sort();
    const text = (x: number) => shownText(x, unitOf(column), system);
    const [least, most] = [ordered[0], ordered.at(-1)];
    if (least === undefined || most === undefined || !Number.isFinite(least)) return [];
    if (Number.isFinite(most) && text(least) === text(most)) return [];
    return [{ ...column, ordered }];
  });
}

/** Each figure is one that a job has: no half of a mold. */
function atShare({ ordered, kind }: Ordered, share: number): TableCell {
  const number = ordered[Math.round(share * (ordered.length - 1))]!;
  if (Number.isFinite(number)) return number;
  return kind === "duration" ? "never" : "no limit";
}

export function spreadTable(columns: readonly Ordered[], answered: number): TableOutput {
  return {
    kind: "table",
    caption: `Of the ${answered} jobs that were answered`,
    columns: [
      { key: "what", label: "Of the jobs" },
      ...columns.map((c) => ({ key: c.key, label: figureName(c.key), unit: unitOf(c) })),
    ],
    rows: SHARES.map(([what, share]) => ({
      what,
      ...Object.fromEntries(columns.map((column) => [column.key, atShare(column, share)])),
    })),
  };
}

/** One figure of the answer over one key of the job. */
export function dots(x: Column, y: Column, labelOfX: string): FigureOutput {
  const count = x.numbers.length;
  const shown = Array.from({ length: Math.min(count, MOST_DOTS) }, (_, i) => i).filter(
    (i) => Number.isFinite(x.numbers[i]) && Number.isFinite(y.numbers[i]),
  );
  const which = count > MOST_DOTS ? `each of the first ${MOST_DOTS} jobs` : "each job";
  return {
    kind: "figure",
    caption: `${figureName(y.key)}, over ${labelOfX}: a dot for ${which}`,
    x: { label: labelOfX, unit: unitOf(x) },
    y: { label: figureName(y.key), unit: unitOf(y) },
    marks: [
      {
        mark: "dot",
        data: { x: shown.map((i) => x.numbers[i]!), y: shown.map((i) => y.numbers[i]!) },
        x: "x",
        y: "y",
        r: 2.5,
        fill: "ink",
        fillOpacity: 0.5,
      },
    ],
  };
}

/** What many jobs gave, as a table and a figure. */
import { weightedQuantiles } from "../../../lib/confidence/learn.ts";
import { outputUnit } from "../../../lib/units/display.ts";
import type { FigureOutput, TableOutput } from "../../notebook/outputs/output.ts";
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

/** `wallPeak` as words. */
export function wordsOf(key: string): string {
  return key.replace(/([A-Z])/g, (_, letter: string) => ` ${letter.toLowerCase()}`);
}

/** Figures that every answer gives as they are tell nothing, and none that nothing gives. */
function differ({ numbers }: Column): boolean {
  const finite = numbers.filter(Number.isFinite);
  return finite.some((x) => x !== finite[0]);
}

export const tellingColumns = ({ answered }: Gathered): Column[] => answered.filter(differ);

export function spreadTable(columns: readonly Column[]): TableOutput {
  const rows = SHARES.map(([what, share]) => {
    const cells = columns.map(({ key, numbers }) => {
      const finite = numbers.filter(Number.isFinite);
      const even = finite.map(() => 1 / finite.length);
      return [key, weightedQuantiles(finite, even, [share])[0]!] as const;
    });
    return { what, ...Object.fromEntries(cells) };
  });
  const without = columns.map(({ key, numbers }) => {
    const count = numbers.filter((x) => x === Number.POSITIVE_INFINITY).length;
    return [key, count === 0 ? "none" : String(count)] as const;
  });
  const someEndless = without.some(([, count]) => count !== "none");
  return {
    kind: "table",
    caption: "Of all these jobs",
    columns: [
      { key: "what", label: "Of the jobs" },
      ...columns.map((c) => ({ key: c.key, label: wordsOf(c.key), unit: unitOf(c) })),
    ],
    rows: [
      ...rows,
      ...(someEndless ? [{ what: "never, or no limit", ...Object.fromEntries(without) }] : []),
    ],
  };
}

/** One figure of the answer over one key of the job. */
export function dots(x: Column, y: Column, labelOfX: string): FigureOutput {
  const shown = Array.from({ length: Math.min(x.numbers.length, MOST_DOTS) }, (_, i) => i).filter(
    (i) => Number.isFinite(x.numbers[i]) && Number.isFinite(y.numbers[i]),
  );
  return {
    kind: "figure",
    caption: `${wordsOf(y.key)} over ${labelOfX}, a dot for each job`,
    x: { label: labelOfX, unit: unitOf(x) },
    y: { label: wordsOf(y.key), unit: unitOf(y) },
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

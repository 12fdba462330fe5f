/** The members of a sweep as they come in: the text of its file, and its numbers in SI and kelvin. */
import { fromUnit } from "../../../lib/units/display.ts";
import { type Kind, kinds } from "../../../lib/units/kinds.ts";
import { isProblem, readQuantity } from "../../../lib/units/quantity.ts";
import type { AnswerFigure, Sweep } from "../../sweep/members.ts";
import { settingAt, type Varied } from "../../sweep/varied.ts";

/** A number for each member; NaN where there is none, Infinity where there is no end. */
export interface Column {
  /** A key of the job, or of the answer. */
  readonly key: string;
  /** Absent for counts and ratios. */
  readonly kind?: Kind;
  readonly numbers: number[];
}

export class Gathered {
  readonly #sweep: Sweep;
  readonly #text: string[];
  readonly varied: readonly Column[];
  readonly answered: readonly Column[];
  count = 0;
  refused = 0;
  /** How many were refused for each reason, as the file has it: `run.shots not_whole`. */
  readonly reasons = new Map<string, number>();

  constructor(sweep: Sweep, header: string, figures: readonly AnswerFigure[], kindOf: KindOf) {
    this.#sweep = sweep;
    this.#text = [`${header}\n`];
    this.varied = sweep.varied.map(({ path }) => columnOf(path, kindOf(path)));
    this.answered = figures.map(({ key, unit, kind }) => columnOf(key, kindOfFigure(kind, unit)));
  }

  /** Lines as the command writes them into its file. */
  add(lines: string): void {
    this.#text.push(lines);
    for (const line of lines.trimEnd().split("\n")) {
      const cells = line.split(",");
      this.count++;
      const why = cells.at(-1)!;
      if (why !== "") {
        this.refused++;
        this.reasons.set(why, (this.reasons.get(why) ?? 0) + 1);
      }
      this.varied.forEach((column, i) => {
        column.numbers.push(typedNumber(this.#sweep.varied[i]!, cells[1 + i]!, column.kind));
      });
      this.answered.forEach((column, i) => {
        column.numbers.push(numberOf(cells[1 + this.varied.length + i]!, column.kind));
      });
    }
  }

  /** The file that the command writes, byte for byte. */
  file(): Blob {
    return new Blob(this.#text, { type: "text/csv" });
  }
}

export type KindOf = (path: string) => Kind | undefined;

const columnOf = (key: string, kind: Kind | undefined): Column => ({
  key,
  numbers: [],
  ...(kind && { kind }),
});

/** What a figure of an answer is: as its question tells, or else by its unit. */
function kindOfFigure(told: AnswerFigure["kind"], unit: string): Kind | undefined {
  if (told !== undefined) return told === "count" ? undefined : told;
  if (unit === "") return undefined;
  if (unit === "degC") return "temperature";
  const found = (Object.keys(kinds) as Kind[]).find((kind) => kinds[kind].si === unit);
  return found === "temperature" ? "temperatureDifference" : found;
}

function typedNumber(varied: Varied, cell: string, kind: Kind | undefined): number {
  if (kind === undefined) return Number(cell);
  const read = readQuantity(settingAt(varied, Number(cell)), kind);
  return isProblem(read) ? Number.NaN : read.value;
}

function numberOf(cell: string, kind: Kind | undefined): number {
  if (cell === "never" || cell === "no limit") return Number.POSITIVE_INFINITY;
  if (cell === "") return Number.NaN;
  return kind === "temperature" ? fromUnit(Number(cell), "degC") : Number(cell);
}

/**
 * How much of a page's output is drawn, all of it together: no page may hold the sheet up. What is more is cut, and the
 * cut is said where it was made.
 */
import { type FigureMark, type Output, pointsOf } from "./output.ts";

/** Room for many times what an honest page shows. */
const BUDGET = {
  /** Cells of all tables. */
  cells: 6000,
  /** Letters of all labels, notes and cells. */
  letters: 60_000,
  /** Points of lines and areas, of all figures. */
  points: 20_000,
  /** Marks that are drawn one by one: dots, bars, ticks, words. */
  pieces: 3000,
  /** Values of all fields: their grids, at all times, and their outlines. */
  fieldValues: 4_000_000,
} as const;

type Budget = Record<keyof typeof BUDGET, number>;

/** Marks of which each point is an element of its own. */
const ONE_PATH = new Set<FigureMark["mark"]>(["line", "area"]);

/** Marks that are stacked on a letter: more than these make lines of text that overlap the sheet and take long to set. */
const STACKED = /(\p{M}{6})\p{M}+/gu;

/** Spends what is left on one output after the other. */
export class Spender {
  readonly #left: Budget = { ...BUDGET };

  /** The output as far as it can be afforded, and a note on what was cut. */
  afford(output: Output): readonly Output[] {
    const cut: string[] = [];
    const shown = this.#worded(this.#fitted(output, cut), cut);
    const said = cut.length === 0 ? [] : [noteOn(output, cut)];
    return shown === undefined ? said : [shown, ...said];
  }

  /** Takes what is there, at most `wanted`. */
  #take(what: keyof Budget, wanted: number): number {
    const taken = Math.min(wanted, this.#left[what]);
    this.#left[what] -= taken;
    return taken;
  }

  #fitted(output: Output, cut: string[]): Output | undefined {
    if (output.kind === "table") {
      const columns = output.columns.length;
      const rows = Math.floor(this.#take("cells", output.rows.length * columns) / columns);
      if (rows >= output.rows.length) return output;
      cut.push(`${rows} of ${output.rows.length} rows are shown`);
      return { ...output, rows: output.rows.slice(0, rows) };
    }
    if (output.kind === "figure") {
      const afforded = output.marks.filter((mark) => {
        const points = Math.max(1, pointsOf(mark.data));
        return this.#takeAll(ONE_PATH.has(mark.mark) ? "points" : "pieces", points);
      });
      if (afforded.length === output.marks.length) return output;
      cut.push(`${afforded.length} of ${output.marks.length} marks are drawn`);
      return afforded.length === 0 ? undefined : { ...output, marks: afforded };
    }
    if (output.kind === "field") {
      const lines = [...output.outline, ...(output.lines ?? []).map((line) => line.points)];
      const points = lines.reduce((n, line) => n + line.length, 0);
      const values = output.frames.reduce((n, f) => n + f.temperature.length, points);
      if (this.#takeAll("fieldValues", values)) return output;
      cut.push("the field is not drawn");
      return undefined;
    }
    return output;
  }

  #takeAll(what: keyof Budget, wanted: number): boolean {
    if (wanted > this.#left[what]) return false;
    this.#left[what] -= wanted;
    return true;
  }

  /** Its words, with no letter under a tower of marks; without those that are too many in all. */
  #worded(output: Output | undefined, cut: string[]): Output | undefined {
    if (output === undefined) return undefined;
    const letters = lettersOf(output);
    if (!this.#takeAll("letters", letters)) {
      cut.push(`its ${letters} letters are too many`);
      return undefined;
    }
    return calmed(output) as Output;
  }
}

function noteOn(output: Output, cut: readonly string[]): Output {
  const text = `Cut, since a sheet can hold no more: ${cut.join("; ")} (${output.kind}).`;
  return { kind: "note", tone: "caution", text };
}

/** Letters of everything but what is drawn as a number. */
function lettersOf(value: unknown): number {
  if (typeof value === "string") return value.length;
  if (typeof value !== "object" || value === null || ArrayBuffer.isView(value)) return 0;
  let letters = 0;
  for (const inner of Object.values(value)) letters += lettersOf(inner);
  return letters;
}

/** The same with stacked marks cut; the same object where there are none. */
function calmed(value: unknown): unknown {
  if (typeof value === "string") return value.replace(STACKED, "$1");
  if (typeof value !== "object" || value === null || ArrayBuffer.isView(value)) return value;
  if (Array.isArray(value)) {
    const list = value.map(calmed);
    return list.some((v, i) => v !== value[i]) ? list : value;
  }
  const entries = Object.entries(value).map(([key, inner]) => [key, calmed(inner)] as const);
  const same = entries.every(([key, inner]) => inner === (value as Record<string, unknown>)[key]);
  return same ? value : Object.fromEntries(entries);
}

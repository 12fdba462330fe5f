import type { ComponentChildren, RefObject } from "preact";
import { useId, useLayoutEffect, useRef, useState } from "preact/hooks";
import {
  cellAt,
  stepFor,
  type TableCell,
  type TableOutput,
} from "../../notebook/outputs/output.ts";
import { useSlices } from "../frame/growing.ts";
import { useWidth } from "../frame/use-width.ts";
import { boundWriting, type Writing, writing } from "../reading/column.ts";
import { unitSystem } from "../reading/preferences.ts";
import { inReaderUnit, readerUnit, shown, shownText, type UnitSystem } from "../reading/shown.ts";
import { type Old, OldWord } from "./old-word.tsx";
import { type Cell as CsvCell, csvText, fileName, saveFile } from "./save.ts";

/** One table as it is written: captions, units and figures for the reader. */
interface Sheet {
  readonly output: TableOutput;
  readonly system: UnitSystem;
  readonly written: ReadonlyMap<string, Writing | undefined>;
  /** As many of its rows as are drawn by now: a long table is drawn in slices. */
  readonly rows: TableOutput["rows"];
}

export function Table({ output, old }: { output: TableOutput; old: Old }) {
  const system = unitSystem.value;
  const drawn = useSlices(output.rows.length, Math.ceil(CELLS_AT_ONCE / output.columns.length));
  const written = new Map(
    output.columns.map(({ key, unit = "", towards, keeps }) => [
      key,
      towards
        ? boundWriting(unit, towards, system, keeps)
        : writing(numbersOf(output, key), unit, system),
    ]),
  );
  const sheet: Sheet = { output, system, written, rows: output.rows.slice(0, drawn) };
  const frame = useRef<HTMLDivElement>(null);
  const isTooWide = useTooWide(frame, output, system, drawn);
  const [title = "", ...rest] = output.caption.split("\n");
  const caption = (
    <span>
      {title} <OldWord old={old} />
      {rest.map((line) => (
        <span class="source" key={line}>
          {line}
        </span>
      ))}
    </span>
  );
  return (
    <div class={`table-part ${old ? "is-old" : ""}`}>
      <div class="table-frame hatched" ref={frame}>
        {isTooWide ? (
          <Entries sheet={sheet} caption={caption} />
        ) : (
          <Rows sheet={sheet} caption={caption} />
        )}
      </div>
      <button type="button" class="plain no-print" onClick={() => saveTable(output, system)}>
        Keep this table (CSV)
      </button>
    </div>
  );
}

/**
 * Whether the columns do not fit beside each other. Found by setting them once: before the browser paints, so that
 * nothing is seen to move.
 */
function useTooWide(
  frame: RefObject<HTMLDivElement | null>,
  output: TableOutput,
  system: UnitSystem,
  drawn: number,
): boolean {
  const width = useWidth(frame);
  /** How much the columns took when they last did not fit. */
  const [needed, setNeeded] = useState(0);
  useLayoutEffect(() => setNeeded(0), [output, system]);
  useLayoutEffect(() => {
    const { current } = frame;
    if (!current || needed > 0 || !current.querySelector("table")) return;
    if (current.scrollWidth > current.clientWidth + 1) setNeeded(current.scrollWidth);
  }, [width, needed, output, system, drawn]);
  return needed > 0 && (width === 0 || width < needed);
}

function Rows({ sheet, caption }: { sheet: Sheet; caption: ComponentChildren }) {
  const { columns } = sheet.output;
  return (
    <table>
      <caption>{caption}</caption>
      <thead>
        <tr>
          {columns.map((c) => (
            <th key={c.key} scope="col" class={isFigures(sheet.output, c.key) ? "figures" : ""}>
              {c.label}
              {columnUnit(c.unit, sheet.system)}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {sheet.rows.map((row, i) => (
          <tr key={i}>
            {columns.map((c) => (
              <td key={c.key} class={isFigures(sheet.output, c.key) ? "figures" : ""}>
                <Cell sheet={sheet} column={c} row={row} />
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** The same for a narrow sheet: an entry for each row, its first cell for a heading, leaders to the others. */
function Entries({ sheet, caption }: { sheet: Sheet; caption: ComponentChildren }) {
  const id = useId();
  const [first, ...others] = sheet.output.columns;
  return (
    <>
      <p class="entries-caption" id={id}>
        {caption}
      </p>
      <ul class="entries" aria-labelledby={id}>
        {sheet.rows.map((row, i) => (
          <li key={i}>
            <p class="entry-head">
              {isFigures(sheet.output, first!.key) && (
                <span class="entry-name">
                  {first!.label}
                  {columnUnit(first!.unit, sheet.system)}{" "}
                </span>
              )}
              <Cell sheet={sheet} column={first!} row={row} />
            </p>
            <dl>
              {others.map((c) => (
                <div class="entry-line" key={c.key}>
                  <dt>
                    {c.label}
                    {columnUnit(c.unit, sheet.system)}
                  </dt>
                  <dd>
                    <Cell sheet={sheet} column={c} row={row} />
                  </dd>
                </div>
              ))}
            </dl>
          </li>
        ))}
      </ul>
    </>
  );
}

/** Cells that are drawn in one go. */
const CELLS_AT_ONCE = 600;

interface CellProps {
  readonly sheet: Sheet;
  readonly column: TableOutput["columns"][number];
  readonly row: TableOutput["rows"][number];
}

function Cell({ sheet, column, row }: CellProps) {
  return (
    <CellText
      cell={cellAt(row, column.key)}
      unit={column.unit ?? ""}
      system={sheet.system}
      step={stepFor(column.step, sheet.system)}
      write={sheet.written.get(column.key)}
    />
  );
}

function numbersOf(table: TableOutput, key: string): number[] {
  return table.rows.map((r) => cellAt(r, key)).filter((c) => typeof c === "number");
}

function isFigures(table: TableOutput, key: string): boolean {
  return table.rows.some((r) => {
    const cell = cellAt(r, key);
    return typeof cell === "number" || isRange(cell);
  });
}

const isRange = (cell: TableCell) => typeof cell === "object" && cell !== null;

function columnUnit(unit: string | undefined, system: UnitSystem): string {
  if (unit === undefined || unit === "s") return "";
  const name = readerUnit(unit, system);
  return name === "" ? "" : `, ${name}`;
}

function CellText(props: {
  cell: TableCell;
  unit: string;
  system: UnitSystem;
  step: number | undefined;
  write: Writing | undefined;
}) {
  const { cell, unit, system, step, write } = props;
  if (cell === null) return <>{"\u2013"}</>;
  if (typeof cell === "string") return <>{unbroken(cell)}</>;
  if (typeof cell === "boolean") return <>{cell ? "yes" : "no"}</>;
  if (typeof cell === "number")
    return <>{write && Number.isFinite(cell) ? write(cell) : withoutUnit(cell, unit, system)}</>;
  const reading = shown(cell, unit, system, { step });
  return (
    <>
      {reading.parts
        .map((p) => `${p.figure}${isTime(unit) && p.unit !== "min" ? ` ${p.unit}` : ""}`)
        .join(" ")}
      <span class="band">
        {withoutUnit(cell.low, unit, system, step)} to {withoutUnit(cell.high, unit, system, step)}
      </span>
    </>
  );
}

/** A time may be broken between minutes and seconds, a weight between grams and ounces, none of them before its unit. */
const NUMBER_AND_UNIT = /(\d) (min|s|h|g|kg|oz|lb)\b/g;
const unbroken = (text: string): string => text.replace(NUMBER_AND_UNIT, "$1\u00a0$2");

const isTime = (unit: string) => unit === "s";

/** The column says the unit; a time says its own, since rows may be seconds and hours. */
function withoutUnit(value: number, unit: string, system: UnitSystem, step?: number): string {
  const text = shownText(value, unit, system, step);
  const name = readerUnit(unit, system);
  if (isTime(unit)) return unbroken(text);
  return name === "" ? text : text.replace(` ${name}`, "");
}

/** The table as it is shown, but with plain numbers: times in s, ranges as three columns. */
function saveTable(table: TableOutput, system: UnitSystem): void {
  const ranged = new Set(
    table.columns
      .filter((c) => table.rows.some((r) => isRange(cellAt(r, c.key))))
      .map((c) => c.key),
  );
  const header = table.columns.flatMap((c) => {
    const unit = c.unit === "s" ? "s" : readerUnit(c.unit ?? "", system);
    const name = unit === "" ? c.label : `${c.label} (${unit})`;
    return ranged.has(c.key) ? [name, `${name}, low`, `${name}, high`] : [name];
  });
  const rows = table.rows.map((row) =>
    table.columns.flatMap((c): CsvCell[] => {
      const number = (v: number) => Number(inReaderUnit(v, c.unit ?? "", system).toPrecision(6));
      const cell = cellAt(row, c.key);
      const value = typeof cell === "number" ? number(cell) : cell;
      if (value !== null && typeof value === "object")
        return [number(value.value), number(value.low), number(value.high)];
      return ranged.has(c.key) ? [value, null, null] : [value];
    }),
  );
  saveFile(fileName(table.caption.split("\n")[0] ?? "", "csv"), csvText(header, rows), "text/csv");
}

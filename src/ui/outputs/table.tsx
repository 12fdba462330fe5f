import { cellAt, type TableCell, type TableOutput } from "../../notebook/outputs/output.ts";
import { useSlices } from "../frame/growing.ts";
import { Scroll } from "../frame/scroll.tsx";
import { type Writing, writing } from "../reading/column.ts";
import { unitSystem } from "../reading/preferences.ts";
import { inReaderUnit, readerUnit, shown, shownText, type UnitSystem } from "../reading/shown.ts";
import { type Old, OldWord } from "./old-word.tsx";
import { type Cell, csvText, fileName, saveFile } from "./save.ts";

export function Table({ output, old }: { output: TableOutput; old: Old }) {
  const system = unitSystem.value;
  const [title = "", ...rest] = output.caption.split("\n");
  // a long table is drawn in slices
  const rows = useSlices(output.rows.length, Math.ceil(CELLS_AT_ONCE / output.columns.length));
  const written = new Map(
    output.columns.map((c) => [c.key, writing(numbersOf(output, c.key), c.unit ?? "", system)]),
  );
  return (
    <div class={`table-part ${old ? "is-old" : ""}`}>
      <Scroll label={title} class="hatched">
        <table>
          <caption>
            <span>
              {title} <OldWord old={old} />
              {rest.map((line) => (
                <span class="source" key={line}>
                  {line}
                </span>
              ))}
            </span>
          </caption>
          <thead>
            <tr>
              {output.columns.map((c) => (
                <th key={c.key} scope="col" class={isFigures(output, c.key) ? "figures" : ""}>
                  {c.label}
                  {columnUnit(c.unit, system)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {output.rows.slice(0, rows).map((row, i) => (
              <tr key={i}>
                {output.columns.map((c) => (
                  <td key={c.key} class={isFigures(output, c.key) ? "figures" : ""}>
                    <CellText
                      cell={cellAt(row, c.key)}
                      unit={c.unit ?? ""}
                      system={system}
                      write={written.get(c.key)}
                    />
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      <button type="button" class="plain no-print" onClick={() => saveTable(output, system)}>
        Keep this table (CSV)
      </button>
    </div>
  );
}

/** Cells that are drawn in one go. */
const CELLS_AT_ONCE = 600;

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
  write: Writing | undefined;
}) {
  const { cell, unit, system, write } = props;
  if (cell === null) return <>{"\u2013"}</>;
  if (typeof cell === "string") return <>{cell}</>;
  if (typeof cell === "boolean") return <>{cell ? "yes" : "no"}</>;
  if (typeof cell === "number")
    return <>{write && Number.isFinite(cell) ? write(cell) : withoutUnit(cell, unit, system)}</>;
  const reading = shown(cell.value, cell.low, cell.high, unit, system);
  return (
    <>
      {reading.parts
        .map((p) => `${p.figure}${isTime(unit) && p.unit !== "min" ? ` ${p.unit}` : ""}`)
        .join(" ")}
      <span class="band">
        {withoutUnit(cell.low, unit, system)} to {withoutUnit(cell.high, unit, system)}
      </span>
    </>
  );
}

const isTime = (unit: string) => unit === "s";

/** The column says the unit; a time says its own, since rows may be seconds and hours. */
function withoutUnit(value: number, unit: string, system: UnitSystem): string {
  const text = shownText(value, unit, system);
  const name = readerUnit(unit, system);
  return !isTime(unit) && name !== "" ? text.replace(` ${name}`, "") : text;
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
    table.columns.flatMap((c): Cell[] => {
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

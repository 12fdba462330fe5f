/**
 * What a working shows, brought to the form that is drawn: the library's ranges carry a kind and may be infinite
 * ("never" for a time, "no limit" for what may be as large as one likes), outputs have a unit and are finite.
 */
import { kindOfOutput, outputUnit } from "../../../lib/units/display.ts";
import { type Kind, kinds } from "../../../lib/units/kinds.ts";

type Plain = Record<string, unknown>;

/** What stands for a number without end, by the unit that it is shown in. */
function endless(unit: unknown): string {
  const kind = typeof unit === "string" ? kindOfOutput(unit) : undefined;
  return kind === "duration" ? "never" : "no limit";
}

/** `given` is plain data, copied before. Throws for a number that can't be drawn. */
export function formed(kind: string, given: Plain): Plain {
  if (kind === "answer") return answer(given);
  if (kind === "table") return table(given);
  finite(given);
  return given;
}

function answer({ kind, ...given }: Plain): Plain {
  const shown = { ...given };
  if (shown["unit"] === undefined) shown["unit"] = unitOf(kind);
  // a bound may stand alone
  if (shown["towards"] !== undefined) {
    shown["low"] ??= shown["value"];
    shown["high"] ??= shown["value"];
  }
  for (const key of ["value", "low", "high"] as const) {
    if (typeof shown[key] === "number" && !Number.isFinite(shown[key])) shown[key] = null;
  }
  if (shown["value"] === null) shown["instead"] ??= endless(shown["unit"]);
  return shown;
}

function unitOf(kind: unknown): string {
  return typeof kind === "string" && Object.hasOwn(kinds, kind) ? outputUnit(kind as Kind) : "1";
}

function table(given: Plain): Plain {
  const { rows, columns } = given;
  if (!Array.isArray(rows)) return given;
  const units = new Map<unknown, unknown>();
  if (Array.isArray(columns))
    for (const column of columns as Plain[]) units.set(column?.["key"], column?.["unit"]);
  return { ...given, rows: rows.map((one) => row(one, units)) };
}

function row(given: unknown, units: ReadonlyMap<unknown, unknown>): unknown {
  if (typeof given !== "object" || given === null) return given;
  const cells = Object.create(null) as Plain;
  for (const [key, cell] of Object.entries(given)) cells[key] = cellOf(cell, units.get(key));
  return cells;
}

function cellOf(cell: unknown, unit: unknown): unknown {
  if (typeof cell === "number") {
    if (Number.isNaN(cell)) throw new RangeError("NaN can't be drawn");
    return Number.isFinite(cell) ? cell : endless(unit);
  }
  if (typeof cell !== "object" || cell === null || !("value" in cell)) return cell;
  const { value, low, high } = cell as Plain;
  if (value === Number.POSITIVE_INFINITY) return endless(unit);
  return high === Number.POSITIVE_INFINITY ? value : { value, low, high };
}

function finite(value: unknown): void {
  if (typeof value === "number" && !Number.isFinite(value)) {
    throw new RangeError(`${value} can't be drawn`);
  }
  if (typeof value !== "object" || value === null || ArrayBuffer.isView(value)) return;
  for (const inner of Object.values(value)) finite(inner);
}

/**
 * What a working shows, brought to the form that is drawn: the library's ranges carry a kind and may be infinite
 * ("never"), outputs have a unit and are finite.
 */
import { outputUnit } from "../../../lib/units/display.ts";
import { type Kind, kinds } from "../../../lib/units/kinds.ts";

type Plain = Record<string, unknown>;

const NEVER = "never";

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
  if (shown["towards"] !== undefined) shown["low"] = shown["high"] = shown["value"];
  for (const key of ["value", "low", "high"] as const) {
    if (typeof shown[key] === "number" && !Number.isFinite(shown[key])) shown[key] = null;
  }
  if (shown["value"] === null) shown["instead"] ??= NEVER;
  return shown;
}

function unitOf(kind: unknown): string {
  return typeof kind === "string" && Object.hasOwn(kinds, kind) ? outputUnit(kind as Kind) : "1";
}

function table(given: Plain): Plain {
  const { rows } = given;
  if (!Array.isArray(rows)) return given;
  return { ...given, rows: rows.map(row) };
}

function row(given: unknown): unknown {
  if (typeof given !== "object" || given === null) return given;
  const cells = Object.create(null) as Plain;
  for (const [key, cell] of Object.entries(given)) cells[key] = cellOf(cell);
  return cells;
}

function cellOf(cell: unknown): unknown {
  if (typeof cell === "number") return Number.isFinite(cell) ? cell : NEVER;
  if (typeof cell !== "object" || cell === null || !("value" in cell)) return cell;
  const { value, low, high } = cell as Plain;
  if (value === Number.POSITIVE_INFINITY) return NEVER;
  return high === Number.POSITIVE_INFINITY ? value : { value, low, high };
}

function finite(value: unknown): void {
  if (typeof value === "number" && !Number.isFinite(value)) {
    throw new RangeError(`${value} can't be drawn`);
  }
  if (typeof value !== "object" || value === null || ArrayBuffer.isView(value)) return;
  for (const inner of Object.values(value)) finite(inner);
}

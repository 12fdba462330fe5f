/** The keys of a job that hold a number: those that many jobs can differ in. */

import { type UnitSystem, unitFor } from "../../../lib/units/display.ts";
import { type Kind, kinds } from "../../../lib/units/kinds.ts";
import { isProblem, readQuantity, valueIn } from "../../../lib/units/quantity.ts";
import { atPath, type OpenJob } from "../../notebook/dials/dials.ts";
import { type Field, jobFields } from "../job/fields.ts";

export interface NumberKey {
  readonly path: string;
  readonly label: string;
  /** Absent for a count. */
  readonly kind?: Kind;
  /** As it stands in the job; empty: it says nothing of it. */
  readonly typed: string;
  /** What it is taken for then, in SI. */
  readonly value?: number;
}

/** Every key of this job that holds a number, the stations that it has included. */
export function numberKeys(open: OpenJob): NumberKey[] {
  return jobFields()
    .filter(({ path }) => path[0] !== "fitted" && path[0] !== "materials")
    .flatMap((field) => keysOf(field, open, "", []));
}

function keysOf(field: Field, open: OpenJob, path: string, above: readonly string[]): NumberKey[] {
  const last = field.path.at(-1)!;
  const here =
    typeof last === "number" ? `${path}[${last}]` : [path, last].filter(Boolean).join(".");
  const labels = [...above, field.label];
  if (field.kind === "group") return field.fields.flatMap((f) => keysOf(f, open, here, labels));
  if (field.kind === "list") {
    const given = atPath(open.raw, here);
    const count = Array.isArray(given) ? given.length : 0;
    return Array.from({ length: count }, (_, i) => keysOf(field.item(i), open, here, above)).flat();
  }
  const { holds } = field;
  if (holds !== "count" && !Object.hasOwn(kinds, holds)) return [];
  const value = atPath(open.reading.job, here);
  return [
    {
      path: here,
      label: named(labels),
      typed: String(atPath(open.raw, here) ?? ""),
      ...(holds !== "count" && { kind: holds as Kind }),
      ...(typeof value === "number" && { value }),
    },
  ];
}

/** `Shot: Plastic at the injector`; a label that says its group itself goes without. */
function named(labels: readonly string[]): string {
  const [group = "", ...rest] = labels;
  const last = rest.join(": ");
  if (rest.length === 0) return group;
  return last.toLowerCase().startsWith(group.toLowerCase()) ? last : `${group}: ${last}`;
}

/** Ends to begin with, in the unit that was typed or else the reader's: a fifth to either side, of a temperature 5 K. */
export function endsAround(
  { typed, kind, value }: NumberKey,
  system: UnitSystem,
): { from: string; to: string } {
  if (kind === undefined) {
    const count = Math.max(1, value ?? 1);
    return { from: String(count), to: String(count + 4) };
  }
  const read = readQuantity(typed, kind);
  const [si, unit] = isProblem(read) ? [value, unitFor(kind, system)] : [read.value, read.unit];
  if (si === undefined || !Number.isFinite(si)) return { from: "", to: "" };
  const number = valueIn(si, unit, kind);
  const step = kind === "temperature" ? (unit.endsWith("F") ? 10 : 5) : 0.2 * number;
  const digits = kind === "temperature" ? 3 : 2;
  const end = (x: number) => `${Number(x.toPrecision(digits))} ${unit}`;
  return { from: end(number - step), to: end(number + step) };
}

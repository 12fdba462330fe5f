/** The keys of a job that hold a number: those that many jobs can differ in. */
import { countingPath } from "../../../lib/models/start.ts";
import { type UnitSystem, unitFor } from "../../../lib/units/display.ts";
import { type Kind, kinds } from "../../../lib/units/kinds.ts";
import { isProblem, type Quantity, readQuantity, valueIn } from "../../../lib/units/quantity.ts";
import { atPath, type OpenJob } from "../../notebook/dials/dials.ts";
import type { Varied } from "../../sweep/varied.ts";
import { type Field, jobFields } from "../job/fields.ts";
import { problemWords } from "../reading/problem-words.ts";
import { inReaderText, withReaderUnit } from "../reading/typed.ts";

export interface NumberKey {
  readonly path: string;
  /** Part of the job, and the key in it: `Shot`, `Plastic at the injector`. */
  readonly group: string;
  readonly label: string;
  /** Absent for a count. */
  readonly kind?: Kind;
  /** As it stands in the job; empty: it says nothing of it. */
  readonly typed: string;
  /** What it is taken for then, in SI. */
  readonly value?: number;
  readonly least?: string;
  readonly most?: string;
}

/** Every key of this job that holds a number and counts, the stations that it has included. */
export function numberKeys(open: OpenJob): NumberKey[] {
  return jobFields()
    .filter(({ path }) => path[0] !== "fitted" && path[0] !== "materials")
    .flatMap((field) => keysOf(field, open, "", []))
    .filter(({ path }) => countingPath(path, open.reading.job) === path);
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
  const { holds, least, most } = field;
  if (holds !== "count" && !Object.hasOwn(kinds, holds)) return [];
  const value = atPath(open.reading.job, here);
  return [
    {
      path: here,
      ...named(labels),
      typed: String(atPath(open.raw, here) ?? ""),
      ...(holds !== "count" && { kind: holds as Kind }),
      ...(typeof value === "number" && { value }),
      ...(least !== undefined && { least }),
      ...(most !== undefined && { most }),
    },
  ];
}

/** A level that the next one says again goes without: `Box`, `Box wall`. */
function named(labels: readonly string[]): { group: string; label: string } {
  const [group = "", ...rest] = labels;
  const said = (label: string, next = "") => next.toLowerCase().startsWith(label.toLowerCase());
  return { group, label: rest.filter((l, i) => !said(l, rest[i + 1])).join(": ") || group };
}

/**
 * Ends to begin with, in the unit that was typed or else the reader's: a fifth to either side, of a temperature 5 K; of
 * what the job says nothing of, or 0, what is possible.
 */
export function endsAround(key: NumberKey, system: UnitSystem): { from: string; to: string } {
  const { typed, kind, value, least = "", most = "" } = key;
  if (kind === undefined) {
    const count = Math.max(Number(least) || 0, value ?? 1);
    return { from: String(count), to: String(Math.min(Number(most || count + 4), count + 4)) };
  }
  const read = readQuantity(typed, kind);
  const [si, unit] = isProblem(read) ? [value, unitFor(kind, system)] : [read.value, read.unit];
  if (!si || !Number.isFinite(si))
    return { from: inReaderText(least, system, "up"), to: inReaderText(most, system, "down") };
  const number = valueIn(si, unit, kind);
  const step = kind === "temperature" ? (unit.endsWith("F") ? 10 : 5) : 0.2 * Math.abs(number);
  const digits = kind === "temperature" ? 3 : 2;
  const end = (x: number) => `${Number(x.toPrecision(digits))} ${unit}`;
  return { from: end(number - step), to: end(number + step) };
}

/** The two ends as they are typed; a second unit is brought into the first. */
export function variedOf(
  { path, kind, label, typed }: NumberKey,
  from: string,
  to: string,
  system: UnitSystem,
): Varied | string[] {
  if (kind === undefined) {
    const [low, high] = [from, to].map((end) => (end.trim() === "" ? Number.NaN : Number(end)));
    if (!Number.isFinite(low) || !Number.isFinite(high))
      return [`${label}: a number at either end, such as ${typed || 1} and 4.`];
    return inOrder({ path, low: low!, high: high!, unit: "" }, label);
  }
  const [a, b] = [from, to].map((end) => readEnd(end, kind, path, system));
  const problems = [a!, b!].filter(isProblem);
  if (problems.length > 0) return problems.map((p) => `${label}: ${problemWords(p)}`);
  const { value: low, unit } = a as Quantity;
  const inUnit = (si: number) => Number(valueIn(si, unit, kind).toPrecision(10));
  return inOrder({ path, low: inUnit(low), high: inUnit((b as Quantity).value), unit }, label);
}

/** A degree sign is printed; typed is `degF`, or `F`. */
function readEnd(typed: string, kind: Kind, path: string, system: UnitSystem) {
  return readQuantity(withReaderUnit(typed.replace(/\u00b0\s*/, "deg"), kind, system), kind, path);
}

/** The ends that can be read, where both together can't be taken: each is judged by itself. */
export function endsAlone(
  { path, kind }: NumberKey,
  from: string,
  to: string,
  system: UnitSystem,
): Varied[] {
  return [from, to].flatMap((end): Varied[] => {
    if (kind === undefined) {
      const count = end.trim() === "" ? Number.NaN : Number(end);
      return Number.isFinite(count) ? [{ path, low: count, high: count, unit: "" }] : [];
    }
    const read = readEnd(end, kind, path, system);
    if (isProblem(read)) return [];
    const value = Number(valueIn(read.value, read.unit, kind).toPrecision(10));
    return [{ path, low: value, high: value, unit: read.unit }];
  });
}

function inOrder(varied: Varied, label: string): Varied | string[] {
  return varied.low < varied.high ? varied : [`${label}: the lower end goes first.`];
}

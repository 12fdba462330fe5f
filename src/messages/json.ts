/**
 * Answers as JSON: numbers in SI, temperatures in degC, a range as {value, low, high, unit}.
 *
 * `null` says one thing: there is none, or it is not known. A time that does not come is "never", another number without
 * an end "no limit".
 *
 * Inside the library a temperature is in kelvin like every other; which numbers are temperatures is told by the
 * question's table of kinds, by key.
 */

import type { KindByKey, NumberKind } from "../../lib/answers/kinds.ts";
import { ZERO_CELSIUS } from "../../lib/units/constants.ts";
import type { Kind } from "../../lib/units/kinds.ts";
import { kinds as allKinds } from "../../lib/units/kinds.ts";

/** The unit in which JSON has a kind. */
export function jsonUnit(kind: NumberKind): string {
  if (kind === "count") return "1";
  return kind === "temperature" ? "degC" : allKinds[kind].si;
}

/** What stands for a number that has no end: a time does not come, another quantity may be as large as one likes. */
type Endless = "never" | "no limit";

/** Kelvin to degC for temperatures; everything else stays. Noise of the subtraction is cut off. */
function jsonNumber(value: number, kind: NumberKind | undefined): number | Endless {
  if (Number.isNaN(value) || value === Number.NEGATIVE_INFINITY)
    throw new Error(`an answer holds ${value}`);
  if (value === Number.POSITIVE_INFINITY) return kind === "duration" ? "never" : "no limit";
  if (kind !== "temperature") return value;
  return Number((value - ZERO_CELSIUS).toPrecision(12));
}

const isRange = (x: object): x is { value: number; low: number; high: number; kind?: Kind } =>
  "value" in x && "low" in x && "high" in x && typeof x.value === "number";

/** An entry of the catalog is long: its name says which. */
const isMaterial = (x: object): x is { name: string } => "aliases" in x && "conductivity" in x;

/** A lever's change or effect says itself what its number is. */
function ownKind(x: object): Kind | undefined {
  if (!("kind" in x) || typeof x.kind !== "string") return undefined;
  return Object.hasOwn(allKinds, x.kind) ? (x.kind as Kind) : undefined;
}

/** Plain JSON data of an answer. Whole fields are left out: they are pictures, not numbers to read. */
export function jsonOf(x: unknown, kinds: KindByKey, key = "", within = ""): unknown {
  const kind = kinds[`${within}.${key}`] ?? kinds[key];
  if (typeof x === "number") return jsonNumber(x, kind);
  if (typeof x !== "object" || x === null) return x;
  if (Array.isArray(x)) return x.map((item) => jsonOf(item, kinds, key, within));
  if (ArrayBuffer.isView(x))
    return Array.from(x as unknown as ArrayLike<number>, (n) => jsonNumber(n, kind));
  if (isMaterial(x)) return x.name;
  if (isRange(x)) {
    const own = x.kind ?? kind;
    const { value, low, high, kind: _, ...rest } = x;
    return {
      ...(jsonOf(rest, kinds) as object),
      value: jsonNumber(value, own),
      low: jsonNumber(low, own),
      high: jsonNumber(high, own),
      unit: own === undefined ? "1" : jsonUnit(own),
    };
  }
  const told = ownKind(x);
  if (told !== undefined) {
    const { kind: _, ...rest } = x as Record<string, unknown>;
    const numbers = Object.entries(rest).map(([name, item]) => [
      name,
      typeof item === "number" ? jsonNumber(item, told) : item,
    ]);
    return { ...Object.fromEntries(numbers), unit: jsonUnit(told) };
  }
  return Object.fromEntries(
    Object.entries(x).map(([name, item]) => [name, jsonOf(item, kinds, name, key)]),
  );
}

/** One JSON text, readable, ending in a line break. What JSON has no word for is a fault, not a null. */
export function jsonText(x: unknown): string {
  const told = (key: string, value: unknown) => {
    if (typeof value !== "number" || Number.isFinite(value)) return value;
    throw new Error(`"${key}" is ${value}`);
  };
  return `${JSON.stringify(x, told, 2)}\n`;
}

/**
 * The leaves of the job file: a quantity as text with its unit, a word of a list, a whole number, a name.
 *
 * Each carries what a form, the JSON Schema and an error message need: label, unit, range, default.
 */
import { z } from "zod";
import { timeOfDaySeconds } from "../units/clock.ts";
import { type Kind, type KindOfQuantity, kinds } from "../units/kinds.ts";
import { nearest } from "../units/nearest.ts";
import { readNumber } from "../units/number.ts";
import type { Problem } from "../units/problem.ts";
import {
  isProblem,
  parseQuantity,
  type Quantity,
  readQuantity,
  valueIn,
  withPossibleUnits,
} from "../units/quantity.ts";

/** What is known of a leaf besides its type. */
export interface FieldMeta {
  /** What a person at the bench calls it. */
  readonly label: string;
  readonly kind?: Kind | "material" | "word" | "count" | "text" | "ratio of parts";
  /** Unit of the value inside the library; "1" for shares and counts. */
  readonly unit?: string;
  readonly least?: string;
  readonly most?: string;
  /** Typed in when the file says nothing. */
  readonly initial?: string | number;
  /** Path whose value is taken when the file says nothing. */
  readonly follows?: string;
  /** Refused when missing. */
  readonly required?: boolean;
  readonly possible?: readonly string[];
  /** Families of material that can stand here. */
  readonly families?: readonly string[];
}

interface Allowance {
  readonly least?: string;
  readonly most?: string;
  readonly initial?: string;
  readonly follows?: string;
  readonly required?: boolean;
}

const bounds = new Map<string, number>();
function bound(text: string, kind: Kind): number {
  const key = `${kind} ${text}`;
  let value = bounds.get(key);
  if (value === undefined) {
    value = parseQuantity(text, kind);
    bounds.set(key, value);
  }
  return value;
}

/** The bound in the unit that was typed, with no more than four digits: `8.27 in`. */
function inTypedUnit(si: number, unit: string, kind: Kind): string {
  return `${Number(valueIn(si, unit, kind).toPrecision(4))} ${unit}`;
}

/** The same number in another unit, when that lies within the range: `350 degF` for 350 degC. */
function meant(
  given: string,
  kind: Kind,
  least: number,
  most: number,
  unit: string,
): string | undefined {
  const number = /^\s*[-+\d.,/ ]+(?:e[-+]?\d+)?/i.exec(given)?.[0]?.trim();
  if (!number) return undefined;
  for (const other of (kinds[kind] as KindOfQuantity).likely ?? []) {
    if (other === unit) continue;
    const read = readQuantity(`${number} ${other}`, kind);
    if (!isProblem(read) && read.value >= least && read.value <= most) return `${number} ${other}`;
  }
  return undefined;
}

/** A quantity that was read already: a job is walked before its schema judges it, and no text is read twice. */
export class TypedQuantity {
  readonly text: string;
  readonly read: Quantity | Problem;
  constructor(text: string, read: Quantity | Problem) {
    this.text = text;
    this.read = read;
  }
}

/** A typed text with what it was read as, where the leaf is a quantity; anything else as it is. */
export function typedQuantity(given: unknown, { kind }: FieldMeta): unknown {
  return typeof given === "string" && kind !== undefined && Object.hasOwn(kinds, kind)
    ? new TypedQuantity(given, readQuantity(given, kind as Kind))
    : given;
}

/** Reads a quantity within its range; the problem speaks in the unit that was typed. */
function readWithin(typed: unknown, kind: Kind, allow: Allowance): number | Problem {
  const given = typed instanceof TypedQuantity ? typed.text : typed;
  const read = typed instanceof TypedQuantity ? typed.read : readQuantity(given, kind);
  const least = allow.least === undefined ? Number.NEGATIVE_INFINITY : bound(allow.least, kind);
  const most = allow.most === undefined ? Number.POSITIVE_INFINITY : bound(allow.most, kind);
  if (isProblem(read))
    return {
      ...(allow.least !== undefined && { least: allow.least }),
      ...(allow.most !== undefined && { most: allow.most }),
      ...withPossibleUnits(read, kind, least, most),
    };
  const { value, unit } = read;
  const slack = 1e-12 * Math.abs(value); // 30 in and 762 mm differ in the last digit
  if (value >= least - slack && value <= most + slack) return value;
  const suggestion = meant(String(given), kind, least, most, unit);
  return {
    code: value < least ? "too_small" : "too_big",
    path: "",
    given: String(given),
    ...(allow.least !== undefined && { least: inTypedUnit(least, unit, kind) }),
    ...(allow.most !== undefined && { most: inTypedUnit(most, unit, kind) }),
    ...(suggestion !== undefined && { suggestion }),
  };
}

/** A leaf that turns what was typed into a value, or reports a problem. */
function leaf<T>(
  read: (given: unknown) => T | { readonly problem: Problem },
  meta: FieldMeta,
  type: string,
) {
  return z
    .unknown()
    .transform((given, context): T => {
      const result = read(given);
      if (typeof result === "object" && result !== null && "problem" in result) {
        context.addIssue({ code: "custom", params: { problem: result.problem } });
        return z.NEVER;
      }
      return result as T;
    })
    .meta({ type, ...meta });
}

/** A quantity, typed with its unit: `"8.5 in"`. In SI and kelvin afterwards. */
export function quantity(kind: Kind, label: string, allow: Allowance) {
  return leaf<number>(
    (given) => {
      const read = readWithin(given, kind, allow);
      return typeof read === "number" ? read : { problem: read };
    },
    { label, kind, unit: kinds[kind].si, ...allow },
    "string",
  );
}

/** A quantity, or a word that stands for one: `ir` for how well an infrared thermometer measures. */
export function quantityOrWord(
  kind: Kind,
  label: string,
  words: Readonly<Record<string, string>>,
  allow: Allowance,
) {
  return leaf<number>(
    (given) => {
      const typed = given instanceof TypedQuantity ? given.text : given;
      const plain = typeof typed === "string" ? typed.trim().toLowerCase() : "";
      if (Object.hasOwn(words, plain)) return parseQuantity(words[plain], kind);
      const read = readWithin(given, kind, allow);
      if (typeof read === "number") return read;
      return { problem: { ...read, possible: [...Object.keys(words), ...(read.possible ?? [])] } };
    },
    { label, kind, unit: kinds[kind].si, possible: Object.keys(words), ...allow },
    "string",
  );
}

/** One word of a list. */
export function word<const W extends string>(label: string, possible: readonly W[], initial?: W) {
  return leaf<W>(
    (given) => {
      const plain = typeof given === "string" ? given.trim().toLowerCase() : given;
      const found = possible.find((w) => w.toLowerCase() === plain);
      if (found !== undefined) return found;
      const suggestion = typeof plain === "string" ? nearest(plain, possible) : undefined;
      return {
        problem: {
          code: "unknown_word",
          path: "",
          given: shown(given),
          possible,
          ...(suggestion !== undefined && { suggestion }),
        },
      };
    },
    { label, kind: "word", possible, ...(initial !== undefined && { initial }) },
    "string",
  );
}

/** Text of a form of its own, such as `0.31; 0.2 0.85`; it must be there. */
export function readable<T extends object>(
  label: string,
  read: (text: string) => T | null,
  example: string,
) {
  return leaf<T>(
    (given) =>
      (typeof given === "string" ? read(given) : null) ?? {
        problem: {
          code: "not_possible" as const,
          path: "",
          given: shown(given),
          possible: [example],
        },
      },
    { label, kind: "text", required: true },
    "string",
  );
}

/** A whole number of things. */
export function count(label: string, least: number, most: number, initial?: number) {
  return leaf<number>(
    (given) => {
      const n = typeof given === "string" && /^\s*\d+\s*$/.test(given) ? Number(given) : given;
      const range = { least: String(least), most: String(most) };
      if (typeof n !== "number" || !Number.isInteger(n))
        return { problem: { code: "not_whole", path: "", given: shown(given), ...range } };
      if (n >= least && n <= most) return n;
      return {
        problem: { code: n < least ? "too_small" : "too_big", path: "", given: n, ...range },
      };
    },
    {
      label,
      kind: "count",
      unit: "1",
      least: String(least),
      most: String(most),
      ...(initial !== undefined && { initial }),
    },
    "integer",
  );
}

/** A price or another plain amount: the one number that needs no unit, for it is in the shop's own money. */
export function amount(label: string, initial?: string, least = 0) {
  return leaf<number>(
    (given) => {
      const number = typeof given === "number" ? String(given) : given;
      const plain = typeof number === "string" ? readNumber(number) : { missing: true as const };
      if ("ambiguous" in plain)
        return {
          problem: {
            code: "doubtful_comma",
            path: "",
            given: shown(given),
            possible: plain.ambiguous,
          },
        };
      if ("missing" in plain || plain.rest !== "" || !Number.isFinite(plain.value))
        return { problem: { code: "not_an_amount", path: "", given: shown(given) } };
      if (plain.value < least || plain.value > 1e7)
        return {
          problem: {
            code: plain.value < least ? "too_small" : "too_big",
            path: "",
            given: shown(given),
            least: String(least),
            most: "10000000",
          },
        };
      return plain.value;
    },
    {
      label,
      kind: "count",
      unit: "1",
      least: String(least),
      ...(initial !== undefined && { initial }),
    },
    "string",
  );
}

/** A time of the day, `18:30` or `6:30 PM`, as seconds after midnight. */
export function timeOfDay(label: string) {
  return leaf<number>(
    (given) => {
      const seconds = typeof given === "string" ? timeOfDaySeconds(given) : undefined;
      return seconds ?? { problem: { code: "not_a_clock_time", path: "", given: shown(given) } };
    },
    { label, kind: "text", possible: ["18:30", "6:30 PM"] },
    "string",
  );
}

/** Yes or no. */
export function yesNo(label: string, initial: "yes" | "no") {
  return leaf<boolean>(
    (given) => {
      if (given === true || given === "yes" || given === "on") return true;
      if (given === false || given === "no" || given === "off") return false;
      return {
        problem: { code: "unknown_word", path: "", given: shown(given), possible: ["yes", "no"] },
      };
    },
    { label, kind: "word", possible: ["yes", "no"], initial },
    "string",
  );
}

/** A name; long ones are refused. */
export function text(label: string, initial?: string) {
  return leaf<string>(
    (given) => {
      const name = typeof given === "number" ? String(given) : given;
      if (typeof name !== "string" || name.trim() === "")
        return { problem: { code: "not_a_name", path: "", given: shown(given) } };
      if (name.length > 120)
        return {
          problem: {
            code: "name_too_long",
            path: "",
            given: `${name.slice(0, 30)}...`,
            most: "120 characters",
          },
        };
      return name.trim();
    },
    { label, kind: "text", ...(initial !== undefined && { initial }) },
    "string",
  );
}

/**
 * The name of a material; it is looked up when the whole file is read, for a job may bring its own. One that follows
 * another and has a default, too, follows it where that can stand here.
 */
export function material(
  label: string,
  families: readonly string[],
  initial: string | undefined,
  follows?: string,
) {
  return leaf<string>(
    (given) =>
      typeof given === "string" && given.trim() !== ""
        ? given.trim()
        : { problem: { code: "not_a_name", path: "", given: shown(given) } },
    {
      label,
      kind: "material",
      families,
      ...(initial !== undefined && { initial }),
      ...(follows !== undefined && { follows }),
    },
    "string",
  );
}

/** Parts of A to parts of B: `100:18`. */
export function parts(label: string, initial: string) {
  return leaf<{ a: number; b: number }>(
    (given) => {
      const found =
        typeof given === "string"
          ? /^\s*(\d+(?:[.,]\d+)?)\s*:\s*(\d+(?:[.,]\d+)?)\s*$/.exec(given)
          : null;
      const numbers = found ? [found[1], found[2]].map(readNumber) : [];
      const doubtful = numbers.find((number) => "ambiguous" in number);
      if (doubtful && "ambiguous" in doubtful)
        return {
          problem: {
            code: "doubtful_comma",
            path: "",
            given: shown(given),
            possible: doubtful.ambiguous,
          },
        };
      const [a = 0, b = 0] = numbers.map((number) => ("value" in number ? number.value : 0));
      if (!(a > 0) || !(b > 0) || !(a / b < 1000) || !(b / a < 1000))
        return {
          problem: { code: "not_a_ratio", path: "", given: shown(given), possible: ["100:18"] },
        };
      return { a, b };
    },
    { label, kind: "ratio of parts", unit: "1", initial },
    "string",
  );
}

/** What was given, short enough to be printed. */
export function shown(given: unknown): string | number | boolean | null {
  if (typeof given === "number") return Number.isFinite(given) ? given : String(given);
  if (typeof given === "string") return given.length > 60 ? `${given.slice(0, 60)}...` : given;
  if (typeof given === "boolean" || given === null) return given;
  return Array.isArray(given) ? "a list" : given === undefined ? "nothing" : "a group of keys";
}

/**
 * Typed text to a number in SI and kelvin: the only way in for a quantity.
 *
 * Units come from a table. This file adds the spellings of the workshop, the kinds, and the refusals: a bare number, a unit of another kind, a doubtful
 * comma, anything that is not finite.
 */
import { type Kind, type KindOfQuantity, kinds } from "./kinds.ts";
import { readNumber } from "./number.ts";
import { InputError, type Problem } from "./problem.ts";
import { findUnit } from "./table.ts";

/** A quantity in SI, and the unit in which it was typed: what is said about it is said in that unit. */
export interface Quantity {
  readonly value: number;
  readonly unit: string;
}

const EVERYWHERE: Readonly<Record<string, string>> = {
  '"': "in",
  "'": "ft",
  pound: "lb",
  pounds: "lb",
  ounces: "oz",
  "fl oz": "floz",
  "fluid ounce": "floz",
  "fluid ounces": "floz",
  "cu in": "in^3",
  tsp: "teaspoon",
  tbsp: "tablespoon",
};

/** The unit as the table spells it. */
function spelled(typed: string, kind: Kind): string {
  const plain = typed
    .replace(
      /\s*(?:(?:\u00b0|\u00ba|deg(?:rees?)?)\s*(c|f|celsius|fahrenheit)|(celsius|fahrenheit))\b/gi,
      (_, scale = "", alone = "") => ` deg${`${scale}${alone}`[0]?.toUpperCase()}`,
    )
    .replace(/\u2103/g, "degC")
    .replace(/\u2109/g, "degF")
    .replace(/[\u00b7*]/g, " ")
    .replace(/\u00b2/g, "^2")
    .replace(/\u00b3/g, "^3")
    .replace(/[\u00b5\u03bc]m\b/g, "um")
    .replace(/[\u2033\u201d]/g, '"')
    .replace(/\s+/g, " ")
    .replace(/(?<=[a-z])\.(?=\s|$)/gi, "") // "in.", "cu. in."
    .trim();
  const own = (kinds[kind] as KindOfQuantity).spellings;
  const known = own?.[plain] ?? EVERYWHERE[plain];
  return known ?? plain.replace(/\b([a-z]+)([23])\b/gi, "$1^$2");
}

/** Kinds whose units nobody tells apart by their capitals: `16 MM`, `5 Oz`. */
const EVERYDAY: readonly Kind[] = ["length", "mass", "volume", "duration"];

/** The unit as typed, or else in small letters where those are meant. */
function unitTypedAs(
  typed: string,
  kind: Kind,
): { unit: string; found: ReturnType<typeof findUnit> } {
  const unit = spelled(typed, kind);
  // the "-6 mm" of "5-6 mm" is no unit
  const read = (one: string) => (/^(?:1 ?\/|[a-z])/i.test(one) ? findUnit(one) : null);
  const found = read(unit);
  const fits = (one: typeof found) => one?.dimensions === findUnit(kinds[kind].si)?.dimensions;
  if (!EVERYDAY.includes(kind) || (found !== null && fits(found))) return { unit, found };
  const small = spelled(typed.toLowerCase(), kind);
  const meant = read(small);
  // one that is known and of another kind is told as that, unless its small spelling is meant
  return found === null || fits(meant) ? { unit: small, found: meant } : { unit, found };
}

/** Kinds whose unit fits: what a wrong unit would have been right for. */
function kindsWith(dimensions: string): Kind[] {
  return (Object.keys(kinds) as Kind[]).filter(
    (kind) =>
      kind !== "ratio" &&
      kind !== "temperatureDifference" &&
      findUnit(kinds[kind].si)?.dimensions === dimensions,
  );
}

/** One number with its unit, or the problem with it. */
function readOne(
  value: number,
  unitTyped: string,
  kind: Kind,
  given: string,
  path: string,
): Quantity | Problem {
  if (!Number.isFinite(value)) return { code: "not_a_number", path, given };
  if (kind === "ratio") {
    if (/^(?:%|percent|per cent)$/.test(unitTyped)) return { value: value / 100, unit: "%" };
    if (unitTyped === "") return missing(value, kind, given, path);
    return { code: "wrong_kind", path, given, possible: ["%"] };
  }
  if (unitTyped === "") return missing(value, kind, given, path);
  const { unit, found } = unitTypedAs(unitTyped, kind);
  const { propose, si } = kinds[kind];
  if (!found) return { code: "unknown_unit", path, given, possible: [propose] };
  if (found.dimensions !== findUnit(si)!.dimensions) {
    const [meant] = kindsWith(found.dimensions);
    if (kind === "volume" && /^(?:oz|ounces?)$/.test(unit))
      return { code: "weight_not_volume", path, given, suggestion: `${value} fl oz` };
    if (kind === "mass" && meant === "volume")
      return { code: "volume_not_weight", path, given, possible: ["g", "oz", "lb"] };
    if (kind === "duration" && unit === "m")
      return { code: "meters_not_minutes", path, given, suggestion: `${value} min` };
    return { code: "wrong_kind", path, given, possible: [propose] };
  }
  // a difference of 10 degF is 5.6 K: the zero of the scale has no part in it
  const offset = kind === "temperatureDifference" ? 0 : found.offset;
  const inSi = (value + offset) * found.factor;
  if (!Number.isFinite(inSi)) return { code: "not_a_number", path, given };
  return { value: inSi, unit };
}

function missing(value: number, kind: Kind, given: string, path: string): Problem {
  return { code: "unit_missing", path, given, suggestion: `${value} ${kinds[kind].propose}` };
}

/** The units in which a number lies within bounds in SI: the usual ones, or where it lies in none of them, the others that are likely. */
function unitsThatFit(value: number, kind: Kind, least: number, most: number): string[] {
  const { propose, metric, shop, likely = [] } = kinds[kind] as KindOfQuantity;
  const fits = (unit: string) => {
    const found = findUnit(unit);
    const offset = kind === "temperatureDifference" ? 0 : (found?.offset ?? 0);
    const si = found ? (value + offset) * found.factor : Number.NaN;
    return si >= least && si <= most;
  };
  const usual = [...new Set([propose, metric, ...(shop === undefined ? [] : [shop])])].filter(fits);
  return usual.length > 0 ? usual : likely.filter(fits);
}

/** A bare 0.4 is four tenths, or less than half a percent: only who typed it knows. */
function asShareOrPercent(problem: Problem, value: number, least: number, most: number): Problem {
  if (!(value > 0 && value <= 1)) return problem;
  const fits = [100 * value, value].filter((part) => part / 100 >= least && part / 100 <= most);
  if (fits.length === 0) return problem;
  const possible = fits.map((part) => `${Number(part.toPrecision(12))} %`);
  return { ...problem, suggestion: possible[0], possible };
}

/**
 * A missing unit, with those in which the number is possible; any other problem as it is.
 *
 * @param least in SI, as `most`: bounds of what is asked for
 * @example withPossibleUnits({ code: "unit_missing", path: "", given: "85" }, "temperature", 258, 323).possible // ["85 degF"]
 */
export function withPossibleUnits(
  problem: Problem,
  kind: Kind,
  least: number,
  most: number,
): Problem {
  if (problem.code !== "unit_missing") return problem;
  const number = readNumber(String(problem.given));
  if (!("value" in number)) return problem;
  if (kind === "ratio") return asShareOrPercent(problem, number.value, least, most);
  const units = unitsThatFit(number.value, kind, least, most);
  if (units.length === 0) {
    // no unit makes it possible: the range says what would be
    const { suggestion: _, possible: __, ...bare } = problem;
    return bare;
  }
  const possible = units.map((unit) => `${problem.given} ${unit}`);
  const inUnit = (si: number) =>
    `${Number(valueIn(si, units[0], kind).toPrecision(4))} ${units[0]}`;
  return {
    ...problem,
    suggestion: possible[0],
    possible,
    ...(Number.isFinite(least) && { least: inUnit(least) }),
    ...(Number.isFinite(most) && { most: inUnit(most) }),
  };
}

/**
 * True for a problem, false for a quantity.
 *
 * @example isProblem(readQuantity("16", "length")) // true
 */
export function isProblem(read: Quantity | Problem): read is Problem {
  return "code" in read;
}

/**
 * A typed quantity in SI, or the problem with it; nothing is thrown.
 *
 * @param given what was typed, such as `"1 1/4 in"`, `"0,5 mm"`, `"1 h 30 min"`, `"338 °F"`
 * @param kind what it must be: a unit of another kind is a problem
 * @param path where it stands, for the problem
 * @example readQuantity("1 1/4 in", "length") // { value: 0.03175, unit: "in" }
 * @example readQuantity("16", "length", "mold.wall").code // "unit_missing"
 */
export function readQuantity(given: unknown, kind: Kind, path = ""): Quantity | Problem {
  if (typeof given === "number") {
    if (!Number.isFinite(given)) return { code: "not_a_number", path, given: String(given) };
    return missing(given, kind, String(given), path);
  }
  if (typeof given !== "string") {
    const shown = typeof given === "boolean" || given === null ? String(given) : undefined;
    return {
      code: "not_text",
      path,
      ...(shown !== undefined && { given: shown }),
      possible: [`5 ${kinds[kind].propose}`],
    };
  }
  const text = given.trim();
  if (text === "" || text.length > 60)
    return { code: "not_a_quantity", path, given: text.slice(0, 60) };
  const read = clockDuration(text, kind) ?? sumOfParts(text, kind, path);
  const possible = LIKE[kind];
  return isProblem(read) && read.code === "not_a_quantity" && possible
    ? { ...read, possible }
    : read;
}

/** What is shown to who typed no quantity at all. */
const LIKE: Partial<Record<Kind, readonly string[]>> = {
  length: ["16 mm", "5/8 in"],
  temperature: ["170 degC", "338 degF"],
  duration: ["390 s", "6 min 30 s"],
};

/** `5:20`, `1:04:50`: a duration as a clock shows it. */
function clockDuration(text: string, kind: Kind): Quantity | undefined {
  const clock = kind === "duration" ? /^(?:(\d+):)?(\d{1,3}):([0-5]\d)$/.exec(text) : null;
  if (!clock) return undefined;
  const [, hours, minutes, seconds] = clock;
  return {
    value: Number(hours ?? 0) * 3600 + Number(minutes) * 60 + Number(seconds),
    unit: "min",
  };
}

/** One number with its unit, or several where the kind takes sums: `1 h 30 min`. */
function sumOfParts(text: string, kind: Kind, path: string): Quantity | Problem {
  let sum = 0;
  let firstUnit: string | undefined;
  let rest = text;
  while (rest !== "") {
    const number = readNumber(rest);
    if ("missing" in number) {
      const infinite = /^[+-]?(?:nan|\.nan|inf|\.inf|infinity)\b/i.test(rest);
      return { code: infinite ? "not_a_number" : "not_a_quantity", path, given: text };
    }
    if ("ambiguous" in number) {
      return { code: "doubtful_comma", path, given: text, possible: number.ambiguous };
    }
    // a further number starts the next part of a sum: 1 h 30 min; digits inside a unit follow ^, / or a letter
    const next = number.rest.search(/\s[+-]?[\d.,]/);
    const unitTyped = next < 0 ? number.rest : number.rest.slice(0, next);
    const one = readOne(number.value, unitTyped.trim(), kind, text, path);
    // a number that trails what has its unit is no part of it
    const trails = isProblem(one) && one.code === "unit_missing" && firstUnit !== undefined;
    if (trails) return { code: "not_a_quantity", path, given: text };
    if (isProblem(one)) return one;
    if (firstUnit !== undefined && number.value < 0)
      return { code: "not_a_quantity", path, given: text };
    sum += one.value;
    firstUnit ??= one.unit;
    rest = next < 0 ? "" : number.rest.slice(next).trim();
    if (rest !== "" && !(kinds[kind] as KindOfQuantity).sums)
      return { code: "not_a_quantity", path, given: text };
  }
  return { value: sum, unit: firstUnit! };
}

/**
 * A typed quantity in SI and kelvin.
 *
 * @param text such as `"8.5 in"`, `"338 degF"`, `"0,5 mm"`, `"5 min"`
 * @param kind what it must be
 * @returns the value in the unit of the kind; a temperature in K, a temperature difference in K without offset
 * @throws InputError for a bare number, a unit of another kind, a comma of two meanings, NaN or infinity
 * @example parseQuantity("1 1/4 in", "length") // 0.03175
 * @example parseQuantity("338 degF", "temperature") // 443.15
 * @example parseQuantity("18 degF", "temperatureDifference") // 10
 */
export function parseQuantity(text: string, kind: Kind): number {
  const read = readQuantity(text, kind);
  if (isProblem(read)) throw new InputError([read]);
  return read.value;
}

/**
 * The value in SI as a number in the unit, for what is said about a typed quantity.
 *
 * @param unit as `readQuantity` gave it
 * @throws InputError (`unknown_unit`) for another spelling
 * @example valueIn(443.15, "degF", "temperature") // 338
 */
export function valueIn(value: number, unit: string, kind: Kind): number {
  if (unit === "%") return value * 100;
  const found = findUnit(unit);
  if (!found) throw new InputError([{ code: "unknown_unit", path: "", given: unit }]);
  return value / found.factor - (kind === "temperatureDifference" ? 0 : found.offset);
}

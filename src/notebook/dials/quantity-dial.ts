/** A dial's text as a quantity: its kind, its value in SI, its bounds and step. */
import { type Kind, kinds } from "../../../lib/units/kinds.ts";
import type { Problem } from "../../../lib/units/problem.ts";
import {
  isProblem,
  type Quantity,
  readQuantity,
  valueIn,
  withPossibleUnits,
} from "../../../lib/units/quantity.ts";
import type { PageProblem, QuantityDial } from "./types.ts";

/** Order in which a kind is guessed from a unit; kinds that share a unit (temperature difference) are never guessed. */
const GUESSED: readonly Kind[] = [
  "length",
  "temperature",
  "duration",
  "mass",
  "volume",
  "ratio",
  "speed",
  "area",
  "density",
  "conductivity",
  "specificHeat",
  "conductance",
  "energyPerMass",
  "power",
  "flux",
  "flow",
  "viscosity",
];

/** The kind of a quantity dial: as it says, or from the unit of its bounds or its value. */
export function kindOf(dial: QuantityDial): Kind | undefined {
  if (Object.hasOwn(kinds, dial.quantity)) return dial.quantity as Kind;
  if (dial.quantity !== "") return undefined;
  // the value may be half typed, or of another kind by mistake: the bounds say what it is
  for (const text of [dial.min, dial.max, dial.value]) {
    const kind = GUESSED.find((k) => text !== undefined && !isProblem(readQuantity(text, k)));
    if (kind !== undefined) return kind;
  }
  return undefined;
}

/** A dial's text in SI, or the problem with it; undefined when its kind is unknown. */
export function readText(
  dial: QuantityDial,
  text: string,
  difference = false,
): Quantity | Problem | undefined {
  if (dial.kind === "number") {
    // a comma is a decimal comma, as everywhere
    const plain = /^[+-]?\d+(?:[.,]\d+)?(?:e[+-]?\d+)?$/i.test(text);
    const value = plain ? Number(text.replace(",", ".")) : Number.NaN;
    if (!Number.isFinite(value)) return { code: "not_a_number", path: "", given: text };
    return { value, unit: "" };
  }
  const kind = kindOf(dial);
  if (kind === undefined) return undefined;
  return readQuantity(text, difference && kind === "temperature" ? "temperatureDifference" : kind);
}

/** SI as text in a unit, without digits that nobody typed. */
export function textOf(value: number, unit: string, kind: Kind, digits = 7): string {
  return `${shortNumber(valueIn(value, unit, kind), digits)} ${unit}`;
}

export function shortNumber(value: number, digits = 7): string {
  return String(Number(value.toPrecision(digits)));
}

/** A typed quantity or number in SI, or undefined with its problems noted. */
export function quantityValue(
  dial: QuantityDial,
  text: string,
  problems: PageProblem[],
): number | undefined {
  const at = { line: dial.line, name: dial.name, given: text };
  const read = readText(dial, text);
  if (read === undefined) {
    problems.push({ code: "dial.kind", ...at, possible: Object.keys(kinds) });
    return undefined;
  }
  if (isProblem(read)) {
    const kind = kindOf(dial);
    const [least = -Infinity, most = Infinity] = [boundOf(dial, "min"), boundOf(dial, "max")];
    const { code, possible, suggestion } =
      kind === undefined ? read : withPossibleUnits(read, kind, least, most);
    problems.push({
      code,
      ...at,
      ...(possible && { possible }),
      ...(suggestion && { suggestion }),
      // one line beside a dial: what to type, or else between what
      ...(possible === undefined && endsOf(dial)),
    });
    return undefined;
  }
  const found = boundProblems(dial, text, read.value);
  problems.push(...found);
  return found.length > 0 ? undefined : read.value;
}

/** A bound or the step in SI; undefined where there is none, or none that can be read. */
function boundOf(dial: QuantityDial, key: "min" | "max" | "step"): number | undefined {
  const typed = dial[key];
  const read = typed === undefined ? undefined : readText(dial, typed, key === "step");
  return read === undefined || isProblem(read) ? undefined : read.value;
}

/** What is possible, as the page has it. */
function endsOf({ min, max }: QuantityDial): Pick<PageProblem, "least" | "most"> {
  return { ...(min !== undefined && { least: min }), ...(max !== undefined && { most: max }) };
}

/** What is wrong with the bounds, the step, or a value beyond them. */
function boundProblems(dial: QuantityDial, text: string, value: number): PageProblem[] {
  const at = { line: dial.line, name: dial.name, given: text };
  const problems: PageProblem[] = [];
  const bound = (key: "min" | "max" | "step") => {
    const read = boundOf(dial, key);
    if (read === undefined && dial[key] !== undefined)
      problems.push({ code: "dial.bound", ...at, given: `${key}: ${dial[key]}` });
    return read;
  };
  const least = bound("min") ?? Number.NEGATIVE_INFINITY;
  const most = bound("max") ?? Number.POSITIVE_INFINITY;
  const step = bound("step") ?? 1;
  const { min, max } = dial;
  if (!(least < most)) {
    problems.push({ code: "dial.bounds", ...at, least: min ?? "", most: max ?? "" });
  }
  if (!(step > 0)) problems.push({ code: "dial.step", ...at, given: dial.step ?? "" });
  const sizes = [least, most, value].filter(Number.isFinite).map(Math.abs);
  const room = 1e-9 * Math.max(...sizes);
  if (!(value >= least - room && value <= most + room)) {
    problems.push({ code: "dial.range", ...at, ...endsOf(dial) });
  }
  return problems;
}

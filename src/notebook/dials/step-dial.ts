/** One step of a dial, in the unit as typed. */
import { inchFraction } from "../../../lib/units/format.ts";
import { isProblem, valueIn } from "../../../lib/units/quantity.ts";
import { kindOf, readText, shortNumber } from "./quantity-dial.ts";
import type { DialReading } from "./types.ts";

/**
 * The text one step up (1) or down (-1), in the unit as typed, held inside the bounds.
 * Steps land on multiples of the step, so that up and down give the same texts.
 */
export function stepDial(reading: DialReading, direction: 1 | -1): string {
  const { dial, text } = reading;
  if (dial.kind === "choice") {
    const at = dial.choices.indexOf(text);
    const next = Math.min(Math.max(at + direction, 0), dial.choices.length - 1);
    return dial.choices[next] ?? text;
  }
  if (dial.kind === "flag") return direction > 0 ? "yes" : "no";
  const read = readText(dial, text);
  if (read === undefined || isProblem(read)) return text;
  const kind = dial.kind === "quantity" ? kindOf(dial) : undefined;
  const toUnit = (si: number, difference = false) =>
    kind === undefined
      ? si
      : valueIn(
          si,
          read.unit,
          difference && kind === "temperature" ? "temperatureDifference" : kind,
        );
  const limit = (typed: string | undefined, difference = false) => {
    if (typed === undefined) return undefined;
    const found = readText(dial, typed, difference);
    return found === undefined || isProblem(found) ? undefined : toUnit(found.value, difference);
  };
  const now = toUnit(read.value);
  const least = limit(dial.min) ?? Number.NEGATIVE_INFINITY;
  const most = limit(dial.max) ?? Number.POSITIVE_INFINITY;
  const bare = limit(dial.step, true) ?? defaultStep(now, least, most);
  const isRule = kind === "length" && read.unit === "in" && bare >= SMALLEST_OF_RULE;
  const step = isRule ? Math.max(1, Math.round(bare * 16)) / 16 : roundStep(bare);
  const count = now / step;
  const whole = Math.round(count);
  const onStep = Math.abs(count - whole) < 1e-6 * Math.max(1, Math.abs(count));
  const target = onStep ? whole + direction : direction > 0 ? Math.ceil(count) : Math.floor(count);
  const next = Math.min(Math.max(target * step, least), most);
  const number = isRule && isOfRule(next) ? inchFraction(next) : shortNumber(next);
  return kind === undefined ? number : `${number} ${read.unit}`;
}

/** Inches are stepped along a rule, in sixteenths, unless the step is finer than half of one. in */
const SMALLEST_OF_RULE = 1 / 64;

const isOfRule = (inches: number) => Math.abs(inches * 16 - Math.round(inches * 16)) < 1e-6;

/** A step in another unit than the step's own (0.5 mm on a dial in inches) is brought to 1, 2 or 5 of a decade. */
function roundStep(step: number): number {
  if (Math.abs(step - Number(step.toPrecision(2))) < 1e-9 * step)
    return Number(step.toPrecision(2));
  const decade = 10 ** Math.floor(Math.log10(step));
  const lead = step / decade;
  return Number(((lead < 1.5 ? 1 : lead < 3.5 ? 2 : lead < 7.5 ? 5 : 10) * decade).toPrecision(3));
}

function defaultStep(now: number, least: number, most: number): number {
  const span = Number.isFinite(most - least) ? (most - least) / 50 : Math.abs(now) / 20 || 1;
  return span > 0 ? span : 1;
}

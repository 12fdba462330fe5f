/** How the numbers of a table's column are written. */
import { kindOfOutput } from "../../../lib/units/display.ts";
import { boundParts, boundText, inchFraction, type Towards } from "../../../lib/units/format.ts";
import { inReaderUnit, type UnitSystem } from "./shown.ts";

export type Writing = (value: number) => string;

/** How bounds are written: each as it reads everywhere, a time with its units. */
export function boundWriting(
  unit: string,
  towards: Towards,
  system: UnitSystem,
  keeps?: number,
): Writing | undefined {
  const kind = kindOfOutput(unit);
  if (kind === undefined) return undefined;
  return (v) =>
    kind === "duration"
      ? boundText(v, kind, towards, system)
      : boundParts(v, kind, towards, system, keeps)
          .map(({ figure }) => figure)
          .join(" ");
}

/** From here on the numbers of a column have nothing to do with each other. */
const FAR_APART = 1e4;
const SIXTEENTH = 1 / 16;

/**
 * How the plain numbers of a column are written, so that they can be compared down the page: in one unit, with the
 * same decimals. Three figures for the largest, two for the smallest; a share two. Inches of a rule stay fractions.
 */
export function writing(
  numbers: readonly number[],
  unit: string,
  system: UnitSystem,
): Writing | undefined {
  if (unit === "s") return undefined;
  const own = (v: number) => inReaderUnit(v, unit, system);
  const sizes = numbers.map((v) => Math.abs(own(v))).filter((v) => v > 0 && v < Infinity);
  if (sizes.length === 0) return undefined;
  const most = Math.max(...sizes);
  const least = Math.min(...sizes);
  if (most / least > FAR_APART) return undefined;
  if (unit === "mm" && system === "shop-us" && sizes.every(isOfRule)) {
    return (v) => inchFraction(own(v));
  }
  const places = (v: number, figures: number) => figures - 1 - Math.floor(Math.log10(v));
  // about nothing, as weights in water are, the smallest is as unsure as the largest
  const isAboutZero = numbers.some((v) => v < 0) && numbers.some((v) => v > 0);
  const finest = isAboutZero ? places(most, 2) : Math.max(places(most, 3), places(least, 2));
  const bound = unit === "%" ? places(most, 2) : finest;
  const needed = Math.max(...sizes.map((v) => decimalsOf(Number(v.toPrecision(3)))));
  const decimals = unit === "degC" ? 0 : Math.min(Math.max(0, bound), needed, 12);
  return (v) => {
    const text = own(v).toFixed(decimals);
    return Number(text) === 0 ? text.replace("-", "") : text;
  };
}

/** A sixteenth of an inch or a multiple, as it is typed and not as it comes out. */
const isOfRule = (inches: number) =>
  Math.abs(inches / SIXTEENTH - Math.round(inches / SIXTEENTH)) < 1e-6;

function decimalsOf(x: number): number {
  return Math.max(0, (/\.(\d+)$/.exec(String(x))?.[1] ?? "").length);
}

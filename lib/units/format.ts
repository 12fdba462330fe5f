/**
 * Numbers as a person reads them: in the unit system of the reader, with as many digits as the range bears out.
 */
import { displayUnits, toUnit, type UnitSystem, unitFor } from "./display.ts";
import type { Kind } from "./kinds.ts";

/** A value with its range, all in SI; see Range in lib/confidence. */
export interface Shown {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

interface FormatOptions {
  readonly system?: UnitSystem;
  /** Round to multiples of this, in SI (a temperature: K); left out: three significant digits. */
  readonly step?: number;
  /** Inches as fractions down to 1/16, where one is right to 1.5 %. */
  readonly fractions?: boolean;
  /** Left out: to the nearest step. Of a range its middle alone: its ends go outwards. */
  readonly towards?: Towards;
}

/** Steps of a time, s. */
const TIME_STEPS = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 1800, 3600, 7200, 21600, 43200, 86400];

/**
 * The step to which a computed time is rounded, s: the largest of a clock's steps that is at most a twentieth of the
 * time, as the usual range of a fifth to either side bears out. By the time alone, so that one time reads the same
 * wherever it stands, with its range or without.
 *
 * @param seconds s, at least 0
 * @example timeStep(1307) // 60
 */
export function timeStep(seconds: number): number {
  const fitting = TIME_STEPS.filter((step) => step <= seconds / 20);
  return fitting.at(-1) ?? (seconds < 5 ? 0.1 : 1);
}

/** To which side a number is rounded: the ends of a range outwards, so that what is sure stays sure. */
export type Towards = "down" | "up" | "nearest";

/**
 * To a multiple of a step, on the side that is asked for.
 *
 * @example rounded(21.54, 1, "down") // 21
 */
export function rounded(x: number, step: number, towards: Towards): number {
  const steps = x / step;
  // a hair of floating point is no whole step
  if (towards === "down") return Math.floor(steps + 1e-9) * step;
  return (towards === "up" ? Math.ceil(steps - 1e-9) : Math.round(steps)) * step;
}

/**
 * A computed time as it is read everywhere: `22 min`, `5 min 15 s`. The safe end of a range is rounded away from danger.
 *
 * @param seconds s, at least 0; Infinity: `without end`
 * @param towards the low end of a range goes `down`, the high one `up`
 * @param coarsest no larger step than this, s
 * @example timeText(1307) // "22 min"
 * @example timeText(1088, "up") // "18 min 30 s"
 */
export function timeText(
  seconds: number,
  towards: Towards = "nearest",
  coarsest = Number.POSITIVE_INFINITY,
): string {
  const step = Math.min(timeStep(seconds), coarsest);
  return textOfParts(quantityParts(seconds, "duration", { step, towards }));
}

/**
 * The coarsest step of a window whose ends are rounded into it, s: the largest of a clock's steps at which its best
 * moment still lies between them. By `timeStep` alone the ends of a short window would pass each other.
 *
 * @returns s; 0 where the window is narrower than a time like its best moment is known, or than the finest that is ever shown: it
 * is a moment, and two ends would tell it more closely than it is known
 * @example windowStep({ value: 363.5, low: 354, high: 373 }) // 10
 */
export function windowStep({ value, low, high }: Shown): number {
  if (high - low < timeStep(value)) return 0;
  const steps = [...TIME_STEPS.toReversed(), ...(high < 90 ? [0.1] : [])];
  const at = (x: number, coarsest: number, towards: Towards) =>
    rounded(x, Math.min(timeStep(x), coarsest), towards);
  const fits = (step: number) => {
    const [from, best, to] = [
      at(low, step, "up"),
      at(value, step, "nearest"),
      at(high, step, "down"),
    ];
    return from < to && from <= best && best <= to;
  };
  return steps.find(fits) ?? 0;
}

/**
 * A window and the best moment in it as texts, its ends rounded inwards: what is sure stays sure. All three are the
 * same where it is shorter than what is told apart.
 *
 * @example windowTexts({ value: 363.5, low: 354, high: 373 }).low // "6 min"
 */
export function windowTexts(window: Shown): {
  readonly value: string;
  readonly low: string;
  readonly high: string;
} {
  const step = windowStep(window);
  if (step === 0) {
    const value = timeText(window.value, "nearest", 1);
    return { value, low: value, high: value };
  }
  const value = timeText(window.value, "nearest", step);
  return {
    value,
    low: timeText(window.low, "up", step),
    high: timeText(window.high, "down", step),
  };
}

/**
 * The ends of a window in words, without its best moment.
 *
 * @example windowInWords({ value: 363.5, low: 354, high: 373 }) // "from 6 min to 6 min 10 s"
 */
export function windowInWords(window: Shown): string {
  const { low, high } = windowTexts(window);
  return low === high ? "no room for bad luck" : `from ${low} to ${high}`;
}

/**
 * The step to which a value is rounded, so that no digit is shown which its range does not bear out: the largest
 * step of the ladder 1-2-5 that is at most an eighth of the range. SI; a time goes by `timeStep`; no temperature is
 * rounded to more than 5 K. An end without end is taken as far off as the other one; 0: the range bears out no step.
 *
 * @example stepOf({ value: 320, low: 290, high: 370 }, "duration") // 15
 * @example stepOf({ value: 0.0164, low: 0.0154, high: 0.0174 }, "length") // 0.0002
 */
export function stepOf(range: Shown, kind: Kind): number {
  const { value, low } = range;
  const high = Number.isFinite(range.high) ? range.high : 2 * value - low;
  const allowed = Number.isFinite(high) ? (high - low) / 8 : 0;
  if (!(allowed > 0)) return 0;
  if (kind === "duration") return timeStep(Number.isFinite(value) ? value : low);
  const power = 10 ** Math.floor(Math.log10(allowed));
  const digit = [5, 2, 1].find((d) => d * power <= allowed) ?? 1;
  const step = digit * power;
  return kind === "temperature" ? Math.min(step, COARSEST_KELVIN) : step;
}

/** A temperature stands beside limits that are given to 5 or 10 K: coarser, 73 would read 80 beside a limit of 80. */
const COARSEST_KELVIN = 5;

/** The number with the decimals that fit the step, no trailing noise. */
function decimalsText(x: number, step: number, towards: Towards = "nearest"): string {
  const power = 10 ** Math.floor(Math.log10(step) + 1e-9);
  const digit = [1, 2, 5, 10].find((d) => d * power >= step * (1 - 1e-9)) ?? 10;
  const round = digit * power;
  const decimals = Math.max(0, -Math.floor(Math.log10(round) + 1e-9));
  const shown = rounded(x, round, towards);
  return plain(Number(shown.toFixed(Math.min(decimals, 12))), decimals);
}

/** No finer than what is at the bench shows it: calipers, a scale. By the name of a unit. */
const FINEST: Readonly<Record<string, number>> = { in: 1e-3, mm: 1e-2, oz: 1e-3, g: 1e-2 };

/** Three significant digits, or fewer where they are finer than anything that measures them; of what is less, one. */
function digitsText(x: number, finest = 0): string {
  if (finest === 0) return plain(Number(x.toPrecision(3)));
  if (Math.abs(x) < finest) return plain(Number(x.toPrecision(1)));
  return plain(Number(rounded(Number(x.toPrecision(3)), finest, "nearest").toFixed(6)));
}

function plain(x: number, decimals?: number): string {
  const zero = x === 0 ? 0 : x; // no minus zero
  if (Math.abs(zero) >= 1e15) return zero.toExponential(2);
  return decimals === undefined ? String(zero) : zero.toFixed(Math.min(decimals, 12));
}

/**
 * Inches as a fraction with the largest denominator 16: `1 1/4`.
 *
 * @param inches length in inches, at least 0
 * @example inchFraction(1.25) // "1 1/4"
 * @example inchFraction(0.38) // "3/8"
 */
export function inchFraction(inches: number): string {
  const sixteenths = Math.round(inches * 16);
  const whole = Math.floor(sixteenths / 16);
  let top = sixteenths - whole * 16;
  let bottom = 16;
  while (top > 0 && top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  if (top === 0) return String(whole);
  return whole === 0 ? `${top}/${bottom}` : `${whole} ${top}/${bottom}`;
}

/** A figure and the unit behind it: `5` `min`. */
export interface QuantityPart {
  readonly figure: string;
  readonly unit: string;
}

/**
 * Figures and units as one text.
 *
 * @example textOfParts([{ figure: "5", unit: "min" }, { figure: "20", unit: "s" }]) // "5 min 20 s"
 */
export function textOfParts(parts: readonly QuantityPart[]): string {
  return parts.map(({ figure, unit }) => (unit === "" ? figure : `${figure} ${unit}`)).join(" ");
}

/**
 * A duration in words: `45 s`, `5 min 20 s`, `3 h 40 min`, `2 days`.
 *
 * @param seconds s, at least 0
 * @param step rounded to multiples of this, s; left out: whole seconds under two hours, minutes above
 * @example formatDuration(320) // "5 min 20 s"
 * @example formatDuration(13200) // "3 h 40 min"
 */
export function formatDuration(seconds: number, step = seconds < 7200 ? 1 : 60): string {
  return textOfParts(durationParts(seconds, step, "nearest"));
}

function durationParts(seconds: number, step: number, towards: Towards): QuantityPart[] {
  // beyond a day minutes are not told, and rounded to hours on the side that is asked for
  const told = step >= 60 && seconds >= 86400 ? Math.max(step, 3600) : step;
  const near = told > 0 ? rounded(seconds, told, towards) : seconds;
  if (near === 0) return [{ figure: "0", unit: "s" }];
  if (near < 90) return [{ figure: decimalsText(near, step < 1 ? 0.1 : 1), unit: "s" }];
  const total = Math.round(near);
  const days = Math.floor(total / 86400);
  const hours = Math.floor((total % 86400) / 3600);
  const minutes = Math.floor((total % 3600) / 60);
  const rest = total % 60;
  const parts = [
    [days, days === 1 ? "day" : "days"],
    [hours, "h"],
    [minutes, "min"],
    [rest, "s"],
  ] as const;
  const first = parts.findIndex(([n]) => n > 0);
  return parts
    .slice(first, first + (step < 60 ? 4 : 2))
    .filter(([n]) => n > 0)
    .map(([n, unit]) => ({ figure: String(n), unit }));
}

/**
 * A duration as a clock shows it: `4:50`, `1:04:50`.
 *
 * @example clockTime(290) // "4:50"
 * @example clockTime(3890) // "1:04:50"
 */
export function clockTime(seconds: number, step = 1): string {
  const total = Math.round(Math.round(seconds / step) * step);
  const two = (n: number) => String(n).padStart(2, "0");
  const hours = Math.floor(total / 3600);
  const minutes = Math.floor((total % 3600) / 60);
  return hours > 0
    ? `${hours}:${two(minutes)}:${two(total % 60)}`
    : `${minutes}:${two(total % 60)}`;
}

/**
 * A quantity with its unit, as a person reads it.
 *
 * @param si the value in SI and kelvin
 * @param kind what it is
 * @example formatQuantity(328.15, "temperature") // "55 °C"
 * @example formatQuantity(328.15, "temperature", { system: "shop-us" }) // "131 °F"
 * @example formatQuantity(0.0127, "length", { system: "shop-us", fractions: true }) // "1/2 in"
 * @example formatQuantity(0.004, "length", { system: "shop-us", fractions: true }) // "0.16 in"
 * @example formatQuantity(0.01898, "length", { system: "shop-us", fractions: true, towards: "down" }) // "0.74 in"
 */
export function formatQuantity(si: number, kind: Kind, options: FormatOptions = {}): string {
  return textOfParts(quantityParts(si, kind, options));
}

/**
 * The same as figures and units by turns.
 *
 * @example quantityParts(13200, "duration").map((part) => part.unit) // ["h", "min"]
 */
export function quantityParts(
  si: number,
  kind: Kind,
  options: FormatOptions = {},
): readonly QuantityPart[] {
  if (!Number.isFinite(si)) return [{ figure: si > 0 ? "without end" : "unknown", unit: "" }];
  const { system = "metric", step, fractions, towards = "nearest" } = options;
  if (kind === "duration") return durationParts(si, step ?? (si < 7200 ? 1 : 60), towards);
  const { name, perSi } = scaled(si, kind, system);
  const shown = toUnit(si, name);
  const unit = displayUnits[name].symbol;
  if (name === "in" && fractions) return [{ figure: rule(shown, towards), unit }];
  const own = step ?? (kind === "temperature" ? 1 / perSi : 0);
  const figure =
    own > 0 ? decimalsText(shown, own * perSi, towards) : digitsText(shown, FINEST[name]);
  return [{ figure, unit }];
}

/** A bound is given no finer than this: a length to what can be leveled or sawn, m, a temperature to what is known of it, K. */
const BOUND_STEPS: Partial<Record<Kind, number>> = { length: 1e-3, temperature: 5 };

/**
 * A number that must not be passed, or falls no shorter, rounded to the side on which it stays sure; it reads the same
 * wherever it stands.
 *
 * @param si the value in SI and kelvin; Infinity: `without end`
 * @param towards `down` for what is allowed at most, `up` for what it may come to
 * @param keeps a temperature that it is held to, K: where it stays within, rounding does not carry it past
 * @example boundText(0.00683, "length", "down") // "6 mm"
 * @example boundText(0.00683, "length", "down", "shop-us") // "0.26 in"
 * @example boundText(501.05, "temperature", "up") // "230 °C"
 * @example boundText(90.1, "duration", "up") // "1 min 32 s"
 * @example boundText(350.5, "temperature", "up", "shop-us", 353.15) // "176 °F"
 */
export function boundText(
  si: number,
  kind: Kind,
  towards: Towards,
  system: UnitSystem = "metric",
  keeps?: number,
): string {
  return textOfParts(boundParts(si, kind, towards, system, keeps));
}

/**
 * The same as figures and units by turns.
 *
 * @example boundParts(0.00683, "length", "down", "metric")[0].figure // "6"
 */
export function boundParts(
  si: number,
  kind: Kind,
  towards: Towards,
  system: UnitSystem,
  keeps?: number,
): readonly QuantityPart[] {
  const step = kind === "duration" ? timeStep(si) : BOUND_STEPS[kind];
  const options = step === undefined ? {} : { step };
  const parts = quantityParts(si, kind, { system, fractions: true, towards, ...options });
  if (keeps === undefined || kind !== "temperature") return parts;
  const held = quantityParts(keeps, kind, { system });
  // 171 °F beside a limit of 176 °F would read 180, and the answer says that it stays below
  const side = towards === "down" ? -1 : 1;
  const isWithin = side * (keeps - si) >= 0;
  return isWithin && side * (Number(parts[0].figure) - Number(held[0].figure)) > 0 ? held : parts;
}

/** A fraction is read off a rule, but below an inch it must not move what it stands for: else two figures. */
function rule(inches: number, towards: Towards): string {
  const fraction = rounded(inches, 1 / 16, towards);
  if (inches >= 1 || Math.abs(fraction - inches) <= 0.015 * inches) return inchFraction(fraction);
  if (!(inches > 0)) return String(inches);
  const step = 10 ** (Math.floor(Math.log10(inches)) - 1);
  return String(Number(rounded(inches, step, towards).toPrecision(3)));
}

/** The unit, and a larger one where the number would grow long: kg for g, lb for oz. */
function scaled(si: number, kind: Kind, system: UnitSystem) {
  let name = unitFor(kind, system);
  if (name === "g" && Math.abs(si) >= 1) name = "kg";
  if (name === "oz" && Math.abs(si) >= 0.9) name = "lb";
  return { name, perSi: 1 / displayUnits[name].factor };
}

/**
 * The three numbers of a range as texts in one unit, rounded to what the range bears out, its ends outwards.
 *
 * @param range in SI and kelvin; an end may be Infinity: `without end`
 * @example formatRange({ value: 0.0164, low: 0.0154, high: 0.0174 }, "length").value // "16.4 mm"
 */
export function formatRange(
  range: Shown,
  kind: Kind,
  options: FormatOptions = {},
): { readonly value: string; readonly low: string; readonly high: string } {
  const shared = options.step ?? stepOf(range, kind);
  const each = (si: number, towards: Towards) => {
    // each time by its own size: the same end reads the same where it stands alone
    const step = kind === "duration" && options.step === undefined ? timeStep(si) : shared;
    return formatQuantity(si, kind, step > 0 ? { ...options, step, towards } : options);
  };
  const value = each(range.value, options.towards ?? "nearest");
  if (range.low === range.high) return { value, low: value, high: value };
  return { value, low: each(range.low, "down"), high: each(range.high, "up") };
}

/**
 * The two ends of a range in few words, without its middle.
 *
 * @example spanInWords({ value: 900, low: 720, high: 1080 }, "duration") // "12 min to 18 min"
 */
export function spanInWords(range: Shown, kind: Kind, options: FormatOptions = {}): string {
  const { low, high } = formatRange(range, kind, options);
  return low === high ? low : `${low} to ${high}`;
}

/**
 * A range in words: `between 11 s and 14 s, most likely 12 s`.
 *
 * @example rangeInWords({ value: 720, low: 600, high: 840 }, "duration") // "between 10 min and 14 min, most likely 12 min"
 * @example rangeInWords({ value: 720, low: 600, high: Infinity }, "duration") // "at least 10 min, most likely 12 min, perhaps without end"
 */
export function rangeInWords(range: Shown, kind: Kind, options: FormatOptions = {}): string {
  const { value, low, high } = formatRange(range, kind, options);
  if (low === high) return value;
  if (range.high === Number.POSITIVE_INFINITY) {
    const perhaps = Number.isFinite(range.value) ? `, perhaps ${high}` : "";
    return `at least ${low}, most likely ${value}${perhaps}`;
  }
  return `between ${low} and ${high}, most likely ${value}`;
}

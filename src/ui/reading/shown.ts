/**
 * A number of the library as a person reads it: in their unit system, no finer than its range.
 *
 * `unit` says what the number is (see the notebook's outputs): "degC" a temperature in K, "K" a difference,
 * "mm" a length in m, "g" a mass in kg, "ml" a volume in m3, "s" a time, "%" a share.
 */
import { displayUnits, toUnit, type UnitSystem, unitFor } from "../../../lib/units/display.ts";
import { clockTime, formatQuantity, rangeInWords, stepOf } from "../../../lib/units/format.ts";
import type { Kind } from "../../../lib/units/kinds.ts";
import { isOnClock, spokenTime } from "./clock.ts";

export type { UnitSystem };

export interface Shown {
  /** Figures and units by turns: `5:20` `min`, or `3` `h` `40` `min`. */
  readonly parts: readonly { readonly figure: string; readonly unit: string }[];
  /** "between 4:50 and 6:10, most likely 5:20"; empty without a range. */
  readonly range: string;
  /** The value for a screen reader. */
  readonly spoken: string;
  /** How the value looks in the other system; absent where both agree. */
  readonly other?: string;
}

const KINDS: Readonly<Record<string, Kind>> = {
  degC: "temperature",
  K: "temperatureDifference",
  mm: "length",
  g: "mass",
  ml: "volume",
  s: "duration",
  "%": "ratio",
};

const TWO_SYSTEMS = new Set(["degC", "K", "mm", "g", "ml"]);

export const otherSystem = (system: UnitSystem): UnitSystem =>
  system === "metric" ? "shop-us" : "metric";

/** The value in the reader's unit, as a number. */
export function inReaderUnit(value: number, unit: string, system: UnitSystem): number {
  const kind = KINDS[unit];
  return kind === undefined ? value : toUnit(value, unitFor(kind, system));
}

/** The reader's unit as printed: `°F`. */
export function readerUnit(unit: string, system: UnitSystem): string {
  const kind = KINDS[unit];
  if (kind !== undefined) return displayUnits[unitFor(kind, system)].symbol;
  return unit === "1" ? "" : unit;
}

/** One number in words, three figures at most: `23.5 mm`, `5:20`. */
export function shownText(value: number, unit: string, system: UnitSystem): string {
  const kind = KINDS[unit];
  if (kind === undefined) return plainText(value, 0, unit);
  if (kind === "duration" && isOnClock(value)) return clockTime(value);
  return formatQuantity(value, kind, { system });
}

export function shown(
  value: number,
  low: number | null,
  high: number | null,
  unit: string,
  system: UnitSystem,
): Shown {
  const kind = KINDS[unit];
  const range = low === null || high === null ? undefined : { value, low, high };
  const step = range ? stepOf(range, kind ?? "length") : 0;
  const stepped = step > 0 ? { step } : {};
  const text =
    kind === undefined
      ? plainText(value, step, unit)
      : kind === "duration" && isOnClock(value)
        ? `${clockTime(value, Math.max(1, step))} min`
        : step > 0
          ? formatQuantity(value, kind, { system, ...stepped })
          : bareText(value, kind, system);
  return {
    parts: partsOf(text),
    range: range ? rangeWords(range, kind, step, unit, system) : "",
    spoken:
      kind === "duration" ? spokenTime(step > 0 ? Math.round(value / step) * step : value) : text,
    ...(kind !== undefined &&
      TWO_SYSTEMS.has(unit) && { other: otherText(value, kind, step, otherSystem(system)) }),
  };
}

/** Up to here a degree more or less in the other scale would look like a wrong conversion. K */
const FEW_KELVIN = 2;

/** The same value in the other system, no finer than in the first; "about" where both are so coarse that they part. */
function otherText(value: number, kind: Kind, step: number, system: UnitSystem): string {
  if (step === 0) return bareText(value, kind, system);
  if (kind !== "temperature") return formatQuantity(value, kind, { system, step });
  if (step <= FEW_KELVIN) return formatQuantity(value, kind, { system });
  return `about ${formatQuantity(value, kind, { system, step })}`;
}

/** A number without a range: as many digits as a thermometer or a caliper shows. */
function bareText(value: number, kind: Kind, system: UnitSystem): string {
  const name = unitFor(kind, system);
  const { symbol } = displayUnits[name];
  const shown = toUnit(value, name);
  if (kind === "temperatureDifference") return `${Number(shown.toPrecision(2))} ${symbol}`;
  if (name === "in" && Math.abs(shown) >= 0.1) return `${Number(shown.toFixed(2))} ${symbol}`;
  return formatQuantity(value, kind, { system });
}

function rangeWords(
  range: { value: number; low: number; high: number },
  kind: Kind | undefined,
  step: number,
  unit: string,
  system: UnitSystem,
): string {
  if (kind !== undefined) return rangeInWords(range, kind, { system });
  const text = (v: number) => plainText(v, step, unit);
  return `between ${text(range.low)} and ${text(range.high)}, most likely ${text(range.value)}`;
}

/** `3 h 40 min` in pieces, so that units may stand smaller than figures. */
function partsOf(text: string): { figure: string; unit: string }[] {
  const found = [...text.matchAll(/([\u2212+-]?[\d.,:]+(?:e[+-]?\d+)?)\s*([^\d]*)/g)];
  if (found.length === 0) return [{ figure: text, unit: "" }];
  return found.map(([, figure, unit]) => ({ figure: figure ?? "", unit: (unit ?? "").trim() }));
}

function plainText(value: number, step: number, unit: string): string {
  const decimals = step > 0 ? Math.max(0, -Math.floor(Math.log10(step) + 1e-9)) : undefined;
  const text = Number.isInteger(value)
    ? String(value)
    : decimals === undefined
      ? String(Number(value.toPrecision(3)))
      : value.toFixed(Math.min(decimals, 12));
  return unit === "" || unit === "1" ? text : `${text} ${unit}`;
}

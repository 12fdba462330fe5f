/**
 * A number of the library as a person reads it: in their unit system, no finer than its range.
 *
 * `unit` says what the number is, which is SI: "degC" a temperature in K, "K" a difference, "mm" a length in m, "min" a
 * time in s, "%" a share.
 */
import {
  displayUnits,
  kindOfOutput,
  readersUnit,
  toUnit,
  type UnitSystem,
  unitFor,
} from "../../../lib/units/display.ts";
import {
  boundParts,
  boundText,
  formatQuantity,
  type QuantityPart,
  quantityParts,
  rangeInWords,
  rounded,
  stepOf,
  type Towards,
  textOfParts,
  timeStep,
  timeText,
  windowInWords,
  windowStep,
} from "../../../lib/units/format.ts";
import type { Kind } from "../../../lib/units/kinds.ts";
import { type AnswerOutput, stepFor } from "../../notebook/outputs/output.ts";
import { spokenTime } from "./clock.ts";

export type { UnitSystem };

export interface Shown {
  /** Figures and units by turns, so that units may stand smaller: `5:20` `min`, or `3` `h` `40` `min`. */
  readonly parts: readonly QuantityPart[];
  /** "between 4:50 and 6:10, most likely 5:20"; empty without a range. */
  readonly range: string;
  /** The value for a screen reader. */
  readonly spoken: string;
  /** How the value looks in the other system; absent where both agree. */
  readonly other?: string;
}

export const otherSystem = (system: UnitSystem): UnitSystem =>
  system === "metric" ? "shop-us" : "metric";

/** The value in the reader's unit, as a number. */
export function inReaderUnit(value: number, unit: string, system: UnitSystem): number {
  const name = readersUnit(unit, system);
  return name === undefined ? value : toUnit(value, name);
}

/** The reader's unit as printed: `°F`. */
export function readerUnit(unit: string, system: UnitSystem): string {
  const name = readersUnit(unit, system);
  if (name !== undefined) return displayUnits[name].symbol;
  return unit === "1" ? "" : unit;
}

/** One number in words, three figures at most: `23.5 mm`, `5:20`. */
export function shownText(value: number, unit: string, system: UnitSystem, step?: number): string {
  const kind = kindOfOutput(unit);
  if (kind === undefined) return plainText(value, 0, unit);
  if (kind === "duration") return timeText(value);
  return formatQuantity(value, kind, { system, ...(step !== undefined && { step }) });
}

export function shown(
  { value, low, high }: { value: number; low: number | null; high: number | null },
  unit: string,
  system: UnitSystem,
  { towards = "nearest", step: given }: { towards?: Towards; step?: number | undefined } = {},
): Shown {
  const kind = kindOfOutput(unit);
  const range = low === null || high === null ? undefined : { value, low, high };
  const step = given ?? (range ? stepOf(range, kind ?? "length") : 0);
  const parts =
    kind === undefined
      ? [plainPart(value, step, unit)]
      : kind === "duration"
        ? quantityParts(value, kind, { step: given ?? timeStep(value), towards })
        : step > 0
          ? quantityParts(value, kind, { system, step, towards })
          : bareParts(value, kind, system);
  const text = textOfParts(parts);
  return {
    parts,
    range: range ? rangeWords(range, { kind, step, given, unit, system, towards }) : "",
    spoken:
      kind === "duration" ? spokenTime(rounded(value, given ?? timeStep(value), towards)) : text,
    ...(kind !== undefined &&
      unitFor(kind, "metric") !== unitFor(kind, "shop-us") && {
        other: otherText(value, kind, step, otherSystem(system)),
      }),
  };
}

/** The figure of an answer; undefined where it has none. */
export function answerShown(
  answer: Omit<AnswerOutput, "kind" | "label">,
  system: UnitSystem,
): Shown | undefined {
  const { value, low, high, unit, towards, keeps, window } = answer;
  if (value === null) return undefined;
  const kind = kindOfOutput(unit);
  if (window && kind === "duration" && low !== null && high !== null)
    return windowShown({ value, low, high });
  return towards && kind && (low === null || high === null || low === high)
    ? boundShown(value, kind, towards, system, keeps)
    : shown({ value, low, high }, unit, system, {
        ...(towards && { towards }),
        step: stepFor(answer.step, system),
      });
}

function windowShown(window: { value: number; low: number; high: number }): Shown {
  const step = Math.min(timeStep(window.value), windowStep(window) || 1);
  return {
    parts: quantityParts(window.value, "duration", { step }),
    range: windowInWords(window),
    spoken: spokenTime(Math.round(window.value / step) * step),
  };
}

/** A bound without a range reads as it does everywhere. */
function boundShown(
  value: number,
  kind: Kind,
  towards: Towards,
  system: UnitSystem,
  keeps?: number,
): Shown {
  const parts = boundParts(value, kind, towards, system, keeps);
  const text = boundText(value, kind, towards, system, keeps);
  const other = boundText(value, kind, towards, otherSystem(system), keeps);
  return { parts, range: "", spoken: text, ...(other !== text && { other }) };
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
function bareParts(value: number, kind: Kind, system: UnitSystem): readonly QuantityPart[] {
  const name = unitFor(kind, system);
  const { symbol } = displayUnits[name];
  const shown = toUnit(value, name);
  if (kind === "temperatureDifference")
    return [{ figure: String(Number(shown.toPrecision(2))), unit: symbol }];
  if (name === "in" && Math.abs(shown) >= 0.1)
    return [{ figure: String(Number(shown.toFixed(2))), unit: symbol }];
  return quantityParts(value, kind, { system });
}

function bareText(value: number, kind: Kind, system: UnitSystem): string {
  return textOfParts(bareParts(value, kind, system));
}

function rangeWords(
  range: { value: number; low: number; high: number },
  as: {
    readonly kind: Kind | undefined;
    readonly step: number;
    readonly given: number | undefined;
    readonly unit: string;
    readonly system: UnitSystem;
    readonly towards: Towards;
  },
): string {
  const { kind, step, given, unit, system, towards } = as;
  if (kind !== undefined)
    return rangeInWords(range, kind, {
      system,
      towards,
      ...(given !== undefined && { step: given }),
    });
  const text = (v: number) => plainText(v, step, unit);
  return `between ${text(range.low)} and ${text(range.high)}, most likely ${text(range.value)}`;
}

function plainText(value: number, step: number, unit: string): string {
  return textOfParts([plainPart(value, step, unit)]);
}

function plainPart(value: number, step: number, unit: string): QuantityPart {
  const decimals = step > 0 ? Math.max(0, -Math.floor(Math.log10(step) + 1e-9)) : undefined;
  const text = Number.isInteger(value)
    ? String(value)
    : decimals === undefined
      ? String(Number(value.toPrecision(3)))
      : value.toFixed(Math.min(decimals, 12));
  return { figure: text, unit: unit === "1" ? "" : unit };
}

/** What every answer in the terminal has below its numbers: cautions, what was ignored, defaults, effort. */
import type {
  AnswerEffort,
  Cause,
  CautionCode,
  IgnoredCode,
  Lever,
  Quantified,
} from "../../lib/answers/answer.ts";
import type { UnitSystem } from "../../lib/units/display.ts";
import {
  boundText,
  formatQuantity,
  rangeInWords,
  type Shown,
  spanInWords,
  type Towards,
  timeText,
} from "../../lib/units/format.ts";
import type { Kind } from "../../lib/units/kinds.ts";
import { cautionTexts } from "../messages/cautions.ts";
import { ignoredLine } from "../messages/ignored.ts";
import { inputName } from "../messages/inputs.ts";
import { leverLine } from "../messages/levers.ts";
import { listText, wrapped } from "./table.ts";

/** The system of the other unit set: the main number is given in both. */
function otherSystem(system: UnitSystem): UnitSystem {
  return system === "metric" ? "shop-us" : "metric";
}

/** A quantity in the reader's system, and in the other in brackets: `55 °C (131 °F)`. */
export function inBoth(si: number, kind: Kind, system: UnitSystem, step?: number): string {
  const options = step === undefined ? { fractions: true } : { fractions: true, step };
  const own = formatQuantity(si, kind, { system, ...options });
  const other = formatQuantity(si, kind, { system: otherSystem(system), ...options });
  return own === other ? own : `${own} (${other})`;
}

/** A number that must not be read past one side, in both systems where they differ. */
export function boundInBoth(si: number, kind: Kind, towards: Towards, system: UnitSystem): string {
  const own = boundText(si, kind, towards, system);
  const other = boundText(si, kind, towards, otherSystem(system));
  return own === other ? own : `${own} (${other})`;
}

/** A range in words, in both systems where they differ. */
export function rangeInBoth(range: Shown, kind: Kind, system: UnitSystem): string {
  const own = rangeInWords(range, kind, { system });
  const other = rangeInWords(range, kind, { system: otherSystem(system) });
  return own === other ? own : `${own} (${other})`;
}

/** What makes most of the range, and the measurement that is expected to narrow it, with what it costs. */
export function causeText(
  cause: Cause | null,
  range?: Quantified,
  system: UnitSystem = "metric",
): string[] {
  if (cause === null) return [];
  const others = cause.others.map(({ name }) => inputName(name)).slice(0, 2);
  const then = others.length === 0 ? "" : `, then from ${others.join(" and ")}`;
  const from = `${cause.share > 0.5 ? "Most" : "The largest part"} of the range comes from ${inputName(cause.name)}${then}`;
  const { narrows } = cause;
  if (narrows === null) return [`${from}; to narrow it, ${leverLine(cause.measure)}.`];
  const work = formatQuantity(narrows.takes, "duration");
  const becomes =
    range && Number.isFinite(range.high) ? becomesText(range, narrows.to, system) : "";
  return [`${from}.`, `To narrow it, ${leverLine(cause.measure)}: ${work} of work${becomes}.`];
}

function becomesText(range: Quantified, to: number, system: UnitSystem): string {
  const { value, low, high, kind } = range;
  const narrower = { ...range, low: value - to * (value - low), high: value + to * (high - value) };
  const [now, then] = [range, narrower].map((one) => spanInWords(one, kind, { system }));
  return now === then ? "" : `, and ${now} becomes about ${then}`;
}

/** Plastic that is hotter than it may be held at. */
export function hotPlasticWarning(shot: number, most: number, system: UnitSystem): string[] {
  if (shot <= most) return [];
  return [`The plastic is too hot: no hotter than ${inBoth(most, "temperature", system)}.`];
}

/** A bait that is cool enough before its sprue has set waits for it. */
export function sprueHold(until: number | null): string[] {
  if (until === null) return [];
  return [
    `Not before ${timeText(until, "up")}, though: until then its sprue may be molten (sprue.diameter).`,
  ];
}

/**
 * The mold gets hotter than it bears: said at the top, for it is the dearest mistake.
 *
 * @param first the first shot is too hot already: no rest between shots helps
 */
export function wallWarning(
  peak: Shown,
  limit: number | null,
  system: UnitSystem,
  first: boolean,
): string[] {
  if (limit === null || peak.value <= limit) return [];
  const gets = `The mold gets too hot: its face to ${inBoth(peak.value, "temperature", system)}, it bears ${inBoth(limit, "temperature", system)}.`;
  return [
    first
      ? `${gets} The first shot does it, so a rest can't help: start with a cooler mold, or take one that bears more.`
      : `${gets} Rest or cool it between shots, or take a mold that bears more.`,
  ];
}

/** How hot the cavity face gets, against what the mold bears. */
export function wallLines(peak: Shown, limit: number | null, system: UnitSystem): string[] {
  const gets = `The mold's face gets to ${rangeInBoth(peak, "temperature", system)}`;
  if (limit === null) return [`${gets}.`];
  const bears = inBoth(limit, "temperature", system);
  if (peak.low > limit) return [`${gets}, more than the ${bears} that it bears.`];
  if (peak.high > limit) return [`${gets}; it bears ${bears}, so it may get too hot.`];
  return [`${gets}; it bears ${bears}.`];
}

/** The key that a lever changes, with its new value; a moment is no 0 s. */
export function changeText(change: Lever["change"], system: UnitSystem): string {
  if (change === undefined) return "";
  const { path, kind, to } = change;
  const value = kind === "duration" ? timeText(to) : formatQuantity(to, kind, { system });
  return ` (${path}: ${value})`;
}

/** A lever as a line: what to do, and what comes of it. */
export function leverText({ code, change, gives }: Lever, system: UnitSystem): string {
  const result = gives ? `: ${givesText(gives, system)}` : "";
  return `${leverLine(code)}${changeText(change, system)}${result}`;
}

function givesText({ kind, value }: NonNullable<Lever["gives"]>, system: UnitSystem): string {
  if (kind === "duration") return timeText(value);
  if (kind === "ratio") return formatQuantity(Number(value.toPrecision(2)), kind, { system });
  return formatQuantity(value, kind, { system });
}

interface Report {
  /** The big answer, first of all. */
  readonly headline: readonly string[];
  readonly body: readonly string[];
  readonly levers?: readonly string[];
  readonly leversGive?: string;
  readonly cautions: readonly CautionCode[];
  readonly ignored: readonly IgnoredCode[];
  readonly defaults: readonly string[];
  readonly effort: AnswerEffort & { readonly milliseconds: number };
}

/** The whole answer as text for the terminal. */
export function reportText(report: Report): string {
  const { headline, body, levers = [], leversGive, cautions, ignored, defaults, effort } = report;
  const lines = [...headline, "", ...body];
  if (levers.length > 0)
    lines.push(
      "",
      `What would change it${leversGive === undefined ? "" : `: ${leversGive}`}`,
      ...listText(levers),
    );
  if (cautions.length > 0) {
    lines.push("", "Take care", ...listText(cautionTexts(cautions)));
  }
  if (defaults.length > 0) {
    lines.push("", "Not from you, but usual values; set them for a better answer");
    lines.push(...wrapped(defaults.join(", "), 94).map((line) => `  ${line}`));
  }
  if (ignored.length > 0) lines.push("", "Left out", ...listText(ignored.map(ignoredLine)));
  if (effort.cells > 0) lines.push("", effortLine(effort));
  return `${lines.join("\n").replace(/\n{3,}/g, "\n\n")}\n`;
}

function effortLine({ cells, steps, milliseconds, energyImbalance }: Report["effort"]): string {
  const balance = Math.abs(energyImbalance) < 1e-12 ? "0" : energyImbalance.toExponential(0);
  return `${cells} cells, ${steps} steps, ${Math.max(1, Math.round(milliseconds))} ms; energy closes to ${balance}`;
}

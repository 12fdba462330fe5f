/** What a cup of plastisol bears, and what it is asked to bear. */
import type { Quantified } from "../../lib/answers/answer.ts";
import type { PlannedCup } from "../../lib/questions/plan/cups.ts";
import { formatRange, spanInWords } from "../../lib/units/format.ts";

/** Plastic that its heats so far have used up, for sure or perhaps. */
export function usedUpLines(left: Quantified): string[] {
  if (left.value <= 0) {
    const surely = left.high <= 0 ? "is" : "is most likely";
    return [`By its heats so far the plastic ${surely} used up: throw it out, take fresh.`];
  }
  if (left.low <= 0)
    return ["By its heats so far the plastic may be used up already: fresh is surer."];
  return [];
}

/** Cups that are held hot for too long. */
export function cupLines(left: Quantified, cups: readonly PlannedCup[]): string[] {
  const spent = usedUpLines(left);
  if (spent.length > 0) return spent;
  const long = cups.filter(({ lasts }) => !lasts);
  if (long.length === 0) return [];
  const numbers = long.map(({ number }) => number);
  const which = long.length === 1 ? `Cup ${numbers[0]} is` : `Cups ${numbers.join(", ")} are`;
  // a cup of one shot is as small as it can be
  const smaller = long.some(({ from, to }) => to > from) ? "smaller cups (cup.mass), or " : "";
  return [
    `${which} held hot for longer than the plastic surely bears: take ${smaller}cooler plastic.`,
  ];
}

/**
 * Share of its life that a cup's heat takes; past the whole of it no figures count.
 *
 * @example cupUse({ value: 0.5, low: 0.2, high: 3, kind: "ratio" }) // "20 % to over 100 %"
 */
export function cupUse({ value, low, high }: PlannedCup["used"]): string {
  if (value === Number.POSITIVE_INFINITY) return "used up";
  if (low >= 1) return "over 100 %";
  if (high <= 1) return spanInWords({ value, low, high }, "ratio");
  const within = { value: Math.min(value, 1), low, high: 1 };
  return `${formatRange(within, "ratio").low} to over 100 %`;
}

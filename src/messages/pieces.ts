/** Pieces of which the sentences about mistakes are made. */

import { formatQuantity } from "../../lib/units/format.ts";
import type { Kind } from "../../lib/units/kinds.ts";
import type { Problem } from "../../lib/units/problem.ts";
import { isProblem, readQuantity } from "../../lib/units/quantity.ts";

/** The possible range in words, when it is known. */
export function range({ least, most }: Problem): string {
  if (least !== undefined && most !== undefined) return `Possible is ${least} to ${most}.`;
  if (least !== undefined) return `Possible is ${least} or more.`;
  if (most !== undefined) return `Possible is ${most} or less.`;
  return "";
}

export function hint({ suggestion }: Problem): string {
  return suggestion === undefined ? "" : `Did you mean ${suggestion}?`;
}

/** The possible words; a long list is cut, for the suggestion says more. */
export function words({ possible }: Problem, most = 12): string {
  if (!possible || possible.length === 0) return "";
  const shown = possible.slice(0, most).join(", ");
  return `Possible: ${shown}${possible.length > most ? `, and ${possible.length - most} more` : ""}.`;
}

/** "Write it like 16 mm.", from what is possible or suggested; nothing when neither is known. */
export function write({ possible, suggestion }: Problem, lead: string): string {
  const examples = possible ?? (suggestion === undefined ? [] : [suggestion]);
  return examples.length === 0 ? "" : `${lead} ${examples.join(" or ")}.`;
}

export const given = ({ given: x }: Problem) => (x === undefined ? "this" : String(x));

/** The same with every quantity in the units of either shop: of what was computed nobody knows in which it was typed. */
export function inBoth(problem: Problem, kind: Kind): Problem {
  const both = (text: string, towards?: "up" | "down") => {
    const read = readQuantity(text, kind);
    if (isProblem(read)) return text;
    // a hundredth inwards: what is named as possible is
    const moved = towards === undefined ? 1 : towards === "up" ? 1.01 : 0.99;
    const other = formatQuantity(moved * read.value, kind, { system: "shop-us" });
    return `${text} (${other})`;
  };
  const { given, least, most, possible } = problem;
  return {
    ...problem,
    ...(typeof given === "string" && { given: both(given) }),
    ...(least !== undefined && { least: both(least, "up") }),
    ...(most !== undefined && { most: both(most, "down") }),
    ...(possible && { possible: possible.map((text) => both(text)) }),
  };
}

export type Sentence = (problem: Problem) => readonly string[];

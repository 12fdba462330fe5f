/** What a sweep varies, as an option: `--vary bait.thickness="8 mm..24 mm"`. */
import { readNumber } from "../../../lib/units/number.ts";
import { InputError } from "../../../lib/units/problem.ts";
import type { Varied } from "../../sweep/varied.ts";

/** @throws InputError when it is no range */
export function variedOf(typed: string): Varied {
  const refuse = (code: string) => new InputError([{ code, path: "--vary", given: typed }]);
  const at = typed.indexOf("=");
  const ends = typed.slice(at + 1).split("..");
  if (at < 1 || ends.length !== 2) throw refuse("not_two_ends");
  const [low, high] = ends.map(readNumber);
  if (!low || !high || !("value" in low) || !("value" in high)) throw refuse("ends_no_numbers");
  // "8..24 mm": the unit of the far end serves both
  const unit = low.rest === "" ? high.rest : low.rest;
  if (high.rest !== unit) throw refuse("ends_of_two_units");
  if (!(low.value < high.value)) throw refuse("ends_reversed");
  return { path: typed.slice(0, at).trim(), low: low.value, high: high.value, unit };
}

/** What a sweep varies, as an option: `--vary bait.thickness="8 mm..24 mm"`. */
import { readNumber } from "../../../lib/units/number.ts";
import type { Varied } from "../../sweep/varied.ts";
import { Misuse } from "../words.ts";

const LIKE = '--vary bait.thickness="8 mm..24 mm"';

/** @throws Misuse when it is no range */
export function variedOf(typed: string): Varied {
  const at = typed.indexOf("=");
  const ends = typed.slice(at + 1).split("..");
  if (at < 1 || ends.length !== 2)
    throw new Misuse(`--vary needs path=low..high, such as ${LIKE}, not "${typed}".`);
  const [low, high] = ends.map(readNumber);
  if (!low || !high || !("value" in low) || !("value" in high))
    throw new Misuse(`--vary needs a number at either end, such as ${LIKE}, not "${typed}".`);
  // "8..24 mm": the unit of the far end serves both
  const unit = low.rest === "" ? high.rest : low.rest;
  if (high.rest !== unit)
    throw new Misuse(`--vary needs both ends in one unit, such as ${LIKE}, not "${typed}".`);
  if (!(low.value < high.value))
    throw new Misuse(
      `--vary goes from the lower to the higher end, such as ${LIKE}, not "${typed}".`,
    );
  return { path: typed.slice(0, at).trim(), low: low.value, high: high.value, unit };
}

/** What a sweep varies, as an option: `--vary bait.thickness="8 mm..24 mm"`. */
import { type NoRange, type Varied, variedBetween } from "../../sweep/varied.ts";
import { Misuse } from "../words.ts";

const LIKE = 'such as --vary bait.thickness="8 mm..24 mm"';
const WHY: Readonly<Record<NoRange, string>> = {
  "no number": "needs a number at either end",
  "two units": "needs both ends in one unit",
  "wrong way round": "goes from the lower to the higher end",
};

/** @throws Misuse when it is no range */
export function variedOf(typed: string): Varied {
  const at = typed.indexOf("=");
  const [from, to, ...more] = typed.slice(at + 1).split("..");
  if (at < 1 || from === undefined || to === undefined || more.length > 0)
    throw new Misuse(`--vary needs path=low..high, ${LIKE}, not "${typed}".`);
  const read = variedBetween(typed.slice(0, at).trim(), from, to);
  if (typeof read === "string") throw new Misuse(`--vary ${WHY[read]}, ${LIKE}, not "${typed}".`);
  return read;
}

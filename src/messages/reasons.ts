/** What decides an answer, as the end of a sentence that begins "Decided by". */
import type { Reason, ReasonCode } from "../../lib/answers/answer.ts";

const LINES: Readonly<Record<ReasonCode, (name: string) => string>> = {
  station: (name) => `the ${name || "thickest part"}, which cools last`,
  center_of_body: (name) => `the center of the ${name || "body"}`,
  wall_temperature: () => "the temperature of the cavity face",
  hands: () => "the work of the hands, not the heat",
  set: () => "the first color, which must no longer flow when the mold is turned",
  skin: () => "the skin of the first color, which must hold when the mold is turned",
  bond: () => "the interface, which must be hot enough to bond",
  healing: () => "the time at heat that the interface needs to heal",
  remelt: () => "the second color, which would wash the first away",
  exotherm: () => "the heat that the resin makes itself",
  overheating: () => "the mold, which would get too hot over the shots",
  gel: () => "the time in which the resin gels",
  vitrification: () => "the resin, which turns to glass before it is cured",
  sprue_closes: () => "the sprue, which closes first",
  gate_closes: () => "the gate, which closes first",
  core_reheats: (name) => `the core of the ${name || "body"}, which heats the skin again`,
  heaviest_heat: (name) => `heat number ${name || "1"}, which used up the most`,
  shot_temperature: () => "the temperature at which it is held",
  body_too_fat: () => "the body, which shrinks on long after any sprue has closed",
  scale_step: () => "the step of your scale",
  shrinkage: (name) => `how well the shrinkage of the ${name || "material"} is known`,
  input: (name) => `how well ${name || "the inputs"} is known`,
};

/** The reason in words. */
export function reasonPhrase({ code, name = "" }: Reason): string {
  return LINES[code](name);
}

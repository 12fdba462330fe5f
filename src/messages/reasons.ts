/** What decides an answer, as the end of a sentence that begins "Decided by". */
import type { Reason, ReasonCode } from "../../lib/answers/answer.ts";

const LINES: Readonly<Record<ReasonCode, (name: string) => string>> = {
  station: (name) => `the ${name || "thickest part"}, which cools last`,
  set: () => "the first color, which must no longer flow when the mold is turned",
  skin: () => "the skin of the first color, which must hold when the mold is turned",
  bond: () => "the interface, which must be hot enough to bond",
  healing: () => "the time at heat that the interface needs to heal",
  exotherm: () => "the heat that the resin makes itself",
  overheating: () => "the mold, which would get too hot over the shots",
  sprue_closes: () => "the sprue, which closes first",
  gate_closes: () => "the gate, which closes first",
  core_reheats: (name) => `the core of the ${name || "body"}, which heats the skin again`,
  heaviest_heat: (name) => `heat number ${name || "1"}, which used up the most`,
  shot_temperature: () => "the temperature at which it is held",
  body_too_fat: () => "the body, which shrinks on long after any sprue has closed",
  scale_step: () => "the step of your scale",
  shrinkage: (name) => `how well the shrinkage of the ${name || "material"} is known`,
};

/** The reason in words. */
export function reasonPhrase({ code, name = "" }: Reason): string {
  return LINES[code](name);
}

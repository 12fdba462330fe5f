/** What a fixed timer that is too short for its baits does. */
import type { Shots } from "../../lib/questions/shots/shots.ts";
import type { TouchContent } from "../../lib/questions/touch/touch.ts";

const MOLTEN = "the core is still molten, and runs out hot";

/** Of one bait that is opened before its core has set; empty where it has. */
export function moltenLines({
  molten,
  openedBy,
}: Pick<TouchContent, "molten" | "openedBy">): string[] {
  if (!molten) return [];
  const by = openedBy === "timer" ? "The fixed timer opens" : "The demold limit opens it";
  return [`${by} too early: ${MOLTEN}.`];
}

/** From which shot on it is too early; empty where it is not. */
export function timerLines(tooEarly: Shots["tooEarly"]): string[] {
  if (tooEarly === null) return [];
  const { likely, from, to, molten } = tooEarly;
  if (!likely)
    return ["With bad luck the fixed timer opens too early: it is shorter than the sure time."];
  const then = molten ? `: ${MOLTEN}` : "";
  return [`The fixed timer opens too early ${whenWords(from, to)}${then}.`];
}

function whenWords(from: number | null, to: number | null): string {
  if (from === null) return "once the mold has settled";
  if (to === null) return from === 1 ? "at every shot" : `from shot ${from} on`;
  return from === to ? `at shot ${from}` : `at shots ${from} to ${to}`;
}

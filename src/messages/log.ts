/** What a log of an evening says that may be a slip. */
import type { PlannedShot } from "../../lib/models/shots/timeline.ts";

/** Shots that were opened before the earliest time that is right for them. */
export function openedSoonLines(shots: readonly PlannedShot[]): string[] {
  const soon = shots.filter(({ done, opened, mayOpen }) => done && opened < mayOpen);
  if (soon.length === 0) return [];
  const numbers = soon.map(({ number }) => number).join(", ");
  return [
    soon.length === 1
      ? `Shot ${numbers} was opened before its earliest time: is it soft, or the log wrong?`
      : `Shots ${numbers} were opened before their earliest times: are they soft, or is the log wrong?`,
  ];
}

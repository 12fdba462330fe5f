/** What a log says that may be a slip. */
import type { PlannedShot } from "../../lib/models/shots/timeline.ts";

/** Lines of a shop's log that hardly go with the others, by their numbers. */
export function oddLines(odd: readonly number[]): string[] {
  if (odd.length === 0) return [];
  const numbers = odd.join(", ");
  return [
    odd.length === 1
      ? `Line ${numbers} doesn't go with the others and was given little weight.`
      : `Lines ${numbers} don't go with the others and were given little weight.`,
  ];
}

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

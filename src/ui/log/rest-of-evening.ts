/** A sheet that plans the rest of an evening from what its log says. */
import type { LogEntry } from "./entries.ts";
import { happenedOf } from "./evening.ts";
import { filledSheet } from "./filled-sheet.ts";

const SHOTS = /(const happened = )\[\];/;

/** The shipped sheet of the evening with these shots in it; gives its address. */
export function sheetOfRest(
  evening: readonly LogEntry[],
  molds: number,
  pause: number,
): Promise<string> {
  const shots = happenedOf(evening, molds, pause).map(
    ({ mold, injected, opened }) =>
      `{ mold: ${mold}, injected: ${Math.round(injected)}, opened: ${Math.round(opened ?? 0)} }`,
  );
  return filledSheet("evening", "rest of the evening", (text) =>
    text
      .replace(SHOTS, (_, start: string) => `${start}[\n  ${shots.join(",\n  ")},\n];`)
      .replace(/^# .*$/m, "# What happens in the rest of this evening?"),
  );
}

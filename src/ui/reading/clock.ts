/** Spans of time as they are read from a wall: `42 s`, `5 min 20 s`; the running timer alone counts as a clock does. */
import { clockTime, formatDuration } from "../../../lib/units/format.ts";

/** A span that was measured or chosen, to the second. Computed ones are `timeText` of the library. */
export function clockWords(seconds: number): string {
  return formatDuration(seconds);
}

const SPOKEN = new Map([
  ["h", "hour"],
  ["min", "minute"],
  ["s", "second"],
]);

/** For a screen reader, which would read `5:20` as a time of day. */
export function spokenTime(seconds: number): string {
  return formatDuration(Math.round(seconds)).replace(
    /([\d.]+) (h|min|s)\b/g,
    (_, count: string, unit: string) => `${count} ${SPOKEN.get(unit)}${count === "1" ? "" : "s"}`,
  );
}

/** What a running timer shows; past the mark it counts up with a plus sign. */
export function countdownText(seconds: number): string {
  const whole = Math.ceil(Math.abs(seconds) - 1e-6);
  return `${seconds < 0 && whole > 0 ? "+" : ""}${clockTime(whole)}`;
}

/** Today as it stands on a drawing: `2026-03-01`, the same for every reader. */
export function today(now = new Date()): string {
  const two = (n: number) => String(n).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

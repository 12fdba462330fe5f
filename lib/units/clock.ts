/** Times of day as people write them. */

/** 14:05, 14:05:00.5, 2:05 PM, at the end of whatever stands before: a date. */
const CLOCK = /(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,](\d+))?)?\s*([ap])?\.?m?\.?$/i;
/** s. */
export const DAY = 86400;

/** Seconds since midnight of a clock time such as 14:05:00, 2:05 PM or 2026-11-28T14:05:00; undefined for anything else. */
export function clockSeconds(cell: string): number | undefined {
  const [, hours, minutes, seconds = "0", part = "0", half] =
    CLOCK.exec(cell.replace(/Z$|[+-]\d\d:?\d\d$/, "")) ?? [];
  if (hours === undefined || minutes === undefined) return undefined;
  const h = half ? (Number(hours) % 12) + (half.toLowerCase() === "p" ? 12 : 0) : Number(hours);
  return h * 3600 + Number(minutes) * 60 + Number(seconds) + Number(`0.${part}`);
}

/** 19:05 or 7:05:30: a time of day, or a time since something. */
export function isBareClock(cell: string): boolean {
  return /^\d{1,3}:[0-5]\d(?::[0-5]\d)?$/.test(cell);
}

/** 7:05 PM, 2026-11-28T19:05:00: nothing but a time of day. */
export function isTimeOfDay(cell: string): boolean {
  return clockSeconds(cell) !== undefined && !isBareClock(cell);
}

/** One time of the day and nothing else, to the minute: 18:30, 6:30 PM. */
const OF_THE_DAY =
  /^\s*(?:(?:[01]?\d|2[0-3]):[0-5]\d|(?:0?[1-9]|1[0-2]):[0-5]\d\s*[ap]\.?m\.?)\s*$/i;

/**
 * Seconds since midnight of what can be nothing but a time of the day; undefined for anything else.
 *
 * @example timeOfDaySeconds("6:30 PM") // 66600
 */
export function timeOfDaySeconds(typed: string): number | undefined {
  return OF_THE_DAY.test(typed) ? clockSeconds(typed.trim()) : undefined;
}

/** The best moment for the second color. Times s. */
import type { Range } from "../../confidence/range.ts";
import type { Job } from "../../job/types.ts";

/**
 * The middle between the earliest and the latest injection that are right in the bad cases as well. Where these leave
 * less than a hand can keep, as much of the bad luck is allowed for as leaves that; null where even the likely case is
 * too short.
 */
export function bestMoment(
  open: Range,
  close: Range,
  { layer: { handling }, uncertainty }: Pick<Job, "layer" | "uncertainty">,
): (Range & { sure: boolean }) | null {
  const likely = open.value + handling;
  // a color that does not set in the time looked at has none, however long it would bond
  if (!(close.value >= likely && Number.isFinite(likely))) return null;
  // a window that stays open: twice the wait is late enough, but for luck so bad that it closes
  const surely = Number.isFinite(close.low) ? close.low : 2 * likely;
  const latest = Number.isFinite(close.value) ? close.value : Math.max(2 * likely, surely);
  const lost = {
    early: Number.isFinite(open.high) ? open.high - open.value : latest,
    late: Math.max(0, latest - surely),
  };
  const width = latest - likely;
  const least = Math.min(width, 2 * uncertainty.time);
  const whole = lost.early + lost.late;
  const luck = whole > 0 ? Math.min(1, (width - least) / whole) : 1;
  const low = likely + luck * lost.early;
  const high = latest - luck * lost.late;
  return { value: (low + high) / 2, low, high, sure: width >= whole };
}

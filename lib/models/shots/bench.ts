/** The bench of an evening by its open times: what shots of a run take, for who plans or counts them. */
import type { Range } from "../../confidence/range.ts";
import type { Job } from "../../job/types.ts";
import type { ShotTimes } from "./run-times.ts";
import type { Bench, OpenAfter } from "./timeline.ts";

/**
 * A likely time to opening with its range, which narrows or widens as it does from the first to the settled shot; not before the
 * sprue has surely set.
 */
export function openAfterOf(
  { first, later, sprueMolten }: Pick<ShotTimes, "first" | "later" | "sprueMolten">,
  value: number,
): OpenAfter {
  const share = (range: Range, end: "low" | "high") =>
    Number.isFinite(range[end]) && range.value > 0
      ? range[end] / range.value
      : end === "low"
        ? 1
        : 2;
  const way = later.value - first.value;
  const s = Math.abs(way) > 1 ? Math.min(1, Math.max(0, (value - first.value) / way)) : 1;
  const end = (which: "low" | "high") =>
    value * (share(first, which) + s * (share(later, which) - share(first, which)));
  const molten = sprueMolten.first + s * (sprueMolten.settled - sprueMolten.first);
  const held = (time: number) => (Number.isFinite(molten) ? Math.max(time, molten) : time);
  return { value: held(value), low: held(end("low")), high: held(end("high")) };
}

/** Times by the number of a shot. */
export function benchOf(job: Job, run: ShotTimes): Bench {
  return {
    molds: job.run.molds,
    hands: job.run.hands,
    hold: Math.min(job.sprue.hold ?? Number.POSITIVE_INFINITY, run.feeds),
    open: job.run.bath + job.run.open,
    session: job.run.session,
    openAfter: (n) => openAfterOf(run, run.shot(n).opensAfter),
  };
}

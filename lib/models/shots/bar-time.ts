/** Time to opening of a mold that was used in some way before, in one dimension. Times s. */
import { type LeftState, leftIn } from "../../heat/left-state.ts";
import { makeRepeat } from "../../heat/repeat.ts";
import type { BaitModel } from "../bait/bar.ts";
import { DRAFTING } from "../cooling.ts";
import { type Scenario, scenarioSurroundings } from "../scenario.ts";
import { cycleProblem, type Pace } from "./cycle.ts";
import type { MoldUse, ShotBehind } from "./timeline.ts";

/** Shortest stage, s. */
const SHORTEST = 1e-3;

/** Seconds to opening in one dimension, by what a mold has behind it. */
type BarTime = (use: Pick<MoldUse, "before" | "injected">) => number;

/**
 * Each mold is marched through its injections and openings as they were.
 *
 * @param factor how much longer a shot takes than its bar
 */
export function barTimeOf(
  scenario: Scenario,
  bar: BaitModel,
  { pace, factor }: { readonly pace: Pace; readonly factor: number },
): BarTime {
  const { job } = scenario;
  const around = scenarioSurroundings(scenario);
  const problemOf = (at: Pace) => cycleProblem(bar, at, job.shot.temperature, around, DRAFTING);
  const untilLimit = problemOf({ ...pace, timer: null });
  const known = new Map<string, LeftState | undefined>();
  /** What a mold keeps as it is injected; undefined: it is as it started. */
  const leftAt = (before: readonly ShotBehind[], injected: number): LeftState | undefined => {
    const last = before.at(-1);
    if (!last) return undefined;
    const key = `${before.map((shot) => `${shot.injected} ${shot.opened}`).join()} ${injected}`;
    if (known.has(key)) return known.get(key);
    const from = leftAt(before.slice(0, -1), last.injected);
    // an opening that was not written down lay before the next injection
    const opened = Math.min(last.opened, injected - SHORTEST);
    const empty = injected - opened;
    const bath = Math.min(pace.bath, Math.max(0, empty - SHORTEST));
    const repeat = makeRepeat(
      problemOf({
        ...pace,
        // the bar has cooled as far in its own time
        timer: Math.max(SHORTEST, (opened - last.injected) / factor),
        bath,
        open: Math.max(SHORTEST, empty - bath),
        period: 0,
      }),
    );
    if (from) repeat.restart(from);
    repeat.next();
    const left = leftIn(repeat.integrators[0]);
    known.set(key, left);
    return left;
  };
  return ({ before, injected }) => {
    const repeat = makeRepeat({ ...untilLimit, stages: untilLimit.stages.slice(0, 1) });
    const left = leftAt(before, injected);
    if (left) repeat.restart(left);
    return repeat.next().stageEnds[0];
  };
}

/** What shots do to the job's own wall, in its section, and what that adds to the bar behind any other. SI and K. */

import type { HeatProblem } from "../../heat/problem.ts";
import type { Job, Station } from "../../job/types.ts";
import { COMPARING, type Solving } from "../../models/cooling.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import type { EffortSum } from "../../models/ranged.ts";
import { type Pace, steadyShot, successiveShots } from "../../models/shots/cycle.ts";
import { type RunShot, runOfShots } from "../../models/shots/march.ts";
import { runSetup } from "../../models/shots/run-times.ts";
import { wallLimitOf } from "../../models/wall-limit.ts";
import { linearAt } from "../../numerics/linear.ts";

/** What a run of shots does to a wall. */
export interface ShotsAtWall {
  readonly wall: number;
  readonly wallPeak: number;
  /** Of the first shot alone. */
  readonly firstPeak: number;
  readonly lastDemold: number;
  /** Hottest face as any of them is opened. */
  readonly wallOpened: number;
}

/** The job's own wall over the planned run, as `shots` has it. */
export interface OwnWall extends ShotsAtWall {
  /** Hottest face once the mold has settled, where it bears the planned run and not that; null: it bears both, or neither. */
  readonly settledPeak: number | null;
}

const FACES = ["wallPeak", "firstPeak", "wallOpened"] as const;

/** What a section makes of its bar: times by a factor, faces by kelvins. */
type Added = Readonly<Record<"wall" | "factor" | (typeof FACES)[number], number>>;
type Node = Added & { readonly lastDemolds: readonly number[] };

/** Walls behind which a section is looked at, too, where what it adds depends on the wall; m. */
const OTHERS = [0.006, 0.063];

/** This job with another wall around its cavities. */
export function withWall(job: Job, wall: number): Job {
  return { ...job, mold: { ...job.mold, wall, length: job.bait.length + 2 * wall } };
}

/** How shots behind any wall are carried over from a bar, and those behind the job's own. */
interface CarriedOver {
  readonly own: OwnWall;
  /** A run behind a wall, in this job or in one much like it. */
  over(bar: ShotsAtWall): ShotsAtWall;
}

/**
 * The job's own wall by the answer of `shots`, others by their bar and what the section of the own one adds to it. Neighbor
 * cavities and flat bodies take heat through the block beside them, more of it the thicker the wall: there sections behind a thin
 * and a thick wall are looked at on coarser cells, too, and what lies between them goes with the logarithm of the wall.
 */
export function carriedOver(
  job: Job,
  station: Station,
  bar: (wall: number) => ShotsAtWall,
  { options, effort }: { readonly options: QuestionOptions; readonly effort: EffortSum },
): CarriedOver {
  const setupOf = (given: Job, solving?: Solving) => {
    const setup = runSetup(given, options, { station, ...(solving && { solving }) });
    return { ...setup, problem: setup.cycle(setup.model, setup.pace) };
  };
  const shotsIn = (given: Job, { problem, pace, within }: ReturnType<typeof setupOf>) =>
    shotsOver(problem, pace, given, { effort, within });
  const setup = setupOf(job);
  const run = shotsIn(job, setup);
  const settles = () => steadyShot(setup.problem, setup.pace, { within: setup.within }).wallPeak;
  const own = { ...run, settledPeak: tooHotSettled(run, wallLimitOf(job), settles) };
  const nodes = [nodeOf(own, bar(own.wall))];
  const beside = job.mold.cavities > 1 || station.form === "flat";
  const behind = (wall: number) => {
    const given = withWall(job, wall);
    return shotsIn(given, setupOf(given, COMPARING));
  };
  if (options.quick !== true && (beside || !tells(nodes[0])))
    for (const wall of OTHERS.filter((one) => Math.abs(one / own.wall - 1) > 0.1))
      nodes.push(nodeOf(behind(wall), bar(wall)));
  const known = nodes.filter(tells);
  const used = (known.length > 0 ? known : nodes.slice(0, 1)).sort((a, b) => a.wall - b.wall);
  const walls = used.map(({ wall }) => Math.log(wall));
  const at = (key: keyof Added, wall: number) =>
    linearAt(
      walls,
      used.map((node) => node[key]),
      Math.log(wall),
    );
  return {
    own,
    over: (shots) => {
      const { wall } = shots;
      const faces = FACES.map((key) => [key, shots[key] + at(key, wall)]);
      return {
        ...shots,
        ...Object.fromEntries(faces),
        lastDemold: shots.lastDemold * at("factor", wall),
      };
    },
  };
}

/** A run of so few shots is marched to its end; of a longer one those after it are as good as settled. */
const FEW = 12;

/** What a run of shots does to the wall of its problem, whose job this is. */
export function shotsOver(
  problem: HeatProblem,
  pace: Pace,
  { run: { shots: wanted }, mold: { wall } }: Job,
  { effort, within }: { readonly effort: EffortSum; readonly within: number },
): ShotsAtWall & { readonly rises: number } {
  const lasts = ({ length }: { readonly length: number }) => length >= wanted;
  const rows: RunShot[] = [];
  if (wanted > FEW) {
    const { shot } = runOfShots(problem, pace, effort, { lasts, within, coarsens: false });
    for (let n = 1; n <= wanted && Number.isFinite(rows[n - 2]?.opensAfter ?? 0); n++)
      rows.push(shot(n));
  } else
    for (const shot of successiveShots(problem, pace)) {
      effort.add(shot.history);
      rows.push(shot);
      if (lasts(rows)) break;
    }
  const last = rows[rows.length - 1];
  return {
    wall,
    wallPeak: Math.max(...rows.map(({ wallPeak }) => wallPeak)),
    firstPeak: rows[0].wallPeak,
    lastDemold: last.opensAfter,
    wallOpened: Math.max(...rows.map(({ wallOpened }) => wallOpened)),
    rises:
      rows.length < 2 ? Number.POSITIVE_INFINITY : last.wallPeak - rows[rows.length - 2].wallPeak,
  };
}

/** A face that rises from shot to shot by less than this part of what is left to its limit does not get there. */
const SETTLES_WITHIN = 100;

/** The settled face where it is hotter than the limit and that of the run is not. */
function tooHotSettled(
  run: ReturnType<typeof shotsOver>,
  limit: number | null,
  settles: () => number,
): number | null {
  const { wallPeak, rises, lastDemold } = run;
  if (limit === null || wallPeak > limit || !Number.isFinite(lastDemold)) return null;
  if (wallPeak + SETTLES_WITHIN * Math.max(0, rises) < limit) return null;
  const settled = settles();
  return settled > limit ? settled : null;
}

/** Whether both its section and its bar cool in the end. */
const tells = ({ lastDemolds }: Node) => lastDemolds.every(Number.isFinite);

/** Where the bar never cools the section is taken as the bar; where the section alone does not, no wall serves. */
function nodeOf(section: ShotsAtWall, bar: ShotsAtWall): Node {
  const [wallPeak, firstPeak, wallOpened] = FACES.map((key) => section[key] - bar[key]);
  const lastDemolds = [section.lastDemold, bar.lastDemold];
  const factor = Number.isFinite(bar.lastDemold) ? section.lastDemold / bar.lastDemold : 1;
  return { wall: section.wall, lastDemolds, factor, wallPeak, firstPeak, wallOpened };
}

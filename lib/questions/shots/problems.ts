/** The bare heat problem of `shots`: the first shots in a row, as one run of stages. */
import type { Stage } from "../../heat/problem.ts";
import type { Job } from "../../job/types.ts";
import { sectionModel } from "../../models/bait/section.ts";
import { scenarioOf, scenarioSurroundings } from "../../models/scenario.ts";
import { cycleProblem, type Pace, paceOf } from "../../models/shots/cycle.ts";
import { slowestStation } from "../../models/shots/slowest-station.ts";
import type { BareProblem } from "../../solve/bare-problem.ts";
import { writeSolveProblem } from "../../solve/write.ts";
import type { ShotsAnswer } from "./shots.ts";

/** So many shots are written at most: by then the way is clear, and the file stays short. */
const MOST = 5;

/**
 * What the table of `shots` rests on, ready for `solve` or for a solver of one's own.
 *
 * @param given from `readJob`
 * @param answer of `shots` for the same job: it says how long the hands keep a mold waiting
 * @returns the section of the slowest station, refilled shot after shot
 * @throws InputError when the job makes no solvable problem
 * @example shotsProblems(readJob("bait: { thickness: 16 mm }").job, shots(readJob("bait: { thickness: 16 mm }").job, { quick: true })).length // 1
 */
export function shotsProblems(given: Job, { answer }: ShotsAnswer): BareProblem[] {
  const scenario = scenarioOf(given);
  const { job } = scenario;
  const station = slowestStation(scenario);
  const pace: Pace = { ...paceOf(job.run, job.limits.demold, 1), timer: null };
  const cycle = cycleProblem(
    sectionModel(scenario, station),
    pace,
    job.shot.temperature,
    scenarioSurroundings(scenario),
  );
  const shots = answer.shots.filter(({ demold }) => Number.isFinite(demold)).slice(0, MOST);
  const stages: Stage[] = [];
  const gives: Record<string, string> = {};
  // each stage ends by its own length: the latest end only has to come later
  const latest = cycle.stages[cycle.stages.length - 1].until + 4 * cycle.stages[0].until;
  for (const [k, { demold }] of shots.entries()) {
    gives[`shots[${k}].demold`] =
      stages.length === 0
        ? "stageEnds[0]"
        : `stageEnds[${stages.length}] - stageEnds[${stages.length - 1}]`;
    const [cooling, ...open] = cycle.stages.slice(0, -1);
    const free = Math.max(0, pace.period - demold - pace.open - pace.bath);
    const waiting = free > 0 ? [{ ...open[open.length - 1], lasts: free }] : [];
    for (const stage of [{ ...cooling, boundary: cycle.boundary }, ...open, ...waiting])
      stages.push({ ...stage, until: (k + 1) * latest });
  }
  return [{ name: "in a row", problem: writeSolveProblem({ ...cycle, stages, times: [] }), gives }];
}

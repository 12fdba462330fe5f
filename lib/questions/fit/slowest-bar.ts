/** The bait that a log is of: its slowest station, as the quick look takes it, for any case of the job. */

import type { Job } from "../../job/types.ts";
import { type BaitModel, barModel, standInOf } from "../../models/bait/bar.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import { scenarioOf } from "../../models/scenario.ts";
import { slowestStation } from "../../models/shots/slowest-station.ts";

export interface SlowestBar {
  /** Name of the station. */
  readonly station: string;
  /** Its model in a case of the same job, the coefficients of air and water times a factor. */
  modelOf(moved: Job, airFactor?: number): BaitModel;
}

export function slowestBar(job: Job, { around }: QuestionOptions): SlowestBar {
  const station = slowestStation(scenarioOf(job));
  const index = job.bait.stations.indexOf(station);
  return {
    station: station.name,
    modelOf: (moved, airFactor = 1) =>
      barModel(
        { job: moved, airFactor, ...(around && { around }) },
        standInOf(moved.bait.stations[index]),
      ),
  };
}

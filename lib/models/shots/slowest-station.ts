/** Which station along the bait decides a run of shots. */
import type { Station } from "../../job/types.ts";
import { barModel, standInOf } from "../bait/bar.ts";
import { cool, SEARCHING } from "../cooling.ts";
import type { Scenario } from "../scenario.ts";

/** The station whose first shot takes longest, in one dimension. */
export function slowestStation(scenario: Scenario): Station {
  const { job } = scenario;
  const time = (station: Station) =>
    cool(barModel(scenario, standInOf(station)), job.limits.demold, SEARCHING).time;
  const { stations } = job.bait;
  if (stations.length === 1) return stations[0];
  const times = stations.map(time);
  return stations[times.indexOf(Math.max(...times))];
}

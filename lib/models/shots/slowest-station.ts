/** Which station along the bait decides a run of shots. */
import type { Station } from "../../job/types.ts";
import { barModel, standInOf } from "../bait/bar.ts";
import { cool, SEARCHING } from "../cooling.ts";
import type { Scenario } from "../scenario.ts";
import { meanOfHalves, withMold } from "../start.ts";

/** In a mold that starts no further below the limit, K, a station waits for its mold, and each stand-in has another one. */
const WAITS_FOR_MOLD = 15;

/**
 * The station whose shot takes longest, in one dimension. All share one mold, which a run brings to its own temperature,
 * whatever it starts at: where it starts about as hot as the limit or hotter, they are compared in one that starts below it.
 */
export function slowestStation(scenario: Scenario): Station {
  const { stations } = scenario.job.bait;
  if (stations.length === 1) return stations[0];
  const compared = belowLimit(scenario);
  const times = stations.map(
    (station) =>
      cool(barModel(compared, standInOf(station)), compared.job.limits.demold, SEARCHING).time,
  );
  return stations[times.indexOf(Math.max(...times))];
}

function belowLimit(scenario: Scenario): Scenario {
  const { job } = scenario;
  const below = job.limits.demold - WAITS_FOR_MOLD;
  if (meanOfHalves(job) <= below && job.room.temperature <= below) return scenario;
  const cool = withMold(job, Math.min(meanOfHalves(job), below));
  const room = { ...job.room, temperature: Math.min(job.room.temperature, below) };
  return { ...scenario, job: { ...cool, room } };
}

/** The bare heat problem of `pour`: the likely resin in the cut across its box. */
import type { Job } from "../../job/types.ts";
import { horizonOf } from "../../models/pour/course.ts";
import { measuredPour } from "../../models/pour/measured.ts";
import { pourSection, settingOf } from "../../models/pour/problem.ts";
import { LIKELY_RESIN, resinMaker } from "../../models/pour/resin.ts";
import type { BareProblem } from "../../solve/bare-problem.ts";
import { writeSolveProblem } from "../../solve/write.ts";

/**
 * What the peak of `pour` rests on, ready for `solve` or for a solver of one's own.
 *
 * @param given from `readJob`
 * @returns the cut across the box; its cure is the catalog's law, brought to the hardener of the job
 * @throws InputError when the material does not cure
 * @example pourProblems(readJob("bait: { thickness: 16 mm }").job)[0].gives["peak.value"] // "extremes.hot.max"
 */
export function pourProblems(given: Job): BareProblem[] {
  const job = measuredPour(given);
  const resin = resinMaker(job)(LIKELY_RESIN);
  const setting = settingOf(job);
  const until = horizonOf(resin, setting.room, setting.stock);
  return [
    {
      name: "peak",
      problem: writeSolveProblem(pourSection(job, resin, setting, { until }), {
        resin: resin.spec,
      }),
      gives: { "peak.value": "extremes.hot.max", "peakTime.value": "extremes.hot.time" },
    },
  ];
}

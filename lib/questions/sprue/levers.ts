/** What would leave less of the bait unfed, each tried on bars and sheets. */
import type { Lever } from "../../answers/answer.ts";
import type { Job } from "../../job/types.ts";
import { coolerBy } from "../../models/cautions.ts";
import type { Scenario } from "../../models/scenario.ts";
import { widestSprue } from "../../models/sprue/body.ts";
import { type Feed, type FeedOptions, feedOf } from "./feed.ts";
import type { FillAnswer } from "./fill-answer.ts";

/** Sprues come by drill bits: the next one that is tried, m. */
const FATTER = 2e-3;
/** K. */
const COOLER = 10;

/** What leaves less than this share of it less unfed changes nothing that is seen. */
const TELLS = 0.01;

/**
 * @param feed of the job, quick as `fast`
 * @param unfed share of the answer, to which the quick ones are scaled
 * @param ends `suffices`: some sprue that fits feeds the body; `fills`: whether the thinnest part does
 */
export function sprueLevers(
  scenario: Scenario,
  feed: Feed,
  unfed: number,
  { suffices, fills }: { readonly suffices: boolean; readonly fills: FillAnswer["fills"] },
  fast: FeedOptions,
): Lever[] {
  const { job } = scenario;
  const levers: Lever[] = [];
  const scale = feed.fattest.unfed > 0 ? unfed / feed.fattest.unfed : 1;
  const tried = (change: Partial<Job>) =>
    scale * feedOf({ ...scenario, job: { ...job, ...change } }, fast).fattest.unfed;
  if (job.sprue.hold !== null && job.sprue.hold < feed.closes)
    levers.push({
      code: "longer_hold",
      change: { path: "sprue.hold", kind: "duration", to: feed.closes },
      gives: { kind: "ratio", value: tried({ sprue: { ...job.sprue, hold: null } }) },
    });
  if (unfed > job.sprue.tolerated) {
    const { sprue } = job;
    const diameter = sprue.diameter + FATTER;
    const atLeast = (side: number) => ({
      ...sprue.gate,
      width: Math.max(sprue.gate.width, side),
      height: Math.max(sprue.gate.height, side),
    });
    const left = (change: Partial<Job["sprue"]>) =>
      ({ kind: "ratio", value: tried({ sprue: { ...sprue, ...change } }) }) as const;
    // behind a gate that closes first a fatter sprue feeds nothing more: the gate is what to open, and both its sides
    if (feed.gateCloses < feed.sprueCloses * (1 - 1e-6))
      levers.push({
        code: "wider_gate",
        gives: left({ gate: atLeast(sprue.diameter) }),
      });
    else if (diameter <= widestSprue(job)) {
      const { widthOfSprue, heightOfSprue } = sprue.gate;
      // a gate that was typed stays behind: where it is no wider, it has to follow by hand
      levers.push(
        widthOfSprue && heightOfSprue
          ? {
              code: "fatter_sprue",
              change: { path: "sprue.diameter", kind: "length", to: diameter },
              gives: left({ diameter, gate: atLeast(diameter) }),
            }
          : { code: "fatter_sprue_and_gate", gives: left({ diameter, gate: atLeast(diameter) }) },
      );
    }
    const temperature = coolerBy(job.shot, COOLER);
    // cooler plastic sets sooner in the thinnest part, too
    if (temperature !== null && fills === "surely")
      levers.push({
        code: "cooler_shot",
        change: { path: "shot.temperature", kind: "temperature", to: temperature },
        gives: { kind: "ratio", value: tried({ shot: { ...job.shot, temperature } }) },
      });
    levers.push({ code: "top_off" });
    if (!suffices) levers.push({ code: "thinner_body" });
  }
  return levers.filter(({ gives }) => gives === undefined || gives.value < unfed * (1 - TELLS));
}

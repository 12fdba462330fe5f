/** What is not known of feeding, besides what every cooling time has. */
import type { Unsure } from "../../confidence/spread.ts";
import type { Job } from "../../job/job.ts";
import type { Spread } from "../../materials/entry.ts";
import type { Scenario } from "../../models/scenario.ts";
import { traitsOf } from "../../models/sprue/body.ts";

/** A set temperature that was typed in is a measured one, good to this, K. */
const TYPED_SET = 3;

type Trait = "setTemperature" | "expansion";

function withTrait({ job, ...rest }: Scenario, key: Trait, value: number): Scenario {
  const { material } = job.shot;
  const plastisol = traitsOf(job);
  return {
    ...rest,
    job: {
      ...job,
      shot: {
        ...job.shot,
        material: {
          ...material,
          plastisol: { ...plastisol, [key]: { ...plastisol[key], value } },
        },
      },
    },
  };
}

function trait(job: Job, key: Trait): Unsure<Scenario> {
  const spread: Spread = traitsOf(job)[key];
  const share = job.uncertainty.materials === "measured" ? 0.5 : 1;
  const to = (end: "low" | "high") => (s: Scenario) =>
    withTrait(s, key, spread.value + share * (spread[end] - spread.value));
  return { name: `shot.material.${key}`, low: to("low"), high: to("high") };
}

/** Inputs whose spread moves closing, shrinking and filling, besides those of every shot. */
export function unsureFeeding(job: Job): Unsure<Scenario>[] {
  const { set } = job.limits;
  const typed = (by: number) => (s: Scenario) => ({
    ...s,
    job: { ...s.job, limits: { ...s.job.limits, set: s.job.limits.set! + by } },
  });
  return [
    set === null
      ? trait(job, "setTemperature")
      : { name: "limits.set", low: typed(-TYPED_SET), high: typed(TYPED_SET) },
    trait(job, "expansion"),
  ];
}

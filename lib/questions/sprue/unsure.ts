/** What is not known of feeding, besides what every cooling time has. */
import type { Unsure } from "../../confidence/spread.ts";
import type { Job } from "../../job/job.ts";
import type { Spread } from "../../materials/entry.ts";
import { traitsOf } from "../../models/sprue/body.ts";
import type { Supposed } from "../../models/supposed.ts";

/** A set temperature that was typed in is a measured one, good to this, K. */
const TYPED_SET = 3;

type Trait = "setTemperature" | "expansion";

function withTrait({ job, ...rest }: Supposed, key: Trait, value: number): Supposed {
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

function trait(job: Job, key: Trait): Unsure<Supposed> {
  const spread: Spread = traitsOf(job)[key];
  const share = job.uncertainty.materials === "measured" ? 0.5 : 1;
  const to = (end: "low" | "high") => (s: Supposed) =>
    withTrait(s, key, spread.value + share * (spread[end] - spread.value));
  return { name: `shot.material.${key}`, low: to("low"), high: to("high") };
}

/** Inputs whose spread moves closing, shrinking and filling, besides those of every shot. */
export function unsureFeeding(job: Job): Unsure<Supposed>[] {
  const { set } = job.limits;
  const typed = (by: number) => (s: Supposed) => ({
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

/** What is not known of feeding, besides what every cooling time has. */

import type { Uncertain } from "../../confidence/uncertain.ts";
import { spreadLeft } from "../../job/inputs.ts";
import type { Job } from "../../job/job.ts";
import { plastisolOf } from "../../models/plastisol.ts";
import type { Scenario } from "../../models/scenario.ts";
import { givenInput } from "../../models/uncertain-inputs.ts";
import { drawn, drawnAsRatio } from "../../numerics/deviates.ts";

/** A set temperature that was typed in is a measured one, good to this, K. */
const TYPED_SET = 3;

type Trait = "setTemperature" | "expansion";

function withTrait({ job, ...rest }: Scenario, key: Trait, value: number): Scenario {
  const { material } = job.shot;
  const plastisol = plastisolOf(job);
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

function trait(job: Job, key: Trait): Uncertain<Scenario> {
  const spread = plastisolOf(job)[key];
  const left = spreadLeft(job);
  const draw = key === "expansion" ? drawnAsRatio : drawn;
  return {
    name: `shot.material.${key}`,
    at: (s, z) => withTrait(s, key, draw(spread, left * z)),
  };
}

/** Inputs whose spread moves closing, shrinking and filling, besides those of every shot. */
export function uncertainFeeding(job: Job): Uncertain<Scenario>[] {
  const { set } = job.limits;
  return [
    set === null
      ? trait(job, "setTemperature")
      : givenInput("limits.set", TYPED_SET, (j, by) => ({
          ...j,
          limits: { ...j.limits, set: set + by },
        })),
    trait(job, "expansion"),
  ];
}

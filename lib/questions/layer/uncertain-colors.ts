/** Uncertain inputs of a two-color shot, besides those of every shot. */

import type { Uncertain } from "../../confidence/uncertain.ts";
import { spreadLeft } from "../../job/inputs.ts";
import type { Job } from "../../job/types.ts";
import type { PlastisolTraits } from "../../materials/entry.ts";
import type { Scenario } from "../../models/scenario.ts";
import { givenInput } from "../../models/uncertain-inputs.ts";
import { drawn, drawnAsRatio } from "../../numerics/deviates.ts";

/** Depth of a poured color is known to this share at best. */
const DEPTH_SHARE = 0.15;

/** Temperatures and depth of the colors; temperatures at which the plastic sets, bonds and heals. */
export function uncertainColors(job: Job): Uncertain<Scenario>[] {
  const { uncertainty: u, layer, limits } = job;
  const byLayer = (
    name: string,
    width: number,
    move: (layer: Job["layer"], by: number) => Job["layer"],
  ) => givenInput(name, width, (j, by) => ({ ...j, layer: move(j.layer, by) }));
  const depth = Math.min(u.thickness, DEPTH_SHARE * layer.depth);
  return [
    byLayer("layer.depth", depth, (l, by) => ({
      ...l,
      depth: Math.max(l.depth + by, l.depth / 4),
    })),
    byLayer("layer.temperature", u.shotTemperature, (l, by) => ({
      ...l,
      temperature: l.temperature + by,
    })),
    byLayer("layer.second.temperature", u.shotTemperature, (l, by) => ({
      ...l,
      second: { ...l.second, temperature: l.second.temperature + by },
    })),
    // a limit that the job states is taken as it is
    ...(limits.set === null ? trait(job, "setTemperature") : []),
    ...(limits.bond === null ? trait(job, "bondTemperature") : []),
    ...trait(job, "healingTime"),
    ...trait(job, "healingEnergy"),
  ];
}

function trait(
  job: Job,
  key: keyof Pick<
    PlastisolTraits,
    "setTemperature" | "bondTemperature" | "healingTime" | "healingEnergy"
  >,
): Uncertain<Scenario>[] {
  const spread = job.shot.material.plastisol?.[key];
  if (!spread) return [];
  const left = spreadLeft(job);
  // a time is known to a factor, a temperature to so many degrees
  const draw = key === "healingTime" ? drawnAsRatio : drawn;
  const at = (s: Scenario, z: number): Scenario => {
    const { material } = s.job.shot;
    if (!material.plastisol) return s;
    const plastisol = {
      ...material.plastisol,
      [key]: { ...spread, value: draw(spread, left * z) },
    };
    return {
      ...s,
      job: { ...s.job, shot: { ...s.job.shot, material: { ...material, plastisol } } },
    };
  };
  return [{ name: `shot.material.${key}`, at }];
}

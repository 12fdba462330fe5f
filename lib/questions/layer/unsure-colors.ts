/** Uncertain inputs of a two-color shot, besides those of every shot. */
import type { Unsure } from "../../confidence/spread.ts";
import type { Job } from "../../job/types.ts";
import type { PlastisolTraits, Spread } from "../../materials/entry.ts";
import type { Scenario } from "../../models/scenario.ts";

/** Depth of a poured color is known to this share at best. */
const DEPTH_SHARE = 0.15;

/** Temperatures and depth of the colors; temperatures at which the plastic sets, bonds and heals. */
export function unsureColors(job: Job): Unsure<Scenario>[] {
  const { uncertainty: u, layer, limits } = job;
  const share = u.materials === "measured" ? 0.5 : 1;
  const byLayer = (
    name: string,
    width: number,
    move: (layer: Job["layer"], by: number) => Job["layer"],
  ): Unsure<Scenario> => {
    const to = (by: number) => (s: Scenario) => ({
      ...s,
      job: { ...s.job, layer: move(s.job.layer, by) },
    });
    return { name, low: to(-width), high: to(width) };
  };
  const trait = (key: "setTemperature" | "bondTemperature" | "healingTime"): Unsure<Scenario>[] => {
    const traits = job.shot.material.plastisol;
    if (!traits) return [];
    const to = (end: "low" | "high") => (s: Scenario) => ({
      ...s,
      job: withTrait(s.job, key, traits[key], end, share),
    });
    return [{ name: `shot.material.${key}`, low: to("low"), high: to("high") }];
  };
  const depth = Math.min(u.thickness, DEPTH_SHARE * layer.depth);
  return [
    byLayer("layer.depth", depth, (l, by) => ({ ...l, depth: l.depth + by })),
    byLayer("layer.temperature", u.shotTemperature, (l, by) => ({
      ...l,
      temperature: l.temperature + by,
    })),
    byLayer("layer.second.temperature", u.shotTemperature, (l, by) => ({
      ...l,
      second: { ...l.second, temperature: l.second.temperature + by },
    })),
    // a limit that the job states is taken as it is
    ...(limits.set === null ? trait("setTemperature") : []),
    ...(limits.bond === null ? trait("bondTemperature") : []),
    ...trait("healingTime"),
  ];
}

function withTrait(
  job: Job,
  key: keyof Pick<PlastisolTraits, "setTemperature" | "bondTemperature" | "healingTime">,
  spread: Spread,
  end: "low" | "high",
  share: number,
): Job {
  const { material } = job.shot;
  if (!material.plastisol) return job;
  const value = spread.value + share * (spread[end] - spread.value);
  const plastisol = { ...material.plastisol, [key]: { ...spread, value } };
  return { ...job, shot: { ...job.shot, material: { ...material, plastisol } } };
}

/** A pour that was weighed: its mass, its depth and its box must tell one story. SI. */
import type { Job } from "../../job/types.ts";
import { formatQuantity } from "../../units/format.ts";
import { InputError } from "../../units/problem.ts";
import { mixOf } from "./mix.ts";
import { pouredVolume } from "./problem.ts";

/** Densities of resins as sold differ by this from the catalog's, share (from memory). */
const DENSITY_WITHIN = 0.15;
/** As the keys of the job file allow, m. */
const DEEPEST = 0.3;
const WIDEST = 1.5;
/** Resin that must stand over the masters, m. */
export const OVER_MASTERS = 1e-3;

/**
 * The job with the depth, or else the box, that its mass of resin comes to; as it is when nothing was weighed.
 *
 * @param job from `readJob`
 * @returns a job whose box and depth hold the mass: where both were given, within what densities differ
 * @throws InputError `mass_differs` when all were given and do not: with the mass that they hold; `mass_out_of_box` when
 * the box can't be filled with it to a depth that covers the masters: with the least and the most that can
 */
export function measuredPour(job: Job): Job {
  const { pour } = job;
  const { mass, fromMass, box, depth, masters } = pour;
  if (mass === null) return job;
  const { density } = mixOf(job, pour.granules);
  const held = pouredVolume(job);
  const volume = mass / density;
  const area = box.length * box.width;
  const deep = depth + (volume - held) / area;
  const wider = Math.sqrt(1 + (volume - held) / (area * depth));
  const possible = {
    depth: deep > masters.height + OVER_MASTERS && deep <= DEEPEST,
    box: wider * Math.max(box.length, box.width) <= WIDEST && volume > 0,
    none: Math.abs(volume / held - 1) <= DENSITY_WITHIN,
  };
  if (fromMass === "depth" && !possible.depth) {
    const massAt = (to: number) => (held + (to - depth) * area) * density;
    // rounded inwards: what is named as possible is
    const grams = (kg: number, way: 1 | -1) => (way * Math.ceil(way * kg * 200)) / 200;
    throw new InputError([
      {
        code: "mass_out_of_box",
        path: "pour.mass",
        given: formatQuantity(mass, "mass"),
        least: formatQuantity(grams(massAt(masters.height + OVER_MASTERS), 1), "mass"),
        most: formatQuantity(grams(massAt(DEEPEST), -1), "mass"),
        possible: [formatQuantity(masters.height, "length")],
      },
    ]);
  }
  if (!possible[fromMass ?? "none"])
    throw new InputError([
      {
        code: "mass_differs",
        path: "pour.mass",
        given: formatQuantity(mass, "mass"),
        possible: [formatQuantity(held * density, "mass")],
      },
    ]);
  if (fromMass === "depth") return { ...job, pour: { ...pour, depth: deep } };
  if (fromMass === null) return job;
  const grown = { ...box, length: box.length * wider, width: box.width * wider };
  return { ...job, pour: { ...pour, box: grown } };
}

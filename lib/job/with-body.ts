/** This job with another body. Lengths m. */
import { mastersOfBait } from "./masters.ts";
import type { Bait, Form, Job, Station } from "./types.ts";

/** A flat body whose width is not told is taken so many times as wide as thick, and no wider than a station may be, m. */
const USUAL_FLAT = 4;
const WIDEST = 0.12;

/** A body that is the same all along its length: what a job has that gives a thickness and no stations. */
export function evenBody(
  { thickness, form, width }: { thickness: number; form: Form; width?: number | undefined },
  length: number,
): Station {
  const usual = form === "flat" ? Math.min(USUAL_FLAT * thickness, WIDEST) : thickness;
  return { name: "body", at: length / 2, width: width ?? usual, height: thickness, form };
}

/**
 * The same job with a body that is the same all along its length, as a job that gives a thickness only has it. A first
 * color that would be deeper than half the body is half of it, and masters that nobody measured follow the body.
 *
 * @param body thickness and width m; `width` left out: as wide as thick, or four times as wide where flat
 * @returns a job that every question takes
 * @example withBody(readJob("bait: { thickness: 16 mm }").job, { thickness: 0.004, form: "round" }).layer.depth // 0.002
 */
export function withBody(
  job: Job,
  body: { readonly thickness: number; readonly form: Form; readonly width?: number },
): Job {
  const { thickness, form } = body;
  const stations = [evenBody(body, job.bait.length)];
  return withBait(job, {
    ...job.bait,
    thickness,
    form,
    stations,
    even: { width: body.width ?? null },
  });
}

/**
 * The same job of another thickness. Stations that were measured or drawn are all scaled alike across, so that a thicker
 * bait is thicker everywhere and never opens earlier; a body made from its thickness is made from the new one.
 *
 * @param thickness m
 * @example
 * const shad = readJob("bait: { stations: [{ width: 16 mm, height: 20 mm }] }").job;
 * withThickness(shad, 0.008).bait.stations[0].height // 0.01
 */
export function withThickness(job: Job, thickness: number): Job {
  const { bait } = job;
  // as good as what it is: typed in another unit, say
  if (Math.abs(thickness / bait.thickness - 1) < 1e-9) return job;
  if (bait.even !== null) {
    const { width } = bait.even;
    return withBody(job, { thickness, form: bait.form, ...(width !== null && { width }) });
  }
  const by = thickness / bait.thickness;
  const stations = bait.stations.map((one) => ({
    ...one,
    width: one.width * by,
    height: one.height * by,
    ...(one.rise !== undefined && { rise: one.rise * by }),
  }));
  return withBait(job, { ...bait, thickness, stations });
}

/** With what gives way to the body. */
function withBait(job: Job, bait: Bait): Job {
  const { layer, pour } = job;
  const { masters } = pour;
  const depth = Math.min(layer.depth, bait.thickness / 2);
  return {
    ...job,
    bait,
    layer: depth === layer.depth ? layer : { ...layer, depth },
    pour: masters.ofBait
      ? { ...pour, masters: { ...masters, ...mastersOfBait(bait, pour.depth) } }
      : pour,
  };
}

/** Frank-Kamenetskii number of a pour beside its critical value: an independent look at the cliff. */
import { criticalRunaway, pourRunawayNumber } from "../../cure/runaway.ts";
import { makeTabulatedRateLaw } from "../../cure/tabulated.ts";
import { radiationCoefficient } from "../../formulas/air.ts";
import type { Job } from "../../job/types.ts";
import type { PourCorners } from "../../models/pour/corners.ts";
import { pourFaces } from "../../models/pour/problem.ts";

export function runawayOf(job: Job, { likely }: PourCorners) {
  const { resin, setting } = likely;
  const { cap: _, ...plain } = resin.spec;
  const half = setting.depth / 2;
  const { delta } = pourRunawayNumber(makeTabulatedRateLaw(plain), {
    heat: resin.heat * resin.density,
    half,
    conductivity: resin.conductivity,
    T: setting.room,
  });
  const faces = pourFaces(job, setting);
  const film = (face: (typeof faces)["top"]) =>
    face.kind === "exchange" && typeof face.h === "number"
      ? face.h + radiationCoefficient(face.emissivity ?? 0, setting.room, setting.room)
      : 0;
  const { clay, bench } = job.pour;
  const below =
    1 /
    (clay.thickness / clay.material.conductivity.value +
      bench.thickness / bench.material.conductivity.value +
      1 / film(faces.under));
  const biot = (((film(faces.top) + below) / 2) * half) / resin.conductivity;
  return { runawayNumber: delta, criticalNumber: criticalRunaway("slab", biot).delta };
}

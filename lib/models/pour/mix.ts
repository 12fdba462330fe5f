/**
 * What is in the mix of a pour: resin, the filler it was sold with, and dry granules stirred in.
 *
 * SI: k W/(m K), rho kg/m3, cp J/(kg K); shares 0 to 1.
 */

import type { Job } from "../../job/types.ts";
import { materialNamed } from "../../materials/catalog.ts";
import type { FillerTraits, MaterialEntry, Spread } from "../../materials/entry.ts";
import { filledConductivity, hanaiBruggeman } from "../../materials/filler.ts";
import {
  massShare,
  mixtureDensity,
  mixtureSpecificHeat,
  volumeShare,
} from "../../materials/mixture.ts";
import { formatQuantity } from "../../units/format.ts";
import { InputError } from "../../units/problem.ts";

export interface Mix {
  /** Of the whole mix, W/(m K), as a band. */
  readonly conductivity: Spread;
  readonly density: number;
  readonly specificHeat: number;
  /** Resin and hardener, share of the whole mass: what makes heat. */
  readonly resinMassShare: number;
  /** Powder in the resin as mixed, before granules; 0 without. */
  readonly fillerVolumeShare: number;
  readonly fillerMassShare: number;
  readonly granules: number;
  /** Null: nothing in it that could settle. */
  readonly filler: FillerTraits | null;
}

/** Densest packing of one powder, and of granules with powder between them. */
export const PACKING = 0.637;
const PACKING_OF_TWO = 0.8;

/**
 * The mix of the job's pour.
 *
 * @param granules share of the volume
 * @throws InputError `filler_above_packing` when more is stirred in than goes in
 */
export function mixOf(job: Job, granules: number): Mix {
  const { material, fillerMassShare } = job.pour;
  const base = fillerMassShare === null ? asSold(material) : withShare(material, fillerMassShare);
  return granules > 0 ? withGranules(base, granules) : base;
}

function asSold(entry: MaterialEntry): Mix {
  const { filler = null } = entry;
  const fillerMassShare = filler?.massShare.value ?? 0;
  return {
    conductivity: entry.conductivity,
    density: entry.density.value,
    specificHeat: entry.specificHeat.value,
    resinMassShare: 1 - fillerMassShare,
    fillerMassShare,
    fillerVolumeShare: filler?.volumeShare.value ?? 0,
    granules: 0,
    filler,
  };
}

/** Rounded down: what is named as possible is. */
const leftIn = (share: number): string =>
  formatQuantity(share, "ratio", { step: 0.01, towards: "down" });

/** The same resin with another share of its filler; a resin sold without is taken with aluminum powder. */
function withShare(entry: MaterialEntry, w: number): Mix {
  const powder = entry.filler ?? materialNamed("filled epoxy").filler!;
  const matrix = entry.filler?.matrix ?? {
    conductivity: entry.conductivity,
    density: entry.density,
    specificHeat: entry.specificHeat,
  };
  const phi = volumeShare(w, matrix.density.value, powder.density.value);
  if (phi > 0.85 * PACKING)
    throw new InputError([
      {
        code: "filler_above_packing",
        path: "pour.filler",
        given: formatQuantity(w, "ratio"),
        most: leftIn(massShare(0.85 * PACKING, matrix.density.value, powder.density.value)),
      },
    ]);
  const band = filledConductivity({
    matrix: matrix.conductivity.value,
    filler: powder.conductivity.value,
    share: phi,
  });
  return {
    conductivity: { ...band, source: "filler-models" },
    density: mixtureDensity(phi, matrix.density.value, powder.density.value),
    specificHeat: mixtureSpecificHeat(w, matrix.specificHeat.value, powder.specificHeat.value),
    resinMassShare: 1 - w,
    fillerMassShare: w,
    fillerVolumeShare: phi,
    granules: 0,
    filler: w > 0 ? { ...powder, matrix } : null,
  };
}

function withGranules(base: Mix, granules: number): Mix {
  const solid = granules + (1 - granules) * base.fillerVolumeShare;
  if (!(solid <= PACKING_OF_TWO))
    throw new InputError([
      {
        code: "filler_above_packing",
        path: "pour.granules",
        given: formatQuantity(granules, "ratio"),
        most: leftIn((PACKING_OF_TWO - base.fillerVolumeShare) / (1 - base.fillerVolumeShare)),
      },
    ]);
  const metal = materialNamed("aluminum");
  const w = massShare(granules, base.density, metal.density.value);
  const within = (matrix: number) =>
    hanaiBruggeman({ matrix, filler: metal.conductivity.value, share: granules });
  const { value, low, high } = base.conductivity;
  return {
    ...base,
    conductivity: {
      value: within(value),
      low: within(low),
      high: within(high),
      source: "filler-models",
    },
    density: mixtureDensity(granules, base.density, metal.density.value),
    specificHeat: mixtureSpecificHeat(w, base.specificHeat, metal.specificHeat.value),
    resinMassShare: base.resinMassShare * (1 - w),
    granules,
  };
}

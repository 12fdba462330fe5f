/** What is not known for sure of a shot: inputs whose spread moves every cooling time, by their paths in the job. */

import { drawn, drawnAsRatio, NINE_OF_TEN, type Uncertain } from "../confidence/uncertain.ts";
import type { Job } from "../job/types.ts";
import type { MaterialEntry, Spread } from "../materials/entry.ts";
import { hanaiBruggeman } from "../materials/filler.ts";
import type { Scenario } from "./scenario.ts";

/** Contact of plastic and mold: eight of ten lie within this factor; from memory. */
export const CONTACT_FACTOR = 2.5;
/** Correlations of air hold to this share. */
const AIR_SHARE = 0.2;

type JobInput = Uncertain<Scenario>;
type OnMaterial = (job: Job, moved: (entry: MaterialEntry) => MaterialEntry) => Job;

/** How much of a material's spread is left: who measured has half of the catalog's. */
export function spreadLeft({ uncertainty }: Job): number {
  return uncertainty.materials === "measured" ? 0.5 : 1;
}

/** An input that is given with a half-width. */
export function givenInput(
  name: string,
  width: number,
  move: (job: Job, by: number) => Job,
): JobInput {
  return {
    name,
    at: (s, z) => ({ ...s, job: move(s.job, (width / NINE_OF_TEN) * z) }),
  };
}

const ofShot: OnMaterial = (job, moved) => ({
  ...job,
  shot: { ...job.shot, material: moved(job.shot.material) },
  layer: {
    ...job.layer,
    second: { ...job.layer.second, material: moved(job.layer.second.material) },
  },
});

const ofMold: OnMaterial = (job, moved) => ({
  ...job,
  mold: { ...job.mold, material: moved(job.mold.material) },
});

type Property = "conductivity" | "density" | "specificHeat";

/** The property as many deviates up its own spread; it stays that far from where it is already. */
function along(entry: MaterialEntry, key: Property, base: Spread, z: number): MaterialEntry {
  const spread = entry[key];
  return {
    ...entry,
    [key]: { ...spread, value: spread.value * (drawnAsRatio(base, z) / base.value) },
  };
}

function propertyInput(
  path: string,
  key: Property,
  base: MaterialEntry,
  scale: number,
  on: OnMaterial,
): JobInput {
  return {
    name: `${path}.${key}`,
    at: (s, z) => ({ ...s, job: on(s.job, (entry) => along(entry, key, base[key], scale * z)) }),
  };
}

/**
 * Share of a filled material's spread in conductivity that comes from how much filler is in it; the rest is the shape of
 * its grains and how they touch.
 */
function byFiller({ conductivity, filler }: MaterialEntry): number {
  if (!filler || conductivity.source === "job file") return 0;
  const at = (share: number) =>
    hanaiBruggeman({
      matrix: filler.matrix.conductivity.value,
      filler: filler.conductivity.value,
      share,
    });
  const { low, high } = filler.volumeShare;
  const width = Math.log(conductivity.high / conductivity.low);
  return width > 0 ? Math.min(1, Math.log(at(high) / at(low)) / width) : 0;
}

/** More filler conducts better, is denser and holds less heat by mass: the three are drawn together. */
function moldInputs({ mold }: Job, left: number): JobInput[] {
  const base = mold.material;
  const share = byFiller(base);
  const own = propertyInput(
    "mold.material",
    "conductivity",
    base,
    left * Math.sqrt(1 - share * share),
    ofMold,
  );
  if (share === 0) return [own];
  const filled = (entry: MaterialEntry, z: number) =>
    along(
      along(along(entry, "conductivity", base.conductivity, share * z), "density", base.density, z),
      "specificHeat",
      base.specificHeat,
      -z,
    );
  const filler: JobInput = {
    name: "mold.material.filler",
    at: (s, z) => ({ ...s, job: ofMold(s.job, (entry) => filled(entry, left * z)) }),
  };
  return share > 0.999 ? [filler] : [own, filler];
}

/** Inputs of a shot whose spread moves every cooling time, by their paths in the job. */
export function uncertainInputs(job: Job): JobInput[] {
  const { uncertainty: u } = job;
  const left = spreadLeft(job);
  const contact = {
    value: 1,
    low: 1 / CONTACT_FACTOR,
    high: CONTACT_FACTOR,
  };
  const air = { value: 1, low: 1 - AIR_SHARE, high: 1 + AIR_SHARE };
  return [
    givenInput("bait.thickness", u.thickness, thicker),
    givenInput("shot.temperature", u.shotTemperature, (j, by) => ({
      ...j,
      shot: { ...j.shot, temperature: j.shot.temperature + by },
    })),
    givenInput("mold.temperature", u.moldTemperature, (j, by) => ({
      ...j,
      mold: {
        ...j.mold,
        temperature: j.mold.temperature + by,
        upperTemperature: j.mold.upperTemperature + by,
      },
    })),
    givenInput("room.temperature", u.roomTemperature, (j, by) => ({
      ...j,
      room: { ...j.room, temperature: j.room.temperature + by },
    })),
    propertyInput("shot.material", "conductivity", job.shot.material, left, ofShot),
    propertyInput("shot.material", "specificHeat", job.shot.material, left, ofShot),
    ...moldInputs(job, left),
    {
      name: "mold.contact",
      at: (s, z) => ({
        ...s,
        job: {
          ...s.job,
          mold: { ...s.job.mold, contact: s.job.mold.contact * drawnAsRatio(contact, z) },
        },
      }),
    },
    { name: "air", at: (s, z) => ({ ...s, airFactor: s.airFactor * drawn(air, z) }) },
  ];
}

/** The job with every station thicker by this much at its thin side, m, and wider in proportion. */
function thicker(job: Job, by: number): Job {
  const { bait } = job;
  const stations = bait.stations.map((s) => {
    const thin = Math.min(s.width, s.height);
    const grown = Math.max(thin + by, thin / 4) / thin;
    return { ...s, width: s.width * grown, height: s.height * grown };
  });
  const grown = Math.max(bait.thickness + by, bait.thickness / 4) / bait.thickness;
  return { ...job, bait: { ...bait, thickness: bait.thickness * grown, stations } };
}

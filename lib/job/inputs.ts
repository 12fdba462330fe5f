/** Inputs of a job whose spread moves every cooling time, by their paths: each moves the job along its own spread. */

import type { MaterialEntry, Spread } from "../materials/entry.ts";
import { hanaiBruggeman } from "../materials/filler.ts";
import { drawnAsRatio, type Ends, NINE_OF_TEN } from "../numerics/deviates.ts";
import type { JobInputName } from "./input-names.ts";
import type { Job } from "./types.ts";

export interface JobInput {
  readonly name: JobInputName;
  /** The job with this input so many deviates farther up its spread than it stands: moves add up, in any order. */
  at(job: Job, z: number): Job;
}

/** An input that goes from one deviate of its spread to another; where it stands is kept in the job. */
function input(name: JobInputName, move: (job: Job, from: number, to: number) => Job): JobInput {
  return {
    name,
    at: (job, z) => {
      const from = job.deviates[name] ?? 0;
      return { ...move(job, from, from + z), deviates: { ...job.deviates, [name]: from + z } };
    },
  };
}

/** Contact of plastic and mold: eight of ten lie within this factor; from memory. */
const CONTACT_FACTOR = 2.5;
/** What moves one of a job's materials. */
type OnMaterial = (job: Job, moved: (entry: MaterialEntry) => MaterialEntry) => Job;

/** How much of a material's spread is left: who measured has half of the catalog's. */
export function spreadLeft({ uncertainty }: Job): number {
  return uncertainty.materials === "measured" ? 0.5 : 1;
}

function givenInput(
  name: JobInputName,
  width: number,
  move: (job: Job, by: number) => Job,
): JobInput {
  return input(name, (job, from, to) => move(job, (width / NINE_OF_TEN) * (to - from)));
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

/** From one deviate to another: a spread is not as wide to both sides, so the way between two depends on both. */
interface Way {
  readonly from: number;
  readonly to: number;
}

/** Deviates of something that moves with another, in proportion. */
function scaledWay({ from, to }: Way, by: number): Way {
  return { from: by * from, to: by * to };
}

function ratioOn(base: Ends, { from, to }: Way): number {
  return drawnAsRatio(base, to) / drawnAsRatio(base, from);
}

/** The property farther along its own spread; what else has moved it stays. */
function along(entry: MaterialEntry, key: Property, base: Spread, way: Way): MaterialEntry {
  const own = entry[key];
  const { value, low, high } = own;
  const by = ratioOn(base, way);
  const moved = { ...own, value: value * by, low: low * by, high: high * by };
  return { ...entry, [key]: moved };
}

function propertyInput(
  name: JobInputName,
  key: Property,
  base: MaterialEntry,
  scale: number,
  on: OnMaterial,
): JobInput {
  return input(name, (job, from, to) =>
    on(job, (entry) => along(entry, key, base[key], scaledWay({ from, to }, scale))),
  );
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
    "mold.material.conductivity",
    "conductivity",
    base,
    left * Math.sqrt(1 - share * share),
    ofMold,
  );
  if (share === 0) return [own];
  const filled = (entry: MaterialEntry, way: Way) => {
    const conducting = along(entry, "conductivity", base.conductivity, scaledWay(way, share));
    const dense = along(conducting, "density", base.density, way);
    return along(dense, "specificHeat", base.specificHeat, scaledWay(way, -1));
  };
  const filler = input("mold.material.filler", (job, from, to) =>
    ofMold(job, (entry) => filled(entry, scaledWay({ from, to }, left))),
  );
  return share > 0.999 ? [filler] : [own, filler];
}

/** Inputs of a shot whose spread moves every cooling time, by their paths in the job. */
export function jobInputs(job: Job): JobInput[] {
  const { uncertainty: u } = job;
  const left = spreadLeft(job);
  const contact = {
    value: 1,
    low: 1 / CONTACT_FACTOR,
    high: CONTACT_FACTOR,
  };
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
      // a preheated mold starts as warm as that: it is off by as much
      run: { ...j.run, preheat: j.run.preheat && j.run.preheat + by },
    })),
    givenInput("room.temperature", u.roomTemperature, (j, by) => ({
      ...j,
      room: { ...j.room, temperature: j.room.temperature + by },
    })),
    propertyInput("shot.material.conductivity", "conductivity", job.shot.material, left, ofShot),
    propertyInput("shot.material.specificHeat", "specificHeat", job.shot.material, left, ofShot),
    ...moldInputs(job, left),
    input("mold.contact", (j, from, to) => ({
      ...j,
      mold: { ...j.mold, contact: j.mold.contact * ratioOn(contact, { from, to }) },
    })),
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

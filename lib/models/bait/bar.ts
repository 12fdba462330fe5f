/**
 * A station of the bait in its mold in one dimension: a round bar in a round mold, or half a sheet on half a mold.
 * The quick look; what it leaves out is named in `ignored`.
 */

import type { HeatProblem, Layer, Probe } from "../../heat/problem.ts";
import type { Form, Station } from "../../job/types.ts";
import type { Material } from "../../materials/material.ts";
import { toMaterial } from "../../materials/to-material.ts";
import { equalBar } from "../../shape/slowest-mode.ts";
import { stationArea, stationThickness } from "../../shape/station-outline.ts";
import { plastisolOf } from "../plastisol.ts";
import { type Scenario, scenarioSurroundings } from "../scenario.ts";
import { meanOfHalves } from "../start.ts";

/** A heat problem that only lacks its stages. */
export interface BaitModel {
  readonly problem: Omit<HeatProblem, "stages">;
  /** Regions of plastic; the first is the one whose temperatures the probes read. */
  readonly bodies: readonly string[];
}

/** The round bar or sheet that stands for a station. */
export interface StandIn {
  readonly form: Form;
  /** Diameter of the bar or thickness of the sheet, m. */
  readonly across: number;
}

/**
 * The bar whose slowest mode is that of the station's ellipse, or the sheet as thick as its thin side. A drawn section is
 * taken as the ellipse of its area around its largest circle.
 */
export function standInOf(station: Station): StandIn {
  const { form, width, height, outline } = station;
  const thin = stationThickness(station);
  if (form === "flat") return { form, across: thin };
  return outline
    ? { form, across: equalBar((4 / Math.PI) * (stationArea(station) / thin), thin) }
    : { form, across: equalBar(width, height) };
}

/** What the probes of every bait model read. */
const BODY_PROBES: Readonly<Record<"hottest" | "mean" | "skin" | "wall", Probe>> = {
  hottest: { kind: "hottest", region: "bait" },
  mean: { kind: "mean", region: "bait" },
  skin: { kind: "face", region: "bait", neighbor: "mold", of: "hottest" },
  wall: { kind: "face", region: "mold", neighbor: "bait", of: "hottest" },
};

/** Materials of the job by the names that its problems use. */
export function materialsOf({ job }: Scenario): Record<string, Material> {
  const { shot, mold } = job;
  const materials: Record<string, Material> = {
    // the cavity is fed until the plastic sets: it keeps the mass it has then
    plastic: toMaterial(shot.material, { densityAt: setTemperature(job) }),
    mold: toMaterial(mold.material),
  };
  mold.inserts.forEach((plate, i) => {
    materials[`plate ${i + 1}`] = toMaterial(plate.material);
  });
  if (mold.back) materials["back"] = toMaterial(mold.back.material);
  return materials;
}

/** The plastic no longer flows below this, K. */
export function setTemperature(job: Scenario["job"]): number {
  return job.limits.set ?? plastisolOf(job).setTemperature.value;
}

/** Whether a bait whose hottest point is at `hottest`, K, would run out of a mold that is opened. */
export function isMolten(hottest: number, job: Parameters<typeof setTemperature>[0]): boolean {
  return hottest > setTemperature(job);
}

/**
 * The mold behind a cavity, from its face outwards: wall, plates and back plate as layers, names `mold`, `plate 1`,
 * `mold 2`, ..., `back`.
 */
export function wallLayers({ job }: Scenario, initial: number): Layer[] {
  const { wall, inserts, back } = job.mold;
  const layers: Layer[] = [];
  let at = 0;
  let pieces = 0;
  const mold = (until: number) => {
    if (until - at < 1e-6) return;
    pieces++;
    layers.push({
      name: pieces === 1 ? "mold" : `mold ${pieces}`,
      material: "mold",
      thickness: until - at,
      initial,
    });
    at = until;
  };
  const touch = (contact: number) => {
    const last = layers[layers.length - 1];
    if (last) layers[layers.length - 1] = { ...last, contact };
  };
  const plates = inserts.map((plate, i) => ({ ...plate, name: `plate ${i + 1}` }));
  for (const plate of plates.sort((a, b) => a.distance - b.distance)) {
    mold(Math.max(plate.distance, at));
    touch(plate.contact);
    layers.push({
      name: plate.name,
      material: plate.name,
      thickness: plate.thickness,
      initial,
      contact: plate.contact,
    });
    at += plate.thickness;
  }
  if (back) {
    mold(Math.max(back.distance, at));
    touch(back.contact);
    layers.push({ name: "back", material: "back", thickness: back.thickness, initial });
    return layers;
  }
  mold(wall);
  return layers;
}

/** A station's bar or sheet as a heat problem. */
export function barModel(scenario: Scenario, body: StandIn): BaitModel {
  const { job } = scenario;
  const { mold, shot } = job;
  const around = scenarioSurroundings(scenario);
  const initial = meanOfHalves(job);
  return {
    bodies: ["bait"],
    problem: {
      frame: body.form === "round" ? "cylinder" : "slab",
      materials: materialsOf(scenario),
      layers: [
        {
          name: "bait",
          material: "plastic",
          thickness: body.across / 2,
          initial: shot.temperature,
          contact: mold.contact,
        },
        ...wallLayers(scenario, initial),
      ],
      boundary: {
        left: { kind: "insulated" },
        right: (mold.back && around.back) || around.outside,
      },
      probes: BODY_PROBES,
    },
  };
}

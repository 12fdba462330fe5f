/** A problem of the engine as a problem file: what `readSolveProblem` reads back. K become degC. */

import type { RateSpec } from "../cure/rate-form.ts";
import type {
  Boundary,
  HeatProblem,
  OverTime,
  Probe,
  Shape,
  Side,
  Stage,
} from "../heat/problem.ts";
import type { Material, PropertyLaw } from "../materials/material.ts";
import { ZERO_CELSIUS } from "../units/constants.ts";
import type { SolveInput } from "./schema.ts";

/** Noise of the subtraction is cut off. */
const degC = (kelvin: number) => Number((kelvin - ZERO_CELSIUS).toPrecision(12));

type Written = SolveInput["materials"][string];

function propertyOf(law: PropertyLaw): Written["conductivity"] {
  if (typeof law === "number") return law;
  if (typeof law === "function") throw new Error("a property that is a function can't be written");
  return Array.from(law.T, (T, i) => [degC(T), law.value[i]] as [number, number]);
}

function materialOf(material: Material, rates: RateSpec | undefined): Written {
  const { conductivity, density, specificHeat, source, cure } = material;
  if (cure && !rates) throw new Error(`the rate law of ${material.name} is not given`);
  return {
    conductivity: propertyOf(conductivity),
    density: propertyOf(density),
    specificHeat: propertyOf(specificHeat),
    ...(source !== undefined && { source }),
    ...(cure && rates && { cure: { ...rates, heat: cure.heat, initial: cure.initial } }),
  };
}

function overTimeOf(law: OverTime, toWritten: (x: number) => number) {
  if (typeof law === "number") return toWritten(law);
  if (typeof law === "function") throw new Error("a boundary that is a function can't be written");
  return law.t.map((t, i) => [t, toWritten(law.value[i])] as [number, number]);
}

const same = (x: number) => x;

/** A contact without end can't be written; no face of a workshop tells this one from it, W/(m2 K). */
const PERFECT = 1e9;

const contactOf = (conductance: number) => Math.min(conductance, PERFECT);

function boundaryOf(boundary: Boundary): NonNullable<NonNullable<SolveInput["boundary"]>["left"]> {
  switch (boundary.kind) {
    case "insulated":
      return "insulated";
    case "held":
      return { temperature: overTimeOf(boundary.temperature, degC) };
    case "flux":
      return { flux: overTimeOf(boundary.flux, same) };
    case "exchange": {
      const { h, ambient, emissivity } = boundary;
      return {
        h: overTimeOf(h, same),
        ambient: overTimeOf(ambient, degC),
        ...(emissivity !== undefined && { emissivity }),
      };
    }
  }
}

function boundariesOf(given: Partial<Record<Side, Boundary>>): NonNullable<SolveInput["boundary"]> {
  return Object.fromEntries(
    Object.entries(given).map(([side, boundary]) => [side, boundaryOf(boundary)]),
  );
}

function probeOf(probe: Probe): SolveInput["probes"][string] {
  switch (probe.kind) {
    case "mean":
      return probe.region;
    case "hottest":
      return { hottest: probe.region };
    case "coldest":
      return { coldest: probe.region };
    case "face":
      return { face: probe.region, neighbor: probe.neighbor, of: probe.of };
    case "point": {
      const { x, y, side } = probe;
      if (y === undefined) return side === undefined ? [x] : [x, side];
      return side === undefined ? [x, y] : [x, y, side];
    }
  }
}

function shapeOf({ outline, initial, ...rest }: Shape): NonNullable<SolveInput["shapes"]>[number] {
  const common = { ...rest, initial: degC(initial) };
  if (outline.kind === "polygon")
    return {
      ...common,
      polygon: outline.points.map(([x, y]) => [x, y] as [number, number]),
      ...(outline.holes && {
        holes: outline.holes.map((hole) => hole.map(([x, y]) => [x, y] as [number, number])),
      }),
    };
  const center: [number, number] = [outline.center[0], outline.center[1]];
  return outline.kind === "ellipse"
    ? { ...common, ellipse: [outline.axes[0], outline.axes[1]], center }
    : { ...common, rectangle: [outline.size[0], outline.size[1]], center };
}

const levelsOf = ({ below, above }: { below?: number; above?: number }) => ({
  ...(below !== undefined && { below: degC(below) }),
  ...(above !== undefined && { above: degC(above) }),
});

function stageOf(stage: Stage): NonNullable<SolveInput["stages"]>[number] {
  const { until, lasts, stop, refill, boundary, absent, exposed, contact } = stage;
  return {
    until,
    ...(lasts !== undefined && { lasts }),
    ...(stop && { stop: { probe: stop.probe, ...levelsOf(stop) } }),
    ...(refill && { refill: refill.map((r) => ({ ...r, temperature: degC(r.temperature) })) }),
    ...(boundary && { boundary: boundariesOf(boundary) }),
    ...(absent && { absent: [...absent] }),
    ...(exposed && { exposed: boundaryOf(exposed) }),
    ...(contact && { contact: { ...contact } }),
  };
}

/**
 * A problem of the engine as plain data, ready to be written as a file for `solve` or to be handed to another solver.
 *
 * @param problem from a model, with its stages; properties as numbers or tables
 * @param rates rate laws of its curing materials, by their names in the problem
 * @returns SI, temperatures in degC; reading it back gives the same problem
 * @example writeSolveProblem(readSolveProblem({ frame: "slab", materials: { m: { conductivity: 1, density: 1000,
 * specificHeat: 1000 } }, layers: [{ name: "plate", material: "m", thickness: 0.02, initial: 100 }], boundary: {
 * left: { temperature: 0 } }, until: 100, probes: { mid: [0.01] } })).layers[0].initial // 100
 */
export function writeSolveProblem(
  problem: HeatProblem,
  rates: Readonly<Record<string, RateSpec>> = {},
): SolveInput {
  const { frame, materials, layers, block, shapes, contacts, ends, boundary, stages } = problem;
  const { mirrors, tolerance, resolution, times, crossings } = problem;
  return {
    frame,
    materials: Object.fromEntries(
      Object.entries(materials).map(([name, one]) => [name, materialOf(one, rates[name])]),
    ),
    ...(layers && { layers: layers.map((one) => ({ ...one, initial: degC(one.initial) })) }),
    ...(block && { block: { ...block, initial: degC(block.initial) } }),
    ...(shapes && { shapes: shapes.map(shapeOf) }),
    ...(contacts && {
      contacts: contacts.map(({ between, conductance }) => ({
        between: [between[0], between[1]] as [string, string],
        conductance: contactOf(conductance),
      })),
    }),
    ...(ends && { ends: { ...ends, ambient: degC(ends.ambient) } }),
    ...(mirrors && { mirrors: [...mirrors] }),
    boundary: boundariesOf(boundary),
    stages: stages.map(stageOf),
    ...(tolerance !== undefined && { tolerance }),
    ...(resolution !== undefined && { resolution }),
    probes: Object.fromEntries(
      Object.entries(problem.probes).map(([name, probe]) => [name, probeOf(probe)]),
    ),
    ...(times && times.length > 0 && { times: [...times] }),
    ...(crossings &&
      crossings.length > 0 && {
        crossings: crossings.map((c) => ({ probe: c.probe, ...levelsOf(c) })),
      }),
  };
}

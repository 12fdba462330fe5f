/** Finds everything that makes a heat problem unsolvable, before any of it is computed. */
import type { Problem } from "../units/problem.ts";
import { checkMaterial } from "./check-material.ts";
import { Findings } from "./findings.ts";
import type { Boundary, HeatProblem, OverTime, Probe, Stage } from "./problem.ts";
import { checkSteady } from "./steady.ts";

const FRAMES = ["slab", "cylinder", "sphere", "section", "round"] as const;

export function checkHeatProblem(problem: HeatProblem): Problem[] {
  const f = new Findings();
  if (!FRAMES.includes(problem.frame)) f.add("unknown_frame", "frame", problem.frame, FRAMES);
  const flat = problem.frame === "section" || problem.frame === "round";
  for (const name of Object.keys(problem.materials)) checkMaterial(problem, name, f);
  const regions = [...new Set(flat ? checkSection(problem, f) : checkLayers(problem, f))];
  for (const [side, b] of Object.entries(problem.boundary)) checkBoundary(b, `boundary.${side}`, f);
  if (problem.stages.length === 0) f.add("missing", "stages");
  problem.stages.forEach((stage, i) => {
    checkStage(problem, stage, i, regions, f);
  });
  for (const [name, p] of Object.entries(problem.probes))
    checkProbe(problem, p, `probes.${name}`, regions, f);
  problem.crossings?.forEach((c, i) => {
    f.known("unknown_probe", c.probe, `crossings[${i}].probe`, Object.keys(problem.probes));
    if (c.below === undefined && c.above === undefined) f.add("missing", `crossings[${i}].below`);
  });
  for (const key of ["resolution", "mostCells", "mostSteps"] as const) {
    const value = problem[key];
    if (value !== undefined) f.positive(value, key);
  }
  if (problem.steady === true) f.found.push(...checkSteady(problem));
  const { tolerance = 1e-4 } = problem;
  if (!(tolerance >= 1e-9 && tolerance <= 0.1))
    f.add("tolerance_impossible", "tolerance", tolerance);
  return f.found;
}

const knownMaterial = (problem: HeatProblem, name: string, path: string, f: Findings) =>
  f.known("unknown_material", name, path, Object.keys(problem.materials));

/** Returns the names of the regions. */
function checkSection(problem: HeatProblem, f: Findings): string[] {
  const { block } = problem;
  if (!block) f.add("missing", "block");
  else {
    f.positive(block.width, "block.width");
    f.positive(block.height, "block.height");
    f.kelvin(block.initial, "block.initial");
    knownMaterial(problem, block.material, "block.material", f);
  }
  const names = ["block"];
  (problem.shapes ?? []).forEach((shape, i) => {
    const path = `shapes[${i}]`;
    if (names.includes(shape.name)) f.add("name_twice", `${path}.name`, shape.name);
    names.push(shape.name);
    f.kelvin(shape.initial, `${path}.initial`);
    knownMaterial(problem, shape.material, `${path}.material`, f);
    if (shape.contact !== undefined) f.positive(shape.contact, `${path}.contact`);
    const { outline } = shape;
    if (outline.kind === "ellipse") for (const v of outline.axes) f.positive(v, `${path}.ellipse`);
    else if (outline.kind === "rectangle")
      for (const v of outline.size) f.positive(v, `${path}.rectangle`);
    else if (outline.points.length < 3)
      f.add("too_few_corners", `${path}.polygon`, outline.points.length);
  });
  return names;
}

/** Returns the names of the regions. */
function checkLayers(problem: HeatProblem, f: Findings): string[] {
  const layers = problem.layers ?? [];
  const names: string[] = [];
  if (layers.length === 0) f.add("missing", "layers");
  layers.forEach((layer, i) => {
    const path = `layers[${i}]`;
    if (names.includes(layer.name)) f.add("name_twice", `${path}.name`, layer.name);
    names.push(layer.name);
    f.positive(layer.thickness, `${path}.thickness`);
    f.kelvin(layer.initial, `${path}.initial`);
    knownMaterial(problem, layer.material, `${path}.material`, f);
    if (layer.contact !== undefined) f.positive(layer.contact, `${path}.contact`);
  });
  return names;
}

function checkLaw(
  value: OverTime,
  path: string,
  f: Findings,
  check: (v: number, path: string) => void,
): void {
  if (typeof value === "number") check(value, path);
  else if (typeof value === "object") {
    value.value.forEach((v, i) => {
      check(v, `${path}[${i}]`);
    });
    for (let i = 1; i < value.t.length; i++)
      // a time that stands twice is a jump
      if (!(value.t[i] >= value.t[i - 1]) || value.t[i] === value.t[i - 2])
        f.add("not_rising", `${path}[${i}]`, value.t[i]);
  }
}

function checkBoundary(b: Boundary | undefined, path: string, f: Findings): void {
  if (b === undefined) return;
  const kelvin = (v: number, p: string) => f.kelvin(v, p);
  if (b.kind === "held") checkLaw(b.temperature, `${path}.temperature`, f, kelvin);
  if (b.kind === "exchange") {
    checkLaw(b.h, `${path}.h`, f, (v, p) => {
      if (!(v >= 0 && v < Number.POSITIVE_INFINITY)) f.add("not_positive", p, v);
    });
    checkLaw(b.ambient, `${path}.ambient`, f, kelvin);
    if (b.emissivity !== undefined && !(b.emissivity >= 0 && b.emissivity <= 1))
      f.add("not_a_share", `${path}.emissivity`, b.emissivity);
  }
  if (b.kind === "flux")
    checkLaw(b.flux, `${path}.flux`, f, (v, p) => {
      if (!Number.isFinite(v)) f.add("not_finite", p, v);
    });
}

function checkStage(
  problem: HeatProblem,
  stage: Stage,
  i: number,
  regions: readonly string[],
  f: Findings,
): void {
  const path = `stages[${i}]`;
  // after a stage that may end early, a stage may have nothing left to do
  const early = problem.stages.slice(0, i).some((s) => s.stop || s.past || s.lasts !== undefined);
  const before = i > 0 && !early ? problem.stages[i - 1].until : 0;
  if (!(stage.until > before && stage.until < Number.POSITIVE_INFINITY))
    f.add("not_rising", `${path}.until`, stage.until);
  if (stage.lasts !== undefined) f.positive(stage.lasts, `${path}.lasts`);
  for (const [side, b] of Object.entries(stage.boundary ?? {}))
    checkBoundary(b, `${path}.boundary.${side}`, f);
  checkBoundary(stage.exposed, `${path}.exposed`, f);
  stage.absent?.forEach((name, k) => {
    f.known("unknown_region", name, `${path}.absent[${k}]`, regions);
  });
  stage.refill?.forEach((r, k) => {
    f.known("unknown_region", r.name, `${path}.refill[${k}].name`, regions);
    f.kelvin(r.temperature, `${path}.refill[${k}].temperature`);
    if (r.material !== undefined)
      knownMaterial(problem, r.material, `${path}.refill[${k}].material`, f);
  });
  for (const end of ["stop", "past"] as const) {
    const probe = stage[end]?.probe;
    if (probe !== undefined)
      f.known("unknown_probe", probe, `${path}.${end}.probe`, Object.keys(problem.probes));
  }
}

function checkProbe(
  problem: HeatProblem,
  p: Probe,
  path: string,
  regions: readonly string[],
  f: Findings,
): void {
  if (p.kind !== "point") {
    f.known("unknown_region", p.region, path, regions);
    if (p.kind === "face") f.known("unknown_region", p.neighbor, path, regions);
    return;
  }
  const flat = problem.frame === "section" || problem.frame === "round";
  const width = flat
    ? (problem.block?.width ?? 0)
    : (problem.layers ?? []).reduce((sum, l) => sum + l.thickness, 0);
  const near = width * 1e-9;
  if (!(p.x >= -near && p.x <= width + near)) f.add("outside", path, p.x);
  const height = (problem.block?.height ?? 0) * (1 + 1e-9);
  if (flat && !(p.y !== undefined && p.y >= 0 && p.y <= height)) f.add("outside", path, p.y);
}

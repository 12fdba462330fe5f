/** Finds everything that makes a heat problem unsolvable, before any of it is computed. */
import type { Problem } from "../units/problem.ts";
import type { Boundary, HeatProblem, OverTime } from "./problem.ts";
import { lawAt } from "./properties.ts";

const FRAMES = ["slab", "cylinder", "sphere", "section", "round"] as const;

export function checkHeatProblem(problem: HeatProblem): Problem[] {
  const found: Problem[] = [];
  const add = (
    code: string,
    path: string,
    given?: string | number,
    possible?: readonly string[],
  ) => {
    found.push({
      code,
      path,
      ...(given === undefined ? {} : { given }),
      ...(possible === undefined ? {} : { possible }),
    });
  };
  const positive = (v: number, path: string) => {
    if (!(v > 0 && v < Number.POSITIVE_INFINITY)) add("not_positive", path, v);
  };
  const kelvin = (v: number, path: string) => {
    if (!(v > 0 && v < 1e5)) add("temperature_impossible", path, v);
  };
  if (!FRAMES.includes(problem.frame)) add("unknown_frame", "frame", problem.frame, FRAMES);
  const flat = problem.frame === "section" || problem.frame === "round";
  const materialNames = Object.keys(problem.materials);
  for (const name of materialNames) checkMaterial(problem, name, add);
  const material = (name: string, path: string) => {
    if (!(name in problem.materials)) add("unknown_material", path, name, materialNames);
  };
  const names: string[] = [];
  if (flat) {
    const { block } = problem;
    if (!block) add("missing", "block");
    else {
      positive(block.width, "block.width");
      positive(block.height, "block.height");
      kelvin(block.initial, "block.initial");
      material(block.material, "block.material");
    }
    names.push("block");
    (problem.shapes ?? []).forEach((shape, i) => {
      const path = `shapes[${i}]`;
      if (names.includes(shape.name)) add("name_twice", `${path}.name`, shape.name);
      names.push(shape.name);
      kelvin(shape.initial, `${path}.initial`);
      material(shape.material, `${path}.material`);
      if (shape.contact !== undefined) positive(shape.contact, `${path}.contact`);
      const { outline } = shape;
      if (outline.kind === "ellipse") for (const v of outline.axes) positive(v, `${path}.ellipse`);
      else if (outline.kind === "rectangle")
        for (const v of outline.size) positive(v, `${path}.rectangle`);
      else if (outline.points.length < 3)
        add("too_few_corners", `${path}.polygon`, outline.points.length);
    });
  } else {
    const layers = problem.layers ?? [];
    if (layers.length === 0) add("missing", "layers");
    layers.forEach((layer, i) => {
      const path = `layers[${i}]`;
      if (names.includes(layer.name)) add("name_twice", `${path}.name`, layer.name);
      names.push(layer.name);
      positive(layer.thickness, `${path}.thickness`);
      kelvin(layer.initial, `${path}.initial`);
      material(layer.material, `${path}.material`);
      if (layer.contact !== undefined) positive(layer.contact, `${path}.contact`);
    });
  }
  const region = (name: string, path: string) => {
    if (!names.includes(name)) add("unknown_region", path, name, names);
  };
  const law = (value: OverTime, path: string, check: (v: number, path: string) => void) => {
    if (typeof value === "number") check(value, path);
    else if (typeof value === "object") {
      value.value.forEach((v, i) => {
        check(v, `${path}[${i}]`);
      });
      for (let i = 1; i < value.t.length; i++)
        if (!(value.t[i] > value.t[i - 1])) add("not_rising", `${path}[${i}]`, value.t[i]);
    }
  };
  const boundary = (b: Boundary | undefined, path: string) => {
    if (b === undefined) return;
    if (b.kind === "held") law(b.temperature, `${path}.temperature`, kelvin);
    if (b.kind === "exchange") {
      law(b.h, `${path}.h`, (v, p) => {
        if (!(v >= 0 && v < Number.POSITIVE_INFINITY)) add("not_positive", p, v);
      });
      law(b.ambient, `${path}.ambient`, kelvin);
      if (b.emissivity !== undefined && !(b.emissivity >= 0 && b.emissivity <= 1))
        add("not_a_share", `${path}.emissivity`, b.emissivity);
    }
    if (b.kind === "flux")
      law(b.flux, `${path}.flux`, (v, p) => {
        if (!Number.isFinite(v)) add("not_finite", p, v);
      });
  };
  for (const [side, b] of Object.entries(problem.boundary)) boundary(b, `boundary.${side}`);
  if (problem.stages.length === 0) add("missing", "stages");
  const probeNames = Object.keys(problem.probes);
  const probe = (name: string, path: string) => {
    if (!probeNames.includes(name)) add("unknown_probe", path, name, probeNames);
  };
  problem.stages.forEach((stage, i) => {
    const path = `stages[${i}]`;
    // after a stage that may end early, a stage may have nothing left to do
    const early = problem.stages.slice(0, i).some((s) => s.stop || s.lasts !== undefined);
    const before = i > 0 && !early ? problem.stages[i - 1].until : 0;
    if (!(stage.until > before && stage.until < Number.POSITIVE_INFINITY))
      add("not_rising", `${path}.until`, stage.until);
    if (stage.lasts !== undefined) positive(stage.lasts, `${path}.lasts`);
    for (const [side, b] of Object.entries(stage.boundary ?? {}))
      boundary(b, `${path}.boundary.${side}`);
    boundary(stage.exposed, `${path}.exposed`);
    stage.absent?.forEach((name, k) => {
      region(name, `${path}.absent[${k}]`);
    });
    stage.refill?.forEach((r, k) => {
      region(r.name, `${path}.refill[${k}].name`);
      kelvin(r.temperature, `${path}.refill[${k}].temperature`);
      if (r.material !== undefined) material(r.material, `${path}.refill[${k}].material`);
    });
    if (stage.stop) probe(stage.stop.probe, `${path}.stop.probe`);
  });
  const width = flat
    ? (problem.block?.width ?? 0)
    : (problem.layers ?? []).reduce((sum, l) => sum + l.thickness, 0);
  const near = width * 1e-9;
  for (const [name, p] of Object.entries(problem.probes)) {
    const path = `probes.${name}`;
    if (p.kind === "point") {
      if (!(p.x >= -near && p.x <= width + near)) add("outside", path, p.x);
      if (
        flat &&
        !(p.y !== undefined && p.y >= 0 && p.y <= (problem.block?.height ?? 0) * (1 + 1e-9))
      )
        add("outside", path, p.y);
    } else {
      region(p.region, path);
      if (p.kind === "face") region(p.neighbor, path);
    }
  }
  problem.crossings?.forEach((c, i) => {
    probe(c.probe, `crossings[${i}].probe`);
    if (c.below === undefined && c.above === undefined) add("missing", `crossings[${i}].below`);
  });
  const { tolerance = 1e-4 } = problem;
  if (!(tolerance >= 1e-9 && tolerance <= 0.1)) add("tolerance_impossible", "tolerance", tolerance);
  return found;
}

function checkMaterial(
  problem: HeatProblem,
  name: string,
  add: (code: string, path: string, given?: string | number) => void,
): void {
  const m = problem.materials[name];
  const path = `materials.${name}`;
  for (const key of ["conductivity", "density", "specificHeat"] as const) {
    const law = m[key];
    if (typeof law === "object") {
      if (law.T.length === 0 || law.T.length !== law.value.length)
        add("table_broken", `${path}.${key}`);
      for (let i = 1; i < law.T.length; i++)
        if (!(law.T[i] > law.T[i - 1])) add("not_rising", `${path}.${key}[${i}]`, law.T[i]);
      law.value.forEach((v, i) => {
        if (!(v > 0 && v < Number.POSITIVE_INFINITY))
          add("not_positive", `${path}.${key}[${i}]`, v);
      });
      continue;
    }
    // an expression is tried over the range where the trade lives
    const tries = typeof law === "number" ? [300] : [273.15, 300, 350, 400, 450];
    for (const T of tries) {
      const v = lawAt(law, T);
      if (!(v > 0 && v < Number.POSITIVE_INFINITY)) {
        add("not_positive", `${path}.${key}`, v);
        break;
      }
    }
  }
  if (m.cure) {
    if (!(m.cure.initial >= 0 && m.cure.initial <= 1))
      add("not_a_share", `${path}.cure.initial`, m.cure.initial);
    if (!(m.cure.heat >= 0 && m.cure.heat < 1e8))
      add("not_positive", `${path}.cure.heat`, m.cure.heat);
  }
}

/**
 * Colors in a mold in one dimension: lower mold, first color, the next, ..., upper mold, as flat layers.
 */
import type { Layer, PairContact, Probe } from "../../heat/problem.ts";
import { toMaterial } from "../../materials/to-material.ts";
import { materialsOf, setTemperature, wallLayers } from "../bait/bar.ts";
import { type Scenario, scenarioSurroundings } from "../scenario.ts";
import type { Color, ColorSequence } from "./colors.ts";

/** Places in the first color at which its hottest moment is read, for the depth of remelting. */
const REMELT_PLACES = 16;

/** Thinnest that is left for a color, as a share of the body. */
const THINNEST = 0.05;

/** The colors over the height of the body: the second takes what the others leave. */
export function colorsOf({ job }: Scenario, bodyHeight: number): Color[] {
  const { layer, shot } = job;
  const densityAt = setTemperature(job);
  const others = layer.more.reduce((sum, next) => sum + next.depth, 0);
  const least = THINNEST * bodyHeight;
  const first = Math.min(layer.depth, bodyHeight - others - least);
  const second = Math.max(bodyHeight - first - others, least);
  return [
    {
      name: "first",
      depth: first,
      temperature: layer.temperature,
      material: toMaterial(shot.material, { densityAt }),
    },
    {
      name: "second",
      depth: second,
      temperature: layer.second.temperature,
      material: toMaterial(layer.second.material, { densityAt }),
    },
    ...layer.more.map((next, k) => ({
      name: `color ${k + 3}`,
      depth: next.depth,
      temperature: next.temperature,
      material: toMaterial(next.material, { densityAt }),
    })),
  ];
}

export interface Stack extends ColorSequence {
  /** Share of the interface's width up to each of its probes: one stands for all. */
  readonly shares: readonly number[];
  /** Probes through the first color: depth below the interface, m, and place along it, 0 in its middle, 1 at the mold. */
  readonly remelt: readonly {
    readonly probe: string;
    readonly depth: number;
    readonly along: number;
  }[];
}

/** The colors of a job as a stack of layers as high as the body. */
export function layerStack(scenario: Scenario, bodyHeight: number): Stack {
  const { job } = scenario;
  const { mold } = job;
  const around = scenarioSurroundings(scenario);
  const colors = colorsOf(scenario, bodyHeight);
  const contacts: PairContact[] = [];
  const touch = (a: Layer | undefined, b: Layer | undefined, conductance: number | undefined) => {
    if (a && b && conductance !== undefined)
      contacts.push({ between: [a.name, b.name], conductance });
  };
  const half = (initial: number, suffix: string): Layer[] => {
    const own = wallLayers(scenario, initial).map((l) => ({ ...l, name: `${l.name}${suffix}` }));
    own.forEach((l, i) => {
      touch(l, own[i + 1], l.contact);
    });
    return own.map(({ contact: _, ...l }) => l);
  };
  const lower = half(mold.temperature, " below").reverse();
  const upper = half(mold.upperTemperature, " above");
  const bodies = colors.map(
    (c): Layer => ({
      name: c.name,
      material: c.name,
      thickness: c.depth,
      initial: c.temperature,
    }),
  );
  touch(lower[lower.length - 1], bodies[0], mold.contact);
  touch(bodies[bodies.length - 1], upper[0], mold.contact);
  const below = lower.reduce((sum, l) => sum + l.thickness, 0);
  const probes: Record<string, Probe> = {};
  let at = below;
  colors.forEach((color, k) => {
    probes[`hottest ${k}`] = { kind: "hottest", region: color.name };
    const skin = Math.min(job.layer.skin, color.depth);
    probes[`skin ${k}`] = { kind: "point", x: at + skin, side: "left" };
    at += color.depth;
    const next = colors[k + 1];
    if (next)
      probes[`interface ${k}`] = {
        kind: "face",
        region: color.name,
        neighbor: next.name,
        of: "mean",
      };
  });
  const [first] = colors;
  const face = (region: string, neighbor: string): Probe => ({
    kind: "face",
    region,
    neighbor,
    of: "hottest",
  });
  probes["wall"] = face(lower[lower.length - 1].name, first.name);
  probes["surface"] = { kind: "point", x: below + first.depth, side: "left" };
  const remelt = Array.from({ length: REMELT_PLACES }, (_, i) => {
    // closer together near the interface
    const depth = first.depth * ((i + 1) / REMELT_PLACES) ** 2;
    const probe = `below interface ${i}`;
    probes[probe] = { kind: "point", x: below + first.depth - depth, side: "right" };
    return { probe, depth, along: 0 };
  });
  const outer = (mold.back && around.back) || around.outside;
  return {
    problem: {
      frame: "slab",
      materials: {
        ...materialsOf(scenario),
        ...Object.fromEntries(colors.map((c) => [c.name, c.material])),
      },
      layers: [...lower, ...bodies, ...upper],
      contacts,
      boundary: { left: outer, right: outer },
      probes,
    },
    colors: colors.map((c) => [c.name]),
    poured: colors,
    upper: upper.map((l) => l.name),
    exposed: around.open,
    shares: [0],
    interfaces: colors.slice(1).map((_, k) => [`interface ${k}`]),
    remelt,
  };
}

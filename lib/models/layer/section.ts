/**
 * Colors in a mold in two dimensions: the first lies in the lower half-cavity, the second fills what is left.
 *
 * `belly` (and `stripe`, `tail`): filled level to its depth. `skin`: a lining of the lower half of even depth.
 */
import type { HeatProblem, Probe, Shape } from "../../heat/problem.ts";
import type { Station } from "../../job/types.ts";
import { boxOf, type Outline, ringsOf } from "../../shape/outline.ts";
import { inset, liningBelow, partBelow } from "../../shape/parts.ts";
import { sectionModel } from "../bait/section.ts";
import { aroundOf, type Supposed } from "../supposed.ts";
import { colorsOf, type Stack } from "./stack.ts";

/** Places along the joint from its middle to near the mold, as shares of its half-width (of a quarter turn for a skin). */
const ALONG_JOINT = [0, 0.5, 0.7, 0.85] as const;
/**
 * The joint is judged up to here: nearer to the mold it is colder and never bonds. A guess; with 0.7 the 30 to 60 s that
 * are common between colors could not work.
 */
export const JUDGED_UP_TO = 0.5;
/** Places below each of them where the hottest moment is read. */
const REMELT_PLACES = 10;

/** The two colors of a job in a station's section. Further colors are left to one dimension. */
export function layerSection(supposed: Supposed, station: Station): Stack {
  const { job } = supposed;
  const { layer } = job;
  const model = sectionModel(supposed, station, { whole: true });
  const [first, second] = colorsOf(
    { ...supposed, job: { ...job, layer: { ...layer, more: [] } } },
    station.height,
  );
  const shapes: Shape[] = [];
  const firsts: string[] = [];
  const seconds: string[] = [];
  let cavity: Outline | undefined;
  for (const shape of model.problem.shapes ?? []) {
    if (!model.bodies.includes(shape.name)) {
      shapes.push(shape);
      continue;
    }
    cavity ??= shape.outline;
    const { bottom, top } = boxOf(ringsOf(shape.outline));
    const lower =
      layer.form === "skin"
        ? liningBelow(shape.outline, (bottom + top) / 2, first.thickness)
        : partBelow(shape.outline, bottom + first.thickness);
    const names = [`second ${firsts.length + 1}`, `first ${firsts.length + 1}`];
    shapes.push({ ...shape, name: names[0], material: "second", initial: second.temperature });
    seconds.push(names[0]);
    if (!lower) continue;
    shapes.push({
      ...shape,
      name: names[1],
      material: "first",
      initial: first.temperature,
      outline: lower,
    });
    firsts.push(names[1]);
  }
  const outline = cavity as Outline;
  const { left, right, bottom, top } = boxOf(ringsOf(outline));
  const middle = (left + right) / 2;
  const half = (right - left) / 2;
  const probes: Record<string, Probe> = {
    "hottest 0": { kind: "hottest", region: firsts[0] },
    "hottest 1": { kind: "hottest", region: seconds[0] },
    wall: { kind: "face", region: "block", neighbor: firsts[0], of: "hottest" },
    "skin 0": {
      kind: "point",
      x: middle,
      y: bottom + Math.min(layer.skin, 0.98 * first.thickness),
    },
  };
  const remelt: Stack["remelt"][number][] = [];
  const joint: string[] = [];
  ALONG_JOINT.forEach((along, i) => {
    const name = `joint 0 ${i}`;
    // a bent joint is no line of the grid: only its middle is read sharply, and a lining is even anyway
    if (layer.form !== "skin" || i === 0) joint.push(name);
    // place on the joint, and the direction in which the first color lies below it
    const inner = inset(outline, first.thickness);
    const box = boxOf(ringsOf(inner));
    const angle = (Math.PI / 2) * along;
    const [x, y, dx, dy] =
      layer.form === "skin"
        ? [
            middle + ((box.right - box.left) / 2) * Math.sin(angle),
            (bottom + top) / 2 - ((box.top - box.bottom) / 2) * Math.cos(angle),
            Math.sin(angle),
            -Math.cos(angle),
          ]
        : [
            middle + along * halfChord(outline, bottom + first.thickness, half),
            bottom + first.thickness,
            0,
            -1,
          ];
    probes[name] = { kind: "point", x, y };
    for (let q = 1; q <= REMELT_PLACES; q++) {
      const depth = 0.9 * first.thickness * (q / REMELT_PLACES) ** 2;
      const probe = `below joint ${i} ${q}`;
      const at = { x: x + depth * dx, y: y + depth * dy };
      // near the mold the color is less deep
      if (!insideLower(outline, at)) continue;
      probes[probe] = { kind: "point", ...at };
      remelt.push({ probe, depth, along });
    }
  });
  probes["surface"] = probes["joint 0 0"];
  const touching = (a: string, b: string) => ({
    between: [a, b] as const,
    conductance: Number.POSITIVE_INFINITY,
  });
  const problem: Omit<HeatProblem, "stages"> = {
    ...model.problem,
    materials: {
      ...model.problem.materials,
      first: first.material,
      second: second.material,
    },
    shapes,
    contacts: [
      ...(model.problem.contacts ?? []),
      ...firsts.map((name, i) => touching(name, seconds[i])),
    ],
    probes,
  };
  return {
    problem,
    colors: [firsts, seconds],
    temperatures: [first.temperature, second.temperature],
    upper: [
      "upper",
      ...shapes.map((s) => s.name).filter((n) => n === "back" || /^plate \d+$/.test(n)),
    ],
    exposed: aroundOf(supposed).open,
    joints: [joint],
    shares: layer.form === "skin" ? [0] : ALONG_JOINT,
    remelt,
  };
}

/** Half the width of an outline at a level, from its middle. */
function halfChord(outline: Outline, level: number, half: number): number {
  const below = partBelow(outline, level);
  if (!below) return half;
  let widest = 0;
  const box = boxOf(ringsOf(outline));
  const middle = (box.left + box.right) / 2;
  for (const ring of ringsOf(below))
    for (let i = 0; i < ring.length; i += 2)
      if (Math.abs(ring[i + 1] - level) < 1e-9) widest = Math.max(widest, ring[i] - middle);
  return widest > 0 ? widest : half;
}

/** True where a place lies inside the outline, by a margin. */
function insideLower(outline: Outline, { x, y }: { x: number; y: number }): boolean {
  const box = boxOf(ringsOf(outline));
  const u = (x - (box.left + box.right) / 2) / ((box.right - box.left) / 2);
  const v = (y - (box.bottom + box.top) / 2) / ((box.top - box.bottom) / 2);
  return outline.kind === "ellipse"
    ? Math.hypot(u, v) < 0.97
    : Math.abs(u) < 0.97 && Math.abs(v) < 0.97;
}

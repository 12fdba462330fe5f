/**
 * Colors in a mold in two dimensions: the first lies in the lower half-cavity, the second fills what is left.
 *
 * `belly` (and `stripe`, `tail`): filled level to its depth. `skin`: a lining of the lower half of even depth.
 */
import type { HeatProblem, Probe, Shape } from "../../heat/problem.ts";
import type { Job, Station } from "../../job/types.ts";
import { boxOf, type Outline, ringsOf } from "../../shape/outline.ts";
import { inset, liningBelow, partBelow } from "../../shape/parts.ts";
import type { BaitModel } from "../bait/bar.ts";
import { sectionModel } from "../bait/section.ts";
import { type Scenario, scenarioSurroundings } from "../scenario.ts";
import type { Color } from "./colors.ts";
import { colorsOf, type Stack } from "./stack.ts";

/** Places along the interface from its middle to near the mold, as shares of its half-width (of a quarter turn for a skin). */
const ALONG_INTERFACE = [0, 0.5, 0.7, 0.85] as const;
/**
 * The interface is judged up to here: nearer to the mold it is colder and never bonds. A guess; with 0.7 the 30 to 60 s that
 * are common between colors could not work.
 */
export const JUDGED_UP_TO = 0.5;
/** How the first color fills its half. */
type LayerForm = Job["layer"]["form"];

/** Places below each of them where the hottest moment is read. */
const REMELT_PLACES = 10;

/** The two colors of a job in a station's section. Further colors are left to one dimension. */
export function layerSection(scenario: Scenario, station: Station): Stack {
  const { job } = scenario;
  const { layer } = job;
  const model = sectionModel(scenario, station, { whole: true });
  const [first, second] = colorsOf(
    { ...scenario, job: { ...job, layer: { ...layer, more: [] } } },
    station.height,
  );
  const { shapes, firsts, seconds, outline, lower } = coloredShapes(
    model,
    layer.form,
    first,
    second,
  );
  const { left, right, bottom } = boxOf(ringsOf(outline));
  const middle = (left + right) / 2;
  const probes: Record<string, Probe> = {
    "hottest 0": { kind: "hottest", region: firsts[0] },
    "hottest 1": { kind: "hottest", region: seconds[0] },
    wall: { kind: "face", region: "block", neighbor: firsts[0], of: "hottest" },
    "skin 0": {
      kind: "point",
      x: middle,
      y: bottom + Math.min(layer.skin, 0.98 * first.depth),
    },
  };
  const { placed, interfaceProbes, remelt } = interfacePlaces(
    layer.form === "skin" ? onLining(outline, first.depth) : onLevel(outline, lower, first.depth),
    outline,
    { form: layer.form, thickness: first.depth },
  );
  Object.assign(probes, placed);
  probes["surface"] = probes["interface 0 0"];
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
    poured: [first, second],
    upper: [
      "upper",
      ...shapes.map((s) => s.name).filter((n) => n === "back" || /^plate \d+$/.test(n)),
    ],
    exposed: scenarioSurroundings(scenario).open,
    interfaces: [interfaceProbes],
    shares: layer.form === "skin" ? [0] : ALONG_INTERFACE,
    remelt,
  };
}

/** Every cavity with the first color at its bottom or along its lower half, and the second above. */
function coloredShapes(model: BaitModel, form: LayerForm, first: Color, second: Color) {
  const shapes: Shape[] = [];
  const firsts: string[] = [];
  const seconds: string[] = [];
  let cavity: Outline | undefined;
  let below: Outline | undefined;
  for (const shape of model.problem.shapes ?? []) {
    if (!model.bodies.includes(shape.name)) {
      shapes.push(shape);
      continue;
    }
    cavity ??= shape.outline;
    const { bottom, top } = boxOf(ringsOf(shape.outline));
    const lower =
      form === "skin"
        ? liningBelow(shape.outline, (bottom + top) / 2, first.depth)
        : partBelow(shape.outline, bottom + first.depth);
    if (cavity === shape.outline) below = lower;
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
  return { shapes, firsts, seconds, outline: cavity as Outline, lower: below };
}

/** Probes along the interface of two colors, and below it through the first, whose thickness is given. */
function interfacePlaces(
  placeAt: (along: number) => InterfacePlace,
  outline: Outline,
  { form, thickness }: { readonly form: LayerForm; readonly thickness: number },
) {
  const placed: Record<string, Probe> = {};
  const interfaceProbes: string[] = [];
  const remelt: Stack["remelt"][number][] = [];
  const isInside = insideOf(outline);
  ALONG_INTERFACE.forEach((along, i) => {
    const name = `interface 0 ${i}`;
    // a bent interface is no line of the grid: only its middle is read sharply, and a lining is even anyway
    if (form !== "skin" || i === 0) interfaceProbes.push(name);
    const { x, y, dx, dy } = placeAt(along);
    placed[name] = { kind: "point", x, y };
    for (let q = 1; q <= REMELT_PLACES; q++) {
      const depth = 0.9 * thickness * (q / REMELT_PLACES) ** 2;
      const probe = `below interface ${i} ${q}`;
      const at = { x: x + depth * dx, y: y + depth * dy };
      // near the mold the color is less deep
      if (!isInside(at)) continue;
      placed[probe] = { kind: "point", ...at };
      remelt.push({ probe, depth, along });
    }
  });
  return { placed, interfaceProbes, remelt };
}

/** A place on the interface, and the direction in which the first color lies below it. */
interface InterfacePlace {
  readonly x: number;
  readonly y: number;
  readonly dx: number;
  readonly dy: number;
}

/** Places on the inside of a lining, by their share of a quarter turn. */
function onLining(outline: Outline, thickness: number): (along: number) => InterfacePlace {
  const { left, right, bottom, top } = boxOf(ringsOf(outline));
  const inner = boxOf(ringsOf(inset(outline, thickness)));
  return (along) => {
    const angle = (Math.PI / 2) * along;
    return {
      x: (left + right) / 2 + ((inner.right - inner.left) / 2) * Math.sin(angle),
      y: (bottom + top) / 2 - ((inner.top - inner.bottom) / 2) * Math.cos(angle),
      dx: Math.sin(angle),
      dy: -Math.cos(angle),
    };
  };
}

/** Places on a level, by their share of its half-width. @param lower what lies below it; undefined: nothing */
export function onLevel(
  outline: Outline,
  lower: Outline | undefined,
  thickness: number,
): (along: number) => InterfacePlace {
  const box = boxOf(ringsOf(outline));
  const { left, right, bottom } = box;
  const level = bottom + thickness;
  const middle = (left + right) / 2;
  let widest = 0;
  for (const ring of lower ? ringsOf(lower) : [])
    for (let i = 0; i < ring.length; i += 2)
      if (Math.abs(ring[i + 1] - level) < 1e-9) widest = Math.max(widest, ring[i] - middle);
  const half = widest > 0 ? widest : (right - left) / 2;
  return (along) => ({ x: middle + along * half, y: level, dx: 0, dy: -1 });
}

/** Tells whether a place lies inside the outline, by a margin. */
function insideOf(outline: Outline): (at: { x: number; y: number }) => boolean {
  const box = boxOf(ringsOf(outline));
  return ({ x, y }) => {
    const u = (x - (box.left + box.right) / 2) / ((box.right - box.left) / 2);
    const v = (y - (box.bottom + box.top) / 2) / ((box.top - box.bottom) / 2);
    return outline.kind === "ellipse"
      ? Math.hypot(u, v) < 0.97
      : Math.abs(u) < 0.97 && Math.abs(v) < 0.97;
  };
}

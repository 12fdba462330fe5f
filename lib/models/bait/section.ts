/**
 * A station of the bait in the real block in two dimensions: x along the parting line, y across it.
 *
 * Only what is not its own mirror image is meshed: the upper half where both halves are alike, one side of the middle
 * of the row of cavities.
 */
import type { HeatProblem, PairContact, Probe, Shape, Side } from "../../heat/problem.ts";
import type { Station } from "../../job/types.ts";
import type { Outline } from "../../shape/outline.ts";
import { isSymmetric, stationOutline } from "../../shape/station-outline.ts";
import { type Scenario, scenarioSurroundings } from "../scenario.ts";
import { type BaitModel, materialsOf } from "./bar.ts";

/** Two cast faces clamped on each other, W/(m2 K): 200 to 1000, from memory. */
const PARTING_LINE = 500;

/** Where the parts of the block lie. Origin in the middle of the row of cavities, y = 0 the parting line; m. */
interface BlockLayout {
  /** Of the cavities in x >= 0 from the middle outwards. */
  readonly centers: readonly number[];
  /** From the middle to the outer side face. */
  readonly halfWidth: number;
  /** From the parting line to the outer face of either half. */
  readonly halfHeight: number;
  /** Deepest point of the deepest cavity from the parting line. */
  readonly depth: number;
}

/** Every station lies in the same block, which is laid out around the widest and the deepest. */
function layoutOf({ job }: Scenario): BlockLayout {
  const { bait, mold } = job;
  const widest = Math.max(...bait.stations.map((s) => s.width));
  const depth = Math.max(...bait.stations.map((s) => s.height)) / 2;
  const pitch = widest + mold.spacing;
  const centers: number[] = [];
  for (let k = 0; k < mold.cavities; k++) {
    const x = (k - (mold.cavities - 1) / 2) * pitch;
    if (x > -1e-9) centers.push(Math.abs(x) < 1e-9 ? 0 : x);
  }
  const last = centers[centers.length - 1];
  const behind = mold.back ? mold.back.distance + mold.back.thickness : mold.wall;
  return {
    centers,
    halfWidth: last + widest / 2 + mold.wall,
    halfHeight: depth + behind,
    depth,
  };
}

function rectangle(left: number, right: number, bottom: number, top: number): Outline {
  return {
    kind: "rectangle",
    size: [right - left, top - bottom],
    center: [(left + right) / 2, (bottom + top) / 2],
  };
}

interface SectionOptions {
  /** Both halves are meshed even where they are alike. */
  readonly whole?: boolean;
}

/** A station in the block as a heat problem. */
export function sectionModel(
  scenario: Scenario,
  station: Station,
  options: SectionOptions = {},
): BaitModel {
  const { job } = scenario;
  const { mold, shot } = job;
  const around = scenarioSurroundings(scenario);
  const layout = layoutOf(scenario);
  const { centers, depth, halfWidth, halfHeight } = layout;
  const drawn = !isSymmetric(station);
  const twoHalves = options.whole === true || mold.upperTemperature !== mold.temperature || drawn;
  // a drawn outline need not be its own mirror image: then the whole row is meshed
  const wholeRow = drawn && mold.cavities === 1;
  const x0 = wholeRow ? halfWidth : 0;
  const y0 = twoHalves ? halfHeight : 0;
  const width = x0 + halfWidth;
  const height = y0 + halfHeight;
  const shapes: Shape[] = [];
  const contacts: PairContact[] = [];
  if (twoHalves) {
    shapes.push({
      name: "upper",
      outline: rectangle(0, width, y0, height),
      material: "mold",
      initial: mold.upperTemperature,
    });
    contacts.push({ between: ["block", "upper"], conductance: PARTING_LINE });
  }
  const plate = (
    name: string,
    p: { thickness: number; distance: number; width: number | null; contact: number },
  ) => {
    const from = depth + p.distance;
    const to = Math.min(from + p.thickness, halfHeight);
    const half = Math.min((p.width ?? Number.POSITIVE_INFINITY) / 2, halfWidth);
    // a plate narrower than the block lies behind the middle of the row
    const [left, right] = wholeRow ? [x0 - half, x0 + half] : [0, half];
    shapes.push({
      name,
      outline: rectangle(left, right, y0 + from, y0 + to),
      material: name,
      initial: mold.upperTemperature,
      contact: p.contact,
    });
    if (!twoHalves) return;
    const other = `${name} below`;
    shapes.push({
      name: other,
      outline: rectangle(left, right, y0 - to, y0 - from),
      material: name,
      initial: mold.temperature,
      contact: p.contact,
    });
  };
  mold.inserts.forEach((p, i) => {
    plate(`plate ${i + 1}`, p);
  });
  if (mold.back) plate("back", mold.back);
  const bodies: string[] = [];
  centers.forEach((x, k) => {
    const name = k === 0 ? "bait" : `bait ${k + 1}`;
    bodies.push(name);
    shapes.push({
      name,
      outline: stationOutline(station, [x0 + x, y0]),
      material: "plastic",
      initial: shot.temperature,
      contact: mold.contact,
    });
  });
  const outerBack = (mold.back && around.back) || around.outside;
  const mirrors: Side[] = [
    ...(wholeRow ? [] : ["left" as const]),
    ...(twoHalves ? [] : ["bottom" as const]),
  ];
  const insulated = { kind: "insulated" } as const;
  const problem: Omit<HeatProblem, "stages"> = {
    frame: "section",
    materials: materialsOf(scenario),
    block: { width, height, material: "mold", initial: mold.temperature },
    shapes,
    contacts,
    boundary: {
      left: wholeRow ? around.outside : insulated,
      bottom: twoHalves ? outerBack : insulated,
      right: around.outside,
      top: outerBack,
    },
    mirrors,
    ends: { length: mold.length, ...around.ends },
    probes: sectionProbes(twoHalves),
  };
  return { problem, bodies };
}

function sectionProbes(twoHalves: boolean): Record<string, Probe> {
  const face = (region: string, neighbor: string): Probe => ({
    kind: "face",
    region,
    neighbor,
    of: "hottest",
  });
  return {
    hottest: { kind: "hottest", region: "bait" },
    mean: { kind: "mean", region: "bait" },
    skin: face("bait", "block"),
    wall: face("block", "bait"),
    ...(twoHalves
      ? { "skin above": face("bait", "upper"), "wall above": face("upper", "bait") }
      : {}),
  };
}

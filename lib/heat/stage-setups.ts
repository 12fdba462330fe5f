/** What each stage of a problem fills the grid and its surroundings with: what a stage leaves out goes on from before. */
import type { Boundary, HeatProblem, Side, Stage } from "./problem.ts";
import { type Setting, SIDES } from "./setting.ts";

const INSULATED: Boundary = { kind: "insulated" };

export interface StageSetup {
  readonly stage: Stage;
  readonly setting: Setting;
  /** Material of each region, also of those that are absent. */
  readonly material: readonly string[];
  /** New temperature of each region, K; undefined where it keeps its own. */
  readonly newT: readonly (number | undefined)[];
}

/**
 * The stages of a problem one after the other.
 *
 * @param regions names in the order of the grid
 * @param fresh the first stage starts every region at its initial temperature
 */
export function stageSetups(
  problem: HeatProblem,
  regions: readonly string[],
  fresh: boolean,
): StageSetup[] {
  const { block, shapes = [], layers = [] } = problem;
  const parts = block ? [block, ...shapes] : layers;
  const material = parts.map((p) => p.material);
  let boundary: Record<Side, Boundary> = {
    left: problem.boundary.left ?? INSULATED,
    right: problem.boundary.right ?? INSULATED,
    top: problem.boundary.top ?? INSULATED,
    bottom: problem.boundary.bottom ?? INSULATED,
  };
  let contacts: Record<string, number> = {};
  let before: Setting | undefined;
  return problem.stages.map((stage, k) => {
    boundary = { ...boundary, ...stage.boundary };
    contacts = { ...contacts, ...stage.contact };
    const newT: (number | undefined)[] = parts.map((p) =>
      fresh && k === 0 ? p.initial : undefined,
    );
    for (const refill of stage.refill ?? []) {
      const r = regions.indexOf(refill.name);
      newT[r] = refill.temperature;
      if (refill.material !== undefined) material[r] = refill.material;
    }
    const absent = new Set(stage.absent ?? []);
    const setting: Setting = {
      fill: material.map((m, r) => (absent.has(regions[r]) ? undefined : m)),
      boundary,
      exposed: stage.exposed ?? INSULATED,
      ends: problem.ends,
      contact: contactBetween(problem, regions, contacts),
    };
    // one and the same object where nothing changes: nothing has to be configured anew
    if (before === undefined || stage.contact !== undefined || !isAlike(setting, before))
      before = setting;
    return {
      stage,
      setting: before,
      material: [...material],
      newT,
    };
  });
}

function isAlike(a: Setting, b: Setting): boolean {
  return (
    a.exposed === b.exposed &&
    SIDES.every((side) => a.boundary[side] === b.boundary[side]) &&
    a.fill.every((material, region) => material === b.fill[region])
  );
}

/** Contact conductance between two regions, W/(m2 K); `changed`: by the stages so far. */
function contactBetween(
  problem: HeatProblem,
  regions: readonly string[],
  changed: Readonly<Record<string, number>>,
): (a: number, b: number) => number {
  const pairs = problem.contacts ?? [];
  return (a, b) => {
    const [low, high] = a < b ? [a, b] : [b, a];
    for (const { between, conductance } of pairs)
      if (
        (between[0] === regions[low] && between[1] === regions[high]) ||
        (between[1] === regions[low] && between[0] === regions[high])
      )
        return conductance;
    // a layer declares its contact toward the next; of two shapes the later one covers, so its contact counts
    const owner = problem.block ? high : low;
    const own = problem.block
      ? problem.shapes?.[owner - 1]?.contact
      : problem.layers?.[owner].contact;
    return changed[regions[owner]] ?? own ?? Number.POSITIVE_INFINITY;
  };
}

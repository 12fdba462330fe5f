/** Which hooks have a gap that clears the body. Lengths m. */
import type { Job } from "../../job/types.ts";
import type { Body } from "../../shape/body.ts";

interface HookFit {
  readonly name: string;
  readonly mass: number; // kg
  readonly gap: number;
  /** Of the gap, beyond the body; negative: the point stays inside. */
  readonly clear: number;
  readonly clears: boolean;
}

export interface HookFits {
  /** Where the point comes out, from the nose. */
  readonly at: number;
  /** Of the body that lies in the gap: from the shank to the back. */
  readonly inGap: number;
  /** The gap that is needed, clearance included. */
  readonly needed: number;
  readonly hooks: readonly HookFit[];
  /** The smallest and the largest of them that clear; null: none. */
  readonly smallest: string | null;
  readonly largest: string | null;
}

/** The gap of a hook spans from its shank to its point: it must take what of the body lies above the shank, and more. */
export function hookFits({ swim, bait }: Job, body: Body): HookFits {
  const at = swim.hook?.at ?? bait.length / 2;
  const { height, rise } = body.sizeAt(at);
  const shank = -(swim.hook?.below ?? 0);
  const inGap = Math.max(0, rise + height / 2 - shank);
  const needed = inGap + swim.clearance;
  const rigged = swim.hook;
  const all = [
    ...(rigged?.gap ? [{ name: rigged.name, mass: rigged.mass, gap: rigged.gap }] : []),
    ...swim.otherHooks,
  ];
  const hooks = all.map(
    (hook): HookFit => ({ ...hook, clear: hook.gap - inGap, clears: hook.gap >= needed }),
  );
  const fitting = hooks.filter(({ clears }) => clears).sort((a, b) => a.gap - b.gap);
  return {
    at,
    inGap,
    needed,
    hooks,
    smallest: fitting[0]?.name ?? null,
    largest: fitting[fitting.length - 1]?.name ?? null,
  };
}

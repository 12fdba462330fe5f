/** What the bare numbers of the answer to `mix` are. */
import type { KindsOf } from "../../answers/kinds.ts";
import type { MixContent } from "./mix.ts";

export const mixKinds: KindsOf<MixContent> = {
  at: "temperature",
  byMass: "count",
  byVolume: "count",
  coarsestScale: "mass",
  mass: "mass",
  massA: "mass",
  massB: "mass",
  smallestBatch: "mass",
  mixedUp: "ratio",
  ratioError: "ratio",
  waste: "ratio",
  tolerance: "ratio",
  shots: "count",
  bait: "mass",
  shot: "mass",
  plain: "mass",
  color: "mass",
  hardener: "mass",
  softener: "mass",
  glitter: "mass",
  volume: "volume",
};

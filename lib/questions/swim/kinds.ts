/** What the bare numbers of the answer to `swim` are. */
import type { KindsOf } from "../../answers/kinds.ts";
import type { SwimContent } from "./swim.ts";

export const swimKinds: KindsOf<SwimContent> = {
  density: "density",
  value: "count",
  water: "density",
  takes: "duration",
  at: "length",
  clear: "length",
  gap: "length",
  high: "count",
  inGap: "length",
  low: "count",
  to: "length",
  up: "length",
  mass: "mass",
  needed: "length",
  netMass: "mass",
  hollow: "ratio",
  salt: "ratio",
  share: "ratio",
  speed: "speed",
  volume: "volume",
};

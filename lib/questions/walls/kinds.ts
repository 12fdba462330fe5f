/** What the bare numbers of the answer to `walls` are. */
import type { KindsOf } from "../../answers/kinds.ts";
import type { WallsContent } from "./walls.ts";

export const wallsKinds: KindsOf<WallsContent> = {
  shots: "count",
  lastDemold: "duration",
  least: "length",
  most: "length",
  mostWithBadLuck: "length",
  recommended: "length",
  inLayers: "length",
  wall: "length",
  mass: "mass",
  glass: "temperature",
  pourLimit: "temperature",
  pourPeak: "temperature",
  wallLimit: "temperature",
  wallPeak: "temperature",
  settledPeak: "temperature",
  margin: "temperatureDifference",
};

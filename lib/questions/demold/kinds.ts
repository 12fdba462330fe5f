/** What the bare numbers of the answer to `demold` are. */
import type { KindsOf } from "../../answers/kinds.ts";
import type { Demold } from "./demold.ts";

export const demoldKinds: KindsOf<Demold> = {
  to: "count",
  quickTime: "duration",
  sprueUntil: "duration",
  takes: "duration",
  time: "duration",
  times: "duration",
  height: "length",
  standIn: "length",
  thickness: "length",
  width: "length",
  x: "length",
  y: "length",
  cure: "ratio",
  difference: "ratio",
  share: "ratio",
  hottest: "temperature",
  limit: "temperature",
  mean: "temperature",
  skin: "temperature",
  temperature: "temperature",
  wall: "temperature",
  wallLimit: "temperature",
  wallPeak: "temperature",
};

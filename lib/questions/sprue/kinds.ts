/** What the bare numbers of the answer to `sprue` are. */
import type { KindsOf } from "../../answers/kinds.ts";
import type { SprueContent } from "./sprue.ts";

export const sprueKinds: KindsOf<SprueContent> = {
  to: "count",
  need: "duration",
  opensAt: "duration",
  opensPreheated: "duration",
  takes: "duration",
  until: "duration",
  barAbove: "length",
  diameterInPrinciple: "length",
  thickness: "length",
  baitMass: "mass",
  sprueMass: "mass",
  left: "ratio",
  share: "ratio",
  shrinkLeft: "ratio",
  skinShare: "ratio",
  unfed: "ratio",
  below: "temperature",
  center: "temperature",
  mean: "temperature",
  moldTemperature: "temperature",
  preheat: "temperature",
  skin: "length",
};

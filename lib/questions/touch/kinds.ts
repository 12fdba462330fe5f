/** What the bare numbers of the answer to `touch` are. */
import type { KindsOf } from "../../answers/kinds.ts";
import type { TouchContent } from "./touch.ts";

export const touchKinds: KindsOf<TouchContent> = {
  contact: "conductance",
  to: "count",
  opening: "duration",
  openingOfBar: "duration",
  contactShare: "ratio",
  warmer: "temperatureDifference",
  skinPeakAfter: "duration",
  takes: "duration",
  times: "duration",
  share: "ratio",
  ambient: "temperature",
  core: "temperature",
  least: "duration",
  limit: "temperature",
  mean: "temperature",
  most: "duration",
  skin: "temperature",
};

/** What the bare numbers of the answer to `fit` are. */
import type { KindsOf } from "../../answers/kinds.ts";
import type { FitContent } from "./fit.ts";

export const fitKinds: KindsOf<FitContent> = {
  readings: "count",
  odd: "count",
  middle: "ratio",
  row: "ratio",
  time: "duration",
  share: "ratio",
  model: "temperature",
  read: "temperature",
  residual: "temperatureDifference",
};

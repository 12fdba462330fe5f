/** What the bare numbers of the answer to `shots` are. */
import type { KindsOf } from "../../answers/kinds.ts";
import type { Shots } from "./shots.ts";

export const shotsKinds: KindsOf<Shots> = {
  cycles: "count",
  from: "count",
  handsBindFrom: "count",
  high: "count",
  low: "count",
  molds: "count",
  number: "count",
  perHour: "count",
  perSession: "count",
  to: "count",
  cycle: "duration",
  demold: "duration",
  first: "duration",
  open: "duration",
  settled: "duration",
  sprueUntil: "duration",
  takes: "duration",
  timer: "duration",
  difference: "ratio",
  share: "ratio",
  hottest: "temperature",
  hottestByTimer: "temperature",
  wallBefore: "temperature",
  wallLimit: "temperature",
  wallPeak: "temperature",
};

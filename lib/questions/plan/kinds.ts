/** What the bare numbers of the answer to `plan` are. */
import type { KindsOf } from "../../answers/kinds.ts";
import type { PlanContent } from "./plan.ts";

export const planKinds: KindsOf<PlanContent> = {
  start: "duration",
  lasts: "duration",
  late: "duration",
  at: "duration",
  heated: "duration",
  hot: "duration",
  emptied: "duration",
  injected: "duration",
  mayOpen: "duration",
  likely: "duration",
  surely: "duration",
  opened: "duration",
  mass: "mass",
  bait: "mass",
  shot: "mass",
  plain: "mass",
  color: "mass",
  hardener: "mass",
  softener: "mass",
  glitter: "mass",
  // amounts of the shop's own money among them
  number: "count",
  from: "count",
  to: "count",
  mold: "count",
  ofMold: "count",
  shots: "count",
  each: "count",
  plastic: "count",
  extras: "count",
  labor: "count",
};

/** What the bare numbers of the answer to `layer` are. */
import type { KindsOf } from "../../answers/kinds.ts";
import type { Layered } from "./layer.ts";

export const layerKinds: KindsOf<Layered> = {
  noMomentFor: "count",
  number: "count",
  bond: "duration",
  close: "duration",
  from: "duration",
  handling: "duration",
  injectAt: "duration",
  open: "duration",
  "reason.skin": "duration",
  set: "duration",
  startClosing: "duration",
  takes: "duration",
  times: "duration",
  to: "duration",
  depth: "length",
  remelt: "length",
  thickness: "length",
  along: "ratio",
  healing: "ratio",
  share: "ratio",
  hottest: "temperature",
  // of every color: two, and six more at most
  ...Object.fromEntries(Array.from({ length: 8 }, (_, i) => [`hottest ${i}`, "temperature"])),
  joint: "temperature",
  mean: "temperature",
  moldTemperature: "temperature",
  secondTemperature: "temperature",
  skin: "temperature",
  surface: "temperature",
  temperature: "temperature",
  wall: "temperature",
  wallPeak: "temperature",
};

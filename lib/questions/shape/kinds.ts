/** What the bare numbers of the answer to `shape` are. */
import type { KindsOf } from "../../answers/kinds.ts";
import type { ShapeContent } from "./shape.ts";

export const shapeKinds: KindsOf<ShapeContent> = {
  area: "area",
  count: "count",
  joined: "count",
  measured: "count",
  opens: "duration",
  across: "length",
  along: "length",
  at: "length",
  height: "length",
  length: "length",
  place: "length",
  rise: "length",
  thickness: "length",
  up: "length",
  width: "length",
  difference: "ratio",
};

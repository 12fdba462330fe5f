/** Every reference case that Castclock ships. */
import benchmarks from "../../data/reference/benchmarks.json" with { type: "json" };
import coolingBodies from "../../data/reference/cooling-bodies.json" with { type: "json" };
import cure from "../../data/reference/cure.json" with { type: "json" };
import freezing from "../../data/reference/freezing.json" with { type: "json" };
import halfSpaces from "../../data/reference/half-spaces.json" with { type: "json" };
import periodic from "../../data/reference/periodic.json" with { type: "json" };
import runaway from "../../data/reference/runaway.json" with { type: "json" };
import sections from "../../data/reference/sections.json" with { type: "json" };
import shots from "../../data/reference/shots.json" with { type: "json" };
import type { ReferenceCase } from "./reference-case.ts";

export const referenceCases = [
  ...coolingBodies,
  ...halfSpaces,
  ...benchmarks,
  ...freezing,
  ...runaway,
  ...cure,
  ...periodic,
  ...shots,
  ...sections,
] as unknown as readonly ReferenceCase[];

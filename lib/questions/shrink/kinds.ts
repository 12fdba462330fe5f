/** What the bare numbers of the answer to `shrink` are. */
import type { KindsOf } from "../../answers/kinds.ts";
import type { ShrinkContent } from "./shrink.ts";

export const shrinkKinds: KindsOf<ShrinkContent> = {};

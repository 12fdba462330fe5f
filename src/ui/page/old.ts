/** Whether what a working gave still holds for what is set, and why not. */
import type { RunPhase } from "../../notebook/run/types.ts";
import type { Old } from "../outputs/old-word.tsx";
import type { OpenPage } from "./open-page.ts";

/** Why a figure is old, by what the page is doing. */
const OLD_WORDS: Readonly<Record<RunPhase, string>> = {
  idle: "new one coming",
  running: "new one coming",
  done: "new one coming",
  stopped: "stopped before the new one",
  failed: "the new one failed",
};

/** A dial or the page itself has to be mended before anything can be worked out. */
export function isBlocked(open: OpenPage): boolean {
  return open.dials.value.problems.length > 0 || open.page.value.problems.length > 0;
}

/** Why the outputs of a working are old; undefined while they are not. */
export function oldOf(open: OpenPage, working: number): Old {
  if (isBlocked(open)) return "mend the dial first";
  const { phase, staleFrom } = open.run.value;
  return staleFrom !== undefined && working >= staleFrom ? OLD_WORDS[phase] : undefined;
}

/** What a page's worker says, checked: it is a stranger's. */
import type { Problem } from "../../../lib/units/problem.ts";
import { Spender } from "../outputs/budget.ts";
import { checkOutput, LIMITS, type Output } from "../outputs/output.ts";
import type { Page } from "../page/types.ts";
import type { RunProblem } from "./types.ts";

export type RunMessage =
  | { readonly kind: "ready" }
  /** The worker's answer to `still`: it is idle. */
  | { readonly kind: "still" }
  | {
      readonly kind: "begin";
      readonly run: number;
      readonly working: number;
      /** What the working before has shown, not yet checked: `checkedList`. */
      readonly done?: unknown;
    }
  | {
      readonly kind: "end";
      readonly run: number;
      /** What was shown, not yet checked: `checkedOutputs`. */
      readonly given: unknown;
      readonly milliseconds: number;
      readonly problem?: RunProblem;
    };

/** Undefined for anything that is not a message of ours. `lineOffset` brings lines of the script to lines of the page. */
export function readMessage(
  given: unknown,
  workings: number,
  lineOffset: number,
): RunMessage | undefined {
  if (typeof given !== "object" || given === null) return undefined;
  const message = given as Record<string, unknown>;
  if (message["kind"] === "ready") return { kind: "ready" };
  if (message["kind"] === "still") return { kind: "still" };
  const run = message["run"];
  if (typeof run !== "number") return undefined;
  if (message["kind"] === "begin") {
    const working = message["working"];
    if (!isIndex(working, workings)) return undefined;
    return { kind: "begin", run, working, done: message["done"] };
  }
  if (message["kind"] !== "end") return undefined;
  const problem = readFailure(message["failure"], workings, lineOffset);
  const took = message["milliseconds"];
  return {
    kind: "end",
    run,
    given: message["outputs"],
    milliseconds: typeof took === "number" && took >= 0 ? took : 0,
    ...(problem && { problem }),
  };
}

/** Every problem belongs to a working: by its line, else to the first. */
export function located(problem: RunProblem, page: Page): RunProblem {
  if (problem.working !== undefined || page.workings.length === 0) return problem;
  const { line = 0 } = problem;
  const at = page.workings.findIndex((w) => line >= w.from && line <= w.to);
  return { ...problem, working: Math.max(at, 0) };
}

function isIndex(given: unknown, count: number): given is number {
  return typeof given === "number" && Number.isInteger(given) && given >= 0 && given < count;
}

/** Checked work between two turns of the browser. ms */
const SLICE_MS = 12;

/** Lets whoever waits have a turn; left out, all is done at once. */
type Pause = () => Promise<void>;

/**
 * The outputs up to the first impossible one, which is named; as much of them as a page may draw. In slices, so that
 * checking holds nobody up.
 */
export async function checkedOutputs(
  given: unknown,
  workings: number,
  pause?: Pause,
): Promise<{ outputs: Output[][]; problem?: RunProblem }> {
  const outputs: Output[][] = Array.from({ length: workings }, () => []);
  if (!Array.isArray(given) || given.length !== workings) {
    return { outputs, problem: { code: "output", detail: "nothing that can be shown" } };
  }
  const spender = new Spender();
  let count = 0;
  let bytes = 0;
  let since = performance.now();
  for (let working = 0; working < workings; working++) {
    const list: unknown = given[working];
    if (!Array.isArray(list)) continue;
    for (const one of list as unknown[]) {
      const check = checkOutput(one);
      if (!check.ok) {
        const [first] = check.problems;
        const detail = first ? `${first.path}: ${first.why}`.replace(/^: /, "") : "";
        return { outputs, problem: { code: "output", working, detail } };
      }
      bytes += check.extent.bytes;
      if (++count > LIMITS.outputs || bytes > LIMITS.bytes) {
        return { outputs, problem: { code: "output", working, detail: "too much in all" } };
      }
      outputs[working]?.push(...spender.afford(check.output));
      if (pause && performance.now() - since > SLICE_MS) {
        await pause();
        since = performance.now();
      }
    }
  }
  return { outputs };
}

/** Outputs of one working, or undefined when one of them is impossible: then the end of the run says so. */
export function checkedList(given: unknown): readonly Output[] | undefined {
  if (!Array.isArray(given) || given.length > LIMITS.outputs) return undefined;
  const list: Output[] = [];
  const spender = new Spender();
  for (const one of given as unknown[]) {
    const check = checkOutput(one);
    if (!check.ok) return undefined;
    list.push(...spender.afford(check.output));
  }
  return list;
}

function readFailure(given: unknown, workings: number, lineOffset: number): RunProblem | undefined {
  if (typeof given !== "object" || given === null) return undefined;
  const { working, detail, line, problems, memory } = given as Record<string, unknown>;
  const read = readProblems(problems);
  return {
    code: memory === true ? "memory" : "error",
    detail: typeof detail === "string" ? detail.slice(0, 1200) : "",
    ...(isIndex(working, workings) && { working }),
    ...(typeof line === "number" && line > lineOffset && { line: line - lineOffset }),
    ...(read.length > 0 && { problems: read }),
  };
}

function readProblems(given: unknown): Problem[] {
  if (!Array.isArray(given)) return [];
  const problems: Problem[] = [];
  for (const one of given.slice(0, 20) as unknown[]) {
    if (typeof one !== "object" || one === null) continue;
    const { code, path, given: typed, least, most, possible, suggestion } = one as Problem;
    if (typeof code !== "string" || typeof path !== "string") continue;
    problems.push({
      code: code.slice(0, 80),
      path: path.slice(0, 200),
      ...(["string", "number", "boolean"].includes(typeof typed) && { given: typed ?? null }),
      ...(typeof least === "string" && { least: least.slice(0, 200) }),
      ...(typeof most === "string" && { most: most.slice(0, 200) }),
      ...(typeof suggestion === "string" && { suggestion: suggestion.slice(0, 200) }),
      ...(Array.isArray(possible) && {
        possible: possible.filter((p) => typeof p === "string").slice(0, 20),
      }),
    });
  }
  return problems;
}

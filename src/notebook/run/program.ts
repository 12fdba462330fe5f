/**
 * All workings of a page as one program, from top to bottom. Line N of the page is line N of the program, so
 * that what goes wrong can be said at its line.
 */

import type { DialReading } from "../dials/types.ts";
import { LIMITS } from "../outputs/output.ts";
import type { Page } from "../page/types.ts";
import type { ProgramFacts } from "../sandbox/prelude.ts";
import { transpile } from "./transpile.ts";
import type { RunProblem } from "./types.ts";

export interface MadeProgram {
  /** The whole script of a worker: the prelude and the program as its argument. */
  readonly script: string;
  /** Line of the script = line of the page + this. */
  readonly lineOffset: number;
  readonly workings: number;
}

type ProgramOrProblem = MadeProgram | { readonly problem: RunProblem };

/** What the build knows about the prelude: its text, and the library's names in it. */
export interface Prelude {
  readonly prelude: string;
  readonly names: readonly string[];
  readonly version: string;
}

/** Names under which the program gets what it needs, unlikely in a page. */
const HANDS = "library$, begin$, show, job, quick, dials$";

export async function makeProgram(page: Page, prelude: Prelude): Promise<ProgramOrProblem> {
  const lines: string[] = [];
  for (const working of page.workings) {
    const made = await transpile(working.body);
    if ("problem" in made) {
      return {
        problem: {
          code: "syntax",
          working: working.number,
          line: working.bodyLine + made.line - 1,
          detail: made.problem,
        },
      };
    }
    while (lines.length < working.bodyLine - 2) lines.push("");
    lines.push(`begin$(${working.number});`);
    lines.push(...made.code.replace(/\n$/, "").split("\n"));
  }
  const text = lines.join("\n");
  const library = prelude.names.filter((name) => mentions(text, name));
  const dials = page.dials.map((d) => d.name);
  // one line before the page's first: an outer scope for the library and the dials, an inner one for the page
  const head = [
    `function (${HANDS}) {`, // not an arrow: its `this` would be the worker's own

    library.length > 0 ? ` const { ${library.join(", ")} } = library$;` : "",
    dials.length > 0 ? ` const { ${dials.join(", ")} } = dials$;` : "",
    " {",
  ].join("");
  const before = `"use strict";\n(${prelude.prelude})(\n`;
  // the facts take one line, the head the next
  const lineOffset = before.split("\n").length + 1;
  const facts: ProgramFacts = {
    workings: page.workings.length,
    firstLine: lineOffset + 1,
    lastLine: lineOffset + lines.length,
    version: prelude.version,
    limits: {
      outputs: LIMITS.outputs,
      values: LIMITS.values,
      bytes: LIMITS.bytes,
      depth: LIMITS.depth,
    },
  };
  const script = `${before}${JSON.stringify(facts)},\n${head}\n${text}\n}})`;
  return { script, lineOffset, workings: page.workings.length };
}

/** Whether two pages make one and the same program: they differ in prose and values of dials at most. */
export function sameProgram(one: Page, other: Page): boolean {
  return (
    one.workings.length === other.workings.length &&
    one.dials.length === other.dials.length &&
    one.dials.every((dial, i) => dial.name === other.dials[i]?.name) &&
    one.workings.every(({ body, bodyLine }, i) => {
      const same = other.workings[i];
      return body === same?.body && bodyLine === same.bodyLine;
    })
  );
}

/** Whether a name occurs in the text as a word of its own. */
export function mentions(text: string, name: string): boolean {
  // a member of something is another name, but for three dots, which spread it
  return new RegExp(`(?<![\\w$]|(?<!\\.\\.)\\.)${name}(?![\\w$])`).test(text);
}

/** The values that the program gets, or undefined while a dial can't be read. */
export function dialValues(
  readings: readonly DialReading[],
): Record<string, number | string | boolean> | undefined {
  const values: Record<string, number | string | boolean> = {};
  for (const { dial, value } of readings) {
    if (value === undefined) return undefined;
    values[dial.name] = value;
  }
  return values;
}

/** Whether a run at the quick setting can differ from the full one. */
export function usesQuick(page: Page): boolean {
  return page.workings.some((w) => mentions(w.body, "quick"));
}

interface Touched {
  /** True when another job was chosen, or the same one changed. */
  readonly job?: boolean;
}

/**
 * The first working that may show something else after a change; the number of workings when none does.
 * Later ones may all depend on it: a page is one program.
 */
export function firstTouched(before: Page, after: Page, { job = false }: Touched = {}): number {
  const count = Math.max(before.workings.length, after.workings.length);
  const changed = changedDials(before, after);
  let touched = after.workings.findIndex((working, i) => {
    if (working.body !== before.workings[i]?.body) return true;
    if (changed.some((name) => mentions(working.body, name))) return true;
    if (job && after.dials.some((d) => d.value === undefined && mentions(working.body, d.name)))
      return true;
    const jobChanged = job || changed.some((name) => isOfJob(before, name) || isOfJob(after, name));
    return jobChanged && mentions(working.body, "job");
  });
  if (touched < 0) touched = after.workings.length;
  return after.workings.length < before.workings.length ? Math.min(touched, count) : touched;
}

function isOfJob(page: Page, name: string): boolean {
  return page.dials.some((d) => d.name === name && d.job !== undefined);
}

/** Names of dials that were added, taken out, or stand at another value. */
export function changedDials(before: Page, after: Page): string[] {
  const old = new Map(before.dials.map((d) => [d.name, d]));
  const changed: string[] = [];
  for (const dial of after.dials) {
    const was = old.get(dial.name);
    old.delete(dial.name);
    if (was === undefined || was.kind !== dial.kind || was.value !== dial.value) {
      changed.push(dial.name);
    } else if (was.job !== dial.job || was.start !== dial.start) changed.push(dial.name);
  }
  return [...changed, ...old.keys()];
}

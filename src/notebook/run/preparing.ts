/** All that a run needs, from what is at hand or after it was loaded: the program's script and the values it is sent. */
import { transpiled } from "virtual:notebooks";
import { fullNames, names, prelude, shopNames, version } from "virtual:sandbox";
import { readDials } from "../dials/dials.ts";
import type { Page } from "../page/types.ts";
import type { RunRequest } from "../sandbox/prelude.ts";
import { changesJob, jobReaderAtHand, loadJobReader, openJobAtHand } from "./job-at-hand.ts";
import {
  dialValues,
  type MadeProgram,
  makeProgram,
  mentions,
  type Prelude,
  sameProgram,
} from "./program.ts";
import { seedLater, seedTranspiled } from "./transpile.ts";
import type { RunProblem } from "./types.ts";

seedTranspiled(transpiled);
seedLater(async () => (await import("virtual:workings")).transpiled);

export interface RunGiven {
  readonly page: Page;
  /** YAML of the job that the page reads. */
  readonly jobText?: string;
  readonly quick?: boolean;
}

/** All that a run needs, or why there can be none. */
export type Hands =
  | { readonly program: MadeProgram; readonly request: RunRequest }
  | { readonly problem: RunProblem };

/** Makes programs and requests; remembers the program that it made last. */
export class RunPreparer {
  #last: { readonly page: Page; readonly made: MadeProgram } | undefined;

  /** Undefined: something has to be loaded or made first. */
  atHand(given: RunGiven, number: number): Hands | undefined {
    const last = this.#last;
    if (last === undefined || !sameProgram(last.page, given.page)) return undefined;
    const request = requestAtHand(given, number);
    if (request === undefined || "problem" in request) return request;
    return { program: last.made, request };
  }

  /** A part of the site that can't be loaded is a problem like another: it must not leave a run under way for ever. */
  async gather(given: RunGiven, number: number): Promise<Hands> {
    return this.atHand(given, number) ?? (await this.#made(given, number).catch(faultOf));
  }

  async #made(given: RunGiven, number: number): Promise<Hands> {
    const request = requestAtHand(given, number) ?? (await requestFor(given, number));
    if ("problem" in request) return request;
    const program = await makeProgram(given.page, await preludeFor(given.page));
    if ("problem" in program) return program;
    this.#last = { page: given.page, made: program };
    return { program, request };
  }
}

const faultOf = (error: unknown): Hands => ({
  problem: { code: "fault", detail: error instanceof Error ? error.message : String(error) },
});

/** As much of the library as the page names. */
async function preludeFor(page: Page): Promise<Prelude> {
  const mentioned = (wanted: readonly string[]) =>
    page.workings.some(({ body }) => wanted.some((name) => mentions(body, name)));
  if (mentioned(fullNames)) return await import("virtual:sandbox-full");
  return mentioned(shopNames) ? await import("virtual:sandbox-shop") : { prelude, names, version };
}

/** Loads what is needed to read the job, then as `requestAtHand`. */
async function requestFor(
  given: RunGiven,
  run: number,
): Promise<RunRequest | { problem: RunProblem }> {
  await loadJobReader();
  const request = requestAtHand(given, run);
  if (request === undefined) throw new Error("the reader of jobs is loaded");
  return request;
}

/** Undefined: the reader of jobs is needed for it, and not loaded. */
function requestAtHand(
  given: RunGiven,
  run: number,
): RunRequest | { problem: RunProblem } | undefined {
  const open = given.jobText === undefined ? null : openJobAtHand(given.jobText);
  if (open === undefined) return undefined;
  if (open && "problems" in open) {
    return { problem: { code: "error", detail: "the job can't be read", problems: open.problems } };
  }
  const { readings, problems } = readDials(given.page, open ?? undefined);
  const [first] = problems;
  const dials = dialValues(readings);
  if (dials === undefined) {
    return { problem: { code: "error", detail: "a dial can't be read", line: first?.line ?? 1 } };
  }
  let job: unknown = open?.reading.job ?? null;
  if (open && changesJob(given.page)) {
    const reader = jobReaderAtHand();
    if (reader === undefined) return undefined;
    const forPage = reader.jobForPage(given.page, open);
    if ("problems" in forPage) {
      const detail = "the job can't be read with these dials";
      return { problem: { code: "error", detail, problems: forPage.problems } };
    }
    job = forPage.job;
  }
  return { run, dials, job, quick: given.quick ?? false };
}

/**
 * Runs an open page in the browser. Two workers for a program's text: one for quick runs while a dial is turned, one for
 * full runs, so that the next turn never waits for a full run that was begun when the dial rested. A turned dial sends
 * new values to a worker that is there, a changed text starts a new one. The newest run wins.
 */

import { transpiled } from "virtual:notebooks";
import { fullNames, names, prelude, shopNames, version } from "virtual:sandbox";
import { readDials } from "../dials/dials.ts";
import { withDial } from "../dials/set-dial.ts";
import { stepDial } from "../dials/step-dial.ts";
import type { Output } from "../outputs/output.ts";
import { readPage } from "../page/page.ts";
import type { Page, RunProblem, RunState } from "../page/types.ts";
import type { RunRequest } from "../sandbox/prelude.ts";
import { changesJob, jobReaderAtHand, loadJobReader, openJobAtHand } from "./job-at-hand.ts";
import { checkedList, located } from "./messages-of-run.ts";
import {
  changedDials,
  dialValues,
  firstTouched,
  type MadeProgram,
  makeProgram,
  mentions,
  type Prelude,
  sameProgram,
  usesQuick,
} from "./program.ts";
import { type EndOfRun, ProgramWorker, type RunEars, type RunnerLimits } from "./program-worker.ts";
import { seedTranspiled } from "./transpile.ts";

export type { RunnerLimits } from "./program-worker.ts";

seedTranspiled(transpiled);

export interface RunGiven {
  readonly page: Page;
  /** YAML of the job that the page reads. */
  readonly jobText?: string;
  readonly quick?: boolean;
}

const LIMITS: RunnerLimits = { milliseconds: 45_000, patience: 400, messages: 500 };
/** Sooner than this nobody sees that a figure was old: a quick run is announced only if it lasts longer. */
const UNSEEN_MS = 50;
/** Once a page rests, the quick runs that the next turn may ask for are done beforehand, for this long. */
const REHEARSED_MS = 600;
/** A page whose full run takes longer than this is not rehearsed, and a rehearsal that does is ended. */
const TOO_LONG_MS = 3000;
/** The drawing of an answer goes first: of a full one, of a quick one. */
const DRAWN_MS = 300;
const DRAWN_QUICK_MS = 25;

interface Wanted {
  readonly given: RunGiven;
  readonly number: number;
}

/** All that a run needs, or why there can be none. */
type Hands =
  | { readonly program: MadeProgram; readonly request: RunRequest }
  | { readonly problem: RunProblem };

interface Current extends Wanted {
  readonly worker: ProgramWorker;
  /** What workings that are done have shown, until it is painted. */
  readonly done: Map<number, unknown>;
  working?: number;
}

export class PageRunner {
  readonly #full: ProgramWorker;
  readonly #swift: ProgramWorker;
  readonly #listeners = new Set<(state: RunState) => void>();
  #state: RunState = { phase: "idle", run: 0, outputs: [] };
  #current: Current | undefined;
  #waiting: Wanted | undefined;
  /** The last that finished. */
  #finished: RunGiven | undefined;
  #program: { readonly page: Page; readonly made: MadeProgram } | undefined;
  #closed = false;
  #announcing: ReturnType<typeof setTimeout> | undefined;

  constructor(limits: Partial<RunnerLimits> = {}) {
    const all = { ...LIMITS, ...limits };
    this.#full = new ProgramWorker(all);
    this.#swift = new ProgramWorker(all);
    this.#full.prepare();
  }

  get state(): RunState {
    return this.#state;
  }

  /** Called with every new state; the answer ends it. */
  subscribe(listener: (state: RunState) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** Whether the page's workings ask for the quick setting at all. */
  usesQuick(page: Page): boolean {
    return usesQuick(page);
  }

  /** Runs the page; an earlier run that is not finished no longer counts. The answer is the run's number. */
  run(given: RunGiven): number {
    const number = this.#state.run + 1;
    const { staleFrom } = this.#state;
    const touched = this.#touched(given);
    const wanted = { given, number };
    this.#waiting = wanted;
    this.#state = {
      phase: "running",
      run: number,
      outputs: this.#state.outputs,
      staleFrom: Math.min(staleFrom ?? touched, touched),
    };
    // counted from the first turn: a dial that is turned on and on must not keep its old figures unmarked
    if (given.quick) this.#announcing ??= setTimeout(() => this.#announce(), UNSEEN_MS);
    else this.#announce();
    const worker = given.quick ? this.#swift : this.#full;
    const other = given.quick ? this.#full : this.#swift;
    this.#current = undefined;
    other.release();
    worker.release(() => void this.#take(wanted, worker));
    return number;
  }

  /** Ends the running program. What was shown before stays, marked as old. */
  stop(): void {
    const { worker } = this.#current ?? {};
    if (worker === undefined && this.#waiting === undefined) return;
    this.#waiting = undefined;
    this.#current = undefined;
    worker?.end();
    this.#set({ ...this.#withoutWorking(), phase: "stopped" });
  }

  /** The page was left. */
  close(): void {
    this.#closed = true;
    clearTimeout(this.#announcing);
    this.#waiting = undefined;
    this.#current = undefined;
    this.#full.close();
    this.#swift.close();
    this.#listeners.clear();
  }

  #touched(given: RunGiven): number {
    const before = this.#finished;
    if (before === undefined) return 0;
    const job = before.jobText !== given.jobText;
    const quick = (before.quick ?? false) !== (given.quick ?? false) && usesQuick(given.page);
    return quick ? 0 : firstTouched(before.page, given.page, { job });
  }

  /** The worker is free: it takes the run, unless a newer one is wanted by now. */
  async #take(wanted: Wanted, worker: ProgramWorker): Promise<void> {
    const { given, number } = wanted;
    const isWanted = () => this.#waiting === wanted && !this.#closed;
    if (!isWanted()) return;
    // most turns of a dial have all at hand and are sent before the sheet is drawn anew
    const hands =
      this.#atHand(given, number) ?? (await this.#gathered(given, number).catch(faultOf));
    if (!isWanted()) return;
    this.#waiting = undefined;
    if ("problem" in hands) {
      this.#fail(located(hands.problem, given.page));
      return;
    }
    const current: Current = { ...wanted, worker, done: new Map() };
    this.#current = current;
    worker.run(given.page, hands.program, hands.request, this.#earsFor(current));
  }

  #earsFor(current: Current): RunEars {
    return {
      began: (working, done) => {
        if (working > 0) current.done.set(working - 1, done);
        current.working = working;
      },
      ended: (end) => {
        const finish = () => {
          if (this.#current !== current) return;
          this.#current = undefined;
          this.#finish(current.given, end);
        };
        // the first time checking and drawing take long: the browser listens in between
        if (this.#finished === undefined) setTimeout(finish);
        else finish();
      },
      failed: (problem) => {
        this.#current = undefined;
        this.#fail(problem);
      },
      lasts: () => this.#paintDone(current),
    };
  }

  #atHand(given: RunGiven, number: number): Hands | undefined {
    const last = this.#program;
    if (last === undefined || !sameProgram(last.page, given.page)) return undefined;
    const request = requestAtHand(given, number);
    if (request === undefined || "problem" in request) return request;
    return { program: last.made, request };
  }

  async #gathered(given: RunGiven, number: number): Promise<Hands> {
    const request = requestAtHand(given, number) ?? (await requestFor(given, number));
    if ("problem" in request) return request;
    const program = await makeProgram(given.page, await preludeFor(given.page));
    if ("problem" in program) return program;
    this.#program = { page: given.page, made: program };
    return { program, request };
  }

  #finish(given: RunGiven, { outputs, milliseconds, problem }: EndOfRun): void {
    const run = this.#state.run;
    if (problem === undefined) {
      const before = this.#finished;
      this.#finished = given;
      const { shown, staleFrom } = given.quick
        ? withEarlier(outputs, this.#state.outputs)
        : { shown: outputs };
      this.#set({
        phase: "done",
        run,
        outputs: shown,
        milliseconds,
        ...(staleFrom !== undefined && { staleFrom }),
      });
      if (given.quick) {
        // a dial that was turned is likely to be turned on
        const turned = changedDials(before?.page ?? given.page, given.page);
        setTimeout(() => void this.#rehearse(neighborsOf(given, turned), run), DRAWN_QUICK_MS);
      } else if (milliseconds < TOO_LONG_MS && usesQuick(given.page))
        setTimeout(() => void this.#rehearse(startAndNeighbors(given), run), DRAWN_MS);
      return;
    }
    // up to the working that failed the numbers are new, from there on there are none
    this.#finished = undefined;
    this.#set({
      phase: "failed",
      run,
      outputs,
      milliseconds,
      problem: located(problem, given.page),
    });
  }

  /**
   * Runs beforehand what the next turn of a dial may ask for, for nobody: the turn then meets a worker that knows its way,
   * and often the answer itself.
   */
  async #rehearse(asked: Iterable<RunGiven>, run: number): Promise<void> {
    const isOver = () => this.#closed || this.#state.run !== run || this.#swift.isBusy;
    let left = REHEARSED_MS;
    let since = performance.now();
    for (const one of asked) {
      if (isOver()) return;
      const hands = await this.#gathered({ ...one, quick: true }, run).catch(faultOf);
      if (isOver() || "problem" in hands) return;
      // reading the page anew counts, too: it takes the turns of the sheet itself
      left -= performance.now() - since;
      const took = await new Promise<number | undefined>((resolve) => {
        let limit: ReturnType<typeof setTimeout> | undefined;
        const over = (milliseconds?: number) => {
          clearTimeout(limit);
          resolve(milliseconds);
        };
        // nobody waits for it: it may not keep a core busy until a run's own limit
        const giveUp = () => {
          if (!this.#closed && this.#state.run === run) this.#swift.end();
          over();
        };
        this.#swift.run(one.page, hands.program, hands.request, {
          began: () => {
            limit ??= setTimeout(giveUp, TOO_LONG_MS);
          },
          ended: ({ milliseconds }) => over(milliseconds),
          failed: () => over(),
          lasts: () => {},
        });
      });
      left -= took ?? left;
      if (left <= 0) return;
      since = performance.now();
    }
  }

  #fail(problem: RunProblem): void {
    const { run, outputs, staleFrom } = this.#state;
    this.#set({ phase: "failed", run, outputs, staleFrom: staleFrom ?? 0, problem });
  }

  /** A run that lasts is painted as far as it is done, and the page says which working it is at. */
  #paintDone(current: Current): void {
    const { working } = current;
    if (working === undefined || this.#current !== current) return;
    const outputs = current.given.page.workings.map((_, i) => this.#state.outputs[i] ?? []);
    let painted = false;
    for (const [number, shown] of current.done) {
      const list = checkedList(shown);
      if (list === undefined) continue;
      outputs[number] = list;
      painted = true;
    }
    current.done.clear();
    const paint = () => {
      if (this.#current === current && this.#state.phase === "running")
        this.#set({ ...this.#state, outputs, working, staleFrom: working });
    };
    if (painted) setTimeout(paint);
    else if (this.#state.working !== working) this.#set({ ...this.#state, working });
  }

  #withoutWorking(): RunState {
    const { working: _, ...rest } = this.#state;
    return rest;
  }

  #set(state: RunState): void {
    this.#state = state;
    this.#announce();
  }

  #announce(): void {
    clearTimeout(this.#announcing);
    this.#announcing = undefined;
    const state = this.#state;
    for (const listener of this.#listeners) listener(state);
  }
}

function* startAndNeighbors(given: RunGiven): Generator<RunGiven> {
  yield given;
  const names = given.page.dials.map((dial) => dial.name);
  yield* neighborsOf(given, names);
}

/** The page with dials one step up or down: made one by one, as they are run. */
function* neighborsOf(given: RunGiven, names: readonly string[]): Generator<RunGiven> {
  const open = given.jobText === undefined ? undefined : openJobAtHand(given.jobText);
  if (open && "problems" in open) return;
  for (const reading of readDials(given.page, open).readings) {
    const { name } = reading.dial;
    if (!names.includes(name)) continue;
    for (const direction of [1, -1] as const)
      yield {
        ...given,
        page: readPage(withDial(given.page, name, stepDial(reading, direction))),
      };
  }
}

/** A part of the site that could not be loaded must not leave a run under way for ever. */
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

/**
 * A quick run leaves out what takes long: there the earlier outputs stay, as old ones, until the full run that
 * follows has the new.
 */
function withEarlier(
  outputs: RunState["outputs"],
  earlier: RunState["outputs"],
): { shown: RunState["outputs"]; staleFrom?: number } {
  const left = (list: readonly Output[], i: number) =>
    list.length === 0 && (earlier[i]?.length ?? 0) > 0;
  const first = outputs.findIndex(left);
  if (first < 0) return { shown: outputs };
  return {
    shown: outputs.map((list, i) => (left(list, i) ? (earlier[i] ?? []) : list)),
    staleFrom: first,
  };
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

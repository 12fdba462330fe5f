/**
 * Runs an open page in the browser. Two workers for a program's text: one for quick runs while a dial is turned, one for
 * full runs, so that the next turn never waits for a full run that was begun when the dial rested. A turned dial sends
 * new values to a worker that is there, a changed text starts a new one. The newest run wins.
 */

import type { Output } from "../outputs/output.ts";
import type { Page } from "../page/types.ts";
import { checkedList, checkedOutputs, located } from "./messages-of-run.ts";
import { type RunGiven, RunPreparer } from "./preparing.ts";
import { changedDials, firstTouched, usesQuick } from "./program.ts";
import { type EndOfRun, ProgramWorker, type RunEars, type RunnerLimits } from "./program-worker.ts";
import { neighborsOf, rehearse, startAndNeighbors, TOO_LONG_MS } from "./rehearsal.ts";
import type { RunProblem, RunState } from "./types.ts";

export type { RunnerLimits } from "./program-worker.ts";

const LIMITS: RunnerLimits = { milliseconds: 45_000, patience: 400, messages: 500 };
/** Sooner than this nobody sees that a figure was old: a quick run is announced only if it lasts longer. */
const UNSEEN_MS = 50;
/** The drawing of an answer goes first: of a full one, of a quick one. */
const DRAWN_MS = 300;
const DRAWN_QUICK_MS = 25;

interface Wanted {
  readonly given: RunGiven;
  readonly number: number;
}

interface Current extends Wanted {
  readonly worker: ProgramWorker;
  /** What workings that are done have shown, until it is painted. */
  readonly done: Map<number, unknown>;
  working?: number;
}

export class PageRunner {
  readonly #full: ProgramWorker;
  readonly #swift: ProgramWorker;
  readonly #preparer = new RunPreparer();
  readonly #listeners = new Set<(state: RunState) => void>();
  #state: RunState = { phase: "idle", run: 0, outputs: [] };
  #current: Current | undefined;
  #waiting: Wanted | undefined;
  /** The last that finished. */
  #finished: RunGiven | undefined;
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
    const preparer = this.#preparer;
    const hands = preparer.atHand(given, number) ?? (await preparer.gather(given, number));
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
      ended: (end) => void this.#check(current, end),
      failed: (problem) => {
        this.#current = undefined;
        this.#fail(problem);
      },
      lasts: () => this.#paintDone(current),
    };
  }

  /** What came back is checked in slices; the first time the browser listens before, too. */
  async #check(current: Current, end: EndOfRun): Promise<void> {
    if (this.#finished === undefined) await turn();
    const { workings } = current.given.page;
    const checked = await checkedOutputs(end.given, workings.length, turn);
    if (this.#current !== current) return;
    this.#current = undefined;
    const problem = end.problem ?? checked.problem;
    this.#finish(current.given, checked.outputs, end.milliseconds, problem);
  }

  #finish(
    given: RunGiven,
    outputs: RunState["outputs"],
    milliseconds: number,
    problem: RunProblem | undefined,
  ): void {
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
        setTimeout(() => this.#rehearse(neighborsOf(given, turned), run), DRAWN_QUICK_MS);
      } else if (milliseconds < TOO_LONG_MS && usesQuick(given.page))
        setTimeout(() => this.#rehearse(startAndNeighbors(given), run), DRAWN_MS);
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

  /** For the turn of a dial that may follow. */
  #rehearse(asked: Iterable<RunGiven>, run: number): void {
    void rehearse(asked, {
      worker: this.#swift,
      preparer: this.#preparer,
      isOver: () => this.#closed || this.#state.run !== run,
    });
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

const turn = () => new Promise<void>((resolve) => setTimeout(resolve));

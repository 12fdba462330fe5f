/**
 * Runs an open page in the browser. One worker for a program's text; a turned dial sends new values to the same
 * worker, a changed text starts a new one. The newest run wins; a run that does not end is stopped and named.
 */

import { transpiled } from "virtual:notebooks";
import { fullNames, names, prelude, shopNames, version } from "virtual:sandbox";
import { readDials } from "./dials.ts";
import { changesJob, loadJobReader, openJobSoon } from "./job-at-hand.ts";
import { checkedList, located, readMessage } from "./messages-of-run.ts";
import type { Output } from "./output.ts";
import {
  dialValues,
  firstTouched,
  makeProgram,
  mentions,
  type Prelude,
  usesQuick,
} from "./program.ts";
import type { RunRequest } from "./sandbox/prelude.ts";
import { type FrameWorker, SandboxFrame } from "./sandbox-frame.ts";
import { seedTranspiled } from "./transpile.ts";
import type { Page, RunProblem, RunState } from "./types.ts";

seedTranspiled(transpiled);

export interface RunGiven {
  readonly page: Page;
  /** YAML of the job that the page reads. */
  readonly jobText?: string;
  readonly quick?: boolean;
}

export interface RunnerLimits {
  /** For one working. */
  readonly milliseconds: number;
  /** A run that a newer one waits for is ended after this long. */
  readonly patience: number;
  /** Messages of one run. */
  readonly messages: number;
}

const LIMITS: RunnerLimits = { milliseconds: 45_000, patience: 400, messages: 500 };
/** A worker that was started and does not speak at all. */
const START_MS = 10_000;
/** From here on a run is called slow, and looked after. */
const SLOW_MS = 120;
const LOOK_EVERY_MS = 500;
const SILENCE_MS = 3000;

interface Alive {
  readonly script: string;
  readonly lineOffset: number;
  readonly workings: number;
  readonly worker: FrameWorker;
  ready: boolean;
}

interface Current {
  readonly given: RunGiven;
  readonly number: number;
  request?: RunRequest;
  readonly since: number;
  messages: number;
  /** What workings that are done have shown, until it is painted. */
  readonly done: Map<number, unknown>;
}

export class PageRunner {
  readonly #limits: RunnerLimits;
  readonly #frame = new SandboxFrame();
  readonly #listeners = new Set<(state: RunState) => void>();
  #state: RunState = { phase: "idle", run: 0, outputs: [] };
  #alive: Alive | undefined;
  #current: Current | undefined;
  #waiting: { given: RunGiven; number: number } | undefined;
  /** The newest that was asked for, and the last that finished. */
  #asked: RunGiven | undefined;
  #finished: RunGiven | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #closed = false;
  #starting = 0;

  constructor(limits: Partial<RunnerLimits> = {}) {
    this.#limits = { ...LIMITS, ...limits };
    this.#frame.prepare();
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
    this.#waiting = { given, number };
    this.#asked = given;
    this.#set({
      phase: "running",
      run: number,
      outputs: this.#state.outputs,
      staleFrom: Math.min(staleFrom ?? touched, touched),
    });
    const busy = this.#current;
    if (busy === undefined) void this.#next();
    else this.#losePatience(busy);
    return number;
  }

  /** Ends the running program. What was shown before stays, marked as old. */
  stop(): void {
    if (this.#current === undefined && this.#waiting === undefined) return;
    this.#waiting = undefined;
    this.#endWorker();
    this.#set({ ...this.#withoutWorking(), phase: "stopped" });
  }

  /** The page was left. */
  close(): void {
    this.#closed = true;
    this.#waiting = undefined;
    this.#endWorker();
    this.#frame.remove();
    this.#listeners.clear();
  }

  #touched(given: RunGiven): number {
    const before = this.#finished;
    if (before === undefined) return 0;
    const job = before.jobText !== given.jobText;
    const quick = (before.quick ?? false) !== (given.quick ?? false) && usesQuick(given.page);
    return quick ? 0 : firstTouched(before.page, given.page, { job });
  }

  /** A newer run waits: the one under way is ended, unless it is about to be done anyway. */
  #losePatience(busy: Current): void {
    const left = this.#limits.patience - (performance.now() - busy.since);
    const end = () => {
      if (this.#current !== busy || this.#waiting === undefined) return;
      this.#endWorker();
      void this.#next();
    };
    if (left <= 0) end();
    else setTimeout(end, left);
  }

  async #next(): Promise<void> {
    const next = this.#waiting;
    if (next === undefined || this.#closed || this.#current !== undefined) return;
    this.#waiting = undefined;
    const { given, number } = next;
    const current: Current = {
      given,
      number,
      since: performance.now(),
      messages: 0,
      done: new Map(),
    };
    this.#current = current;
    const request = await requestFor(given, number);
    if (this.#current !== current) return;
    if ("problem" in request) {
      this.#current = undefined;
      this.#fail(request.problem);
      return;
    }
    current.request = request;
    const program = await makeProgram(given.page, await preludeFor(given.page));
    if (this.#current !== current) return;
    if (this.#waiting !== undefined) {
      this.#current = undefined;
      await this.#next();
      return;
    }
    if ("problem" in program) {
      this.#current = undefined;
      this.#fail(program.problem);
      return;
    }
    if (this.#alive?.script === program.script) {
      if (this.#alive.ready) this.#send(current);
      return;
    }
    await this.#start(program, current);
  }

  async #start(
    program: { script: string; lineOffset: number; workings: number },
    current: Current,
  ): Promise<void> {
    this.#endWorker();
    this.#current = current;
    const mine = ++this.#starting;
    this.#wait(START_MS);
    let worker: FrameWorker;
    try {
      worker = await this.#frame.start(program.script, ({ detail, line }) => {
        if (this.#alive?.worker !== worker) return;
        const inPage = line - program.lineOffset;
        this.#endWorker();
        this.#fail({ code: "syntax", detail, ...(inPage > 0 && { line: inPage }) });
      });
    } catch (error) {
      if (mine !== this.#starting) return;
      this.#frame.remove();
      this.#fail({ code: "fault", detail: error instanceof Error ? error.message : String(error) });
      return;
    }
    if (mine !== this.#starting || this.#closed) {
      worker.end();
      return;
    }
    const alive: Alive = { ...program, worker, ready: false };
    this.#alive = alive;
    worker.port.onmessage = ({ data }) => this.#hear(alive, data);
  }

  #send(current: Current): void {
    if (current.request === undefined) return; // not yet read: it is sent as soon as it is
    this.#alive?.worker.port.postMessage(current.request);
    this.#wait(this.#limits.milliseconds);
  }

  #hear(alive: Alive, data: unknown): void {
    if (this.#alive !== alive) return;
    const current = this.#current;
    if (current !== undefined && ++current.messages > this.#limits.messages) {
      this.#endWorker();
      this.#fail({ code: "flood", detail: `more than ${this.#limits.messages} messages` });
      return;
    }
    const message = readMessage(data, alive.workings, alive.lineOffset);
    if (message === undefined) return;
    if (message.kind === "ready") {
      if (alive.ready) return;
      alive.ready = true;
      if (current) this.#send(current);
      return;
    }
    if (current === undefined || message.run !== current.number) return;
    if (message.kind === "begin") {
      this.#wait(this.#limits.milliseconds);
      if (message.working > 0) current.done.set(message.working - 1, message.done);
      this.#working = message.working;
      return;
    }
    clearTimeout(this.#timer);
    clearTimeout(this.#look);
    this.#current = undefined;
    this.#working = undefined;
    if (this.#waiting !== undefined) {
      void this.#next();
      return;
    }
    this.#finish(current.given, message);
  }

  #finish(
    given: RunGiven,
    done: { outputs: readonly (readonly Output[])[]; milliseconds: number; problem?: RunProblem },
  ): void {
    const { outputs, milliseconds, problem } = done;
    const run = this.#state.run;
    if (problem === undefined) {
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

  #fail(found: RunProblem, page = this.#asked?.page): void {
    const problem = page ? located(found, page) : found;
    if (this.#waiting !== undefined) {
      void this.#next();
      return;
    }
    const { run, outputs, staleFrom } = this.#state;
    this.#set({ phase: "failed", run, outputs, staleFrom: staleFrom ?? 0, problem });
  }

  #working: number | undefined;

  /** Ends the working that does not end, and names it. */
  #wait(milliseconds: number): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => {
      this.#giveUp("time", `not finished after ${milliseconds / 1000} s`);
    }, milliseconds);
    clearTimeout(this.#look);
    this.#look = setTimeout(() => void this.#lookAfter(this.#current), SLOW_MS);
  }

  #look: ReturnType<typeof setTimeout> | undefined;

  /** A run that lasts: the page says which working it is at, and whether its process is still alive. */
  async #lookAfter(current: Current | undefined): Promise<void> {
    if (current === undefined || this.#current !== current) return;
    this.#paintDone(current);
    const alive = await this.#frame.answers(SILENCE_MS);
    if (this.#current !== current || this.#closed) return;
    if (!alive) this.#giveUp("memory", "the process that ran it is gone");
    else this.#look = setTimeout(() => void this.#lookAfter(current), LOOK_EVERY_MS);
  }

  /** A run that lasts is painted as far as it is done. */
  #paintDone(current: Current): void {
    const working = this.#working;
    if (working === undefined || this.#waiting !== undefined) return;
    const outputs = current.given.page.workings.map((_, i) => this.#state.outputs[i] ?? []);
    let painted = false;
    for (const [number, shown] of current.done) {
      const list = checkedList(shown);
      if (list === undefined) continue;
      outputs[number] = list;
      painted = true;
    }
    current.done.clear();
    if (painted) this.#set({ ...this.#state, outputs, working, staleFrom: working });
    else if (this.#state.working !== working) this.#set({ ...this.#state, working });
  }

  #giveUp(code: "time" | "memory", detail: string): void {
    const working = this.#working;
    this.#endWorker();
    this.#frame.remove(); // its process may be gone or full; a new one is laid with the next run
    this.#fail({ code, detail, ...(working !== undefined && { working }) });
  }

  #endWorker(): void {
    clearTimeout(this.#timer);
    clearTimeout(this.#look);
    this.#starting++;
    this.#alive?.worker.end();
    this.#alive = undefined;
    this.#current = undefined;
    this.#working = undefined;
  }

  #withoutWorking(): RunState {
    const { working: _, ...rest } = this.#state;
    return rest;
  }

  #set(state: RunState): void {
    this.#state = state;
    for (const listener of this.#listeners) listener(state);
  }
}

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

async function requestFor(
  given: RunGiven,
  run: number,
): Promise<RunRequest | { problem: RunProblem }> {
  const open = given.jobText === undefined ? undefined : await openJobSoon(given.jobText);
  if (open && "problems" in open) {
    return { problem: { code: "error", detail: "the job can't be read", problems: open.problems } };
  }
  const { readings, problems } = readDials(given.page, open);
  const [first] = problems;
  const dials = dialValues(readings);
  if (dials === undefined) {
    return { problem: { code: "error", detail: "a dial can't be read", line: first?.line ?? 1 } };
  }
  let job: unknown = open?.reading.job ?? null;
  if (open && changesJob(given.page)) {
    const forPage = (await loadJobReader()).jobForPage(given.page, open);
    if ("problems" in forPage) {
      const detail = "the job can't be read with these dials";
      return { problem: { code: "error", detail, problems: forPage.problems } };
    }
    job = forPage.job;
  }
  return { run, dials, job, quick: given.quick ?? false };
}

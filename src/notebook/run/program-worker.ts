/**
 * One worker for a page's program, as its host holds it: started with the program's text, sent one request after the
 * other, looked after while it runs, ended when it does not end by itself.
 */

import type { Page } from "../page/types.ts";
import type { RunRequest } from "../sandbox/prelude.ts";
import { located, type RunMessage, readMessage } from "./messages-of-run.ts";
import type { MadeProgram } from "./program.ts";
import { type FrameWorker, SandboxFrame } from "./sandbox-frame.ts";
import type { RunProblem } from "./types.ts";

export interface RunnerLimits {
  /** For one working. */
  readonly milliseconds: number;
  /** A run that is no longer wanted is ended after this long. */
  readonly patience: number;
  /** Messages of one run. */
  readonly messages: number;
}

/** A worker that was started and does not speak at all. */
const START_MS = 10_000;
/** From here on a run is called slow, and looked after. */
const SLOW_MS = 120;
const LOOK_EVERY_MS = 500;
const SILENCE_MS = 3000;
/** After a run its worker answers within this, or is ended: also when a phone is busy drawing. */
const STILL_MS = 1500;

export type EndOfRun = Extract<RunMessage, { kind: "end" }>;

/** Who hears of a run. */
export interface RunEars {
  /** A working begins; what the one before has shown is not yet checked. */
  began(working: number, done: unknown): void;
  ended(end: EndOfRun): void;
  /** The run is over, and its worker with it. */
  failed(problem: RunProblem): void;
  /** It lasts: called from time to time. */
  lasts(): void;
}

interface Alive {
  readonly program: MadeProgram;
  readonly worker: FrameWorker;
  ready: boolean;
}

interface Running {
  readonly page: Page;
  readonly request: RunRequest;
  readonly since: number;
  /** Undefined: nobody waits for it any more. */
  ears: RunEars | undefined;
  messages: number;
  working?: number;
}

export class ProgramWorker {
  readonly #limits: RunnerLimits;
  readonly #frame = new SandboxFrame();
  #alive: Alive | undefined;
  #running: Running | undefined;
  #whenFree: (() => void) | undefined;
  #limit: ReturnType<typeof setTimeout> | undefined;
  #look: ReturnType<typeof setTimeout> | undefined;
  #starting = 0;
  #still: ReturnType<typeof setTimeout> | undefined;

  constructor(limits: RunnerLimits) {
    this.#limits = limits;
  }

  get isBusy(): boolean {
    return this.#running !== undefined;
  }

  /** Lays the frame, so that it is there when the first program comes. */
  prepare(): void {
    this.#frame.prepare();
  }

  /** Whether a program with this text has been started here. */
  holds(program: MadeProgram): boolean {
    return this.#alive?.program.script === program.script;
  }

  /** Runs a request; the one before must be over. Another program's text starts a new worker. */
  run(page: Page, program: MadeProgram, request: RunRequest, ears: RunEars): void {
    if (this.#running !== undefined) throw new Error("a run is under way here");
    this.#running = { page, request, since: performance.now(), ears, messages: 0 };
    if (!this.holds(program)) void this.#start(program, this.#running);
    else if (this.#alive?.ready) this.#send(this.#running);
  }

  /** Nobody waits for the run any more: it may come to its end within what is left of the patience. */
  release(whenFree?: () => void): void {
    const running = this.#running;
    if (running === undefined) {
      whenFree?.();
      return;
    }
    running.ears = undefined;
    this.#whenFree = whenFree;
    const end = () => {
      if (this.#running === running) this.end();
    };
    const left = this.#limits.patience - (performance.now() - running.since);
    if (left <= 0) end();
    else setTimeout(end, left);
  }

  /** Ends the worker, whatever it does. */
  end(): void {
    clearTimeout(this.#still);
    this.#starting++;
    this.#alive?.worker.end();
    this.#alive = undefined;
    this.#over();
  }

  close(): void {
    this.#whenFree = undefined;
    this.end();
    this.#frame.remove();
  }

  /** The run is over: whoever waited for the worker may have it. */
  #over(): void {
    clearTimeout(this.#limit);
    clearTimeout(this.#look);
    this.#running = undefined;
    const whenFree = this.#whenFree;
    this.#whenFree = undefined;
    whenFree?.();
  }

  async #start(program: MadeProgram, running: Running): Promise<void> {
    this.#alive?.worker.end();
    this.#alive = undefined;
    const mine = ++this.#starting;
    this.#wait(running, START_MS);
    let worker: FrameWorker;
    try {
      worker = await this.#frame.start(program.script, ({ detail, line }) => {
        if (this.#alive?.worker !== worker) return;
        const inPage = line - program.lineOffset;
        this.#fail({ code: "syntax", detail, ...(inPage > 0 && { line: inPage }) });
      });
    } catch (error) {
      if (mine !== this.#starting) return;
      this.#frame.remove();
      this.#fail({ code: "fault", detail: error instanceof Error ? error.message : String(error) });
      return;
    }
    if (mine !== this.#starting) {
      worker.end();
      return;
    }
    const alive: Alive = { program, worker, ready: false };
    this.#alive = alive;
    worker.port.onmessage = ({ data }) => this.#hear(alive, data);
  }

  #send(running: Running): void {
    this.#alive?.worker.port.postMessage(running.request);
    this.#wait(running, this.#limits.milliseconds);
  }

  #hear(alive: Alive, data: unknown): void {
    if (this.#alive !== alive) return;
    const running = this.#running;
    if (running !== undefined && ++running.messages > this.#limits.messages) {
      this.#fail({ code: "flood", detail: `more than ${this.#limits.messages} messages` });
      return;
    }
    const { workings, lineOffset } = alive.program;
    const message = readMessage(data, workings, lineOffset);
    if (message === undefined) return;
    if (message.kind === "still") {
      clearTimeout(this.#still);
      return;
    }
    if (message.kind === "ready") {
      if (alive.ready) return;
      alive.ready = true;
      if (running) this.#send(running);
      return;
    }
    if (running === undefined || message.run !== running.request.run) return;
    if (message.kind === "begin") {
      this.#wait(running, this.#limits.milliseconds);
      running.working = message.working;
      running.ears?.began(message.working, message.done);
      return;
    }
    this.#askStill(alive);
    this.#over();
    running.ears?.ended(message);
  }

  /** What a run has set going must end with it: a worker that does not answer afterwards is ended. */
  #askStill(alive: Alive): void {
    alive.worker.port.postMessage("still");
    clearTimeout(this.#still);
    this.#still = setTimeout(() => {
      if (this.#alive !== alive) return;
      // a run that was sent meanwhile waits behind what goes on: it is begun anew
      const waiting = this.#running;
      alive.worker.end();
      this.#alive = undefined;
      if (waiting !== undefined) void this.#start(alive.program, waiting);
    }, STILL_MS);
  }

  /** Ends the working that does not end, and names it. */
  #wait(running: Running, milliseconds: number): void {
    clearTimeout(this.#limit);
    this.#limit = setTimeout(() => {
      this.#giveUp(running, "time", `not finished after ${milliseconds / 1000} s`);
    }, milliseconds);
    clearTimeout(this.#look);
    this.#look = setTimeout(() => void this.#lookAfter(running), SLOW_MS);
  }

  /** A run that lasts: its host may say so, and whether its process is still alive is asked. */
  async #lookAfter(running: Running): Promise<void> {
    if (this.#running !== running) return;
    running.ears?.lasts();
    const alive = await this.#frame.answers(SILENCE_MS);
    if (this.#running !== running) return;
    if (!alive) this.#giveUp(running, "memory", "the process that ran it is gone");
    else this.#look = setTimeout(() => void this.#lookAfter(running), LOOK_EVERY_MS);
  }

  #giveUp({ working }: Running, code: "time" | "memory", detail: string): void {
    this.#frame.remove(); // its process may be gone or full; a new one is laid with the next run
    this.#fail({ code, detail, ...(working !== undefined && { working }) });
  }

  #fail(problem: RunProblem): void {
    const running = this.#running;
    this.end();
    running?.ears?.failed(located(problem, running.page));
  }
}

/**
 * The trusted part of a page's worker: the library, the lock, and the run of the program. Built into one script
 * (an expression whose value is `start`), which the page's program follows as its argument.
 *
 * Speaks to its host through `tell`: a message port in the browser, a function in Node.
 */
import * as library from "virtual:library";
import { describeError } from "./describe-error.ts";
import { freezeAll, lockdown } from "./lockdown.ts";
import { Memo } from "./memo.ts";
import { MEMORABLE } from "./memorable.ts";
import { copyPlain, freezePlain } from "./plain.ts";
import { makeSpeech, type Show, type SpeakLimits } from "./speak.ts";
import { words } from "./words.ts";

export interface RunRequest {
  readonly run: number;
  readonly dials: Readonly<Record<string, number | string | boolean>>;
  readonly job: unknown;
  readonly quick: boolean;
}

export interface ProgramFacts {
  /** How many workings the program has, and the lines of the script that are its own. */
  readonly workings: number;
  readonly firstLine: number;
  readonly lastLine: number;
  /** Version of the library and of this script. */
  readonly version: string;
  readonly limits: SpeakLimits;
}

type Program = (
  library: Readonly<Record<string, unknown>>,
  begin: (working: number) => void,
  show: Show,
  job: unknown,
  quick: boolean,
  dials: RunRequest["dials"],
) => void;

type Tell = (message: object, buffers: ArrayBuffer[]) => void;

interface Host {
  /** Node's runner leaves its function here. */
  tellHost?: Tell;
  addEventListener?: (kind: string, listener: (event: MessageEvent) => void) => void;
  performance?: { now(): number };
}

const host = globalThis as unknown as Host;
const tellHost = host.tellHost;
const listen = host.addEventListener?.bind(globalThis);
const clock = host.performance;
const now = clock === undefined ? () => 0 : clock.now.bind(clock);

const lock = lockdown(globalThis);

/** What the built script is the value of. Starts the program's worker; in Node the answer is the function that runs it. */
export function start(facts: ProgramFacts, program: Program): (request: RunRequest) => void {
  const scope = scopeWith(new Memo(facts.version));
  let tell: Tell = tellHost ?? (() => {});
  const run = (request: RunRequest) => {
    tellRun(facts, program, scope, request, tell);
  };
  listen?.("message", ({ data, ports: [port] }) => {
    if (port !== undefined) {
      tell = (message, buffers) => port.postMessage(message, buffers);
      port.onmessage = ({ data }) => {
        // asked after a run: who answers is idle
        if (data === "still") tell({ kind: "still" }, []);
        else run(data);
      };
      tell({ kind: "ready" }, []);
    } else if (data !== undefined) run(data);
  });
  return run;
}

/** The library as a page sees it: frozen, with a memory for what takes time. */
function scopeWith(memo: Memo): Readonly<Record<string, unknown>> {
  const scope = Object.create(null) as Record<string, unknown>;
  const { furtherWords, ...questions } = library;
  for (const [name, value] of Object.entries(questions)) {
    scope[name] =
      typeof value === "function" && MEMORABLE.has(name)
        ? memo.wrap(name, value as (...given: never[]) => unknown)
        : value;
  }
  scope["words"] = { ...words, ...(furtherWords as object) };
  freezeAll([scope]);
  return scope;
}

function tellRun(
  { workings, firstLine, lastLine, limits }: ProgramFacts,
  program: Program,
  scope: Readonly<Record<string, unknown>>,
  request: RunRequest,
  tell: Tell,
): void {
  lock.newRun();
  const speech = makeSpeech(workings, limits);
  let working = -1;
  const begin = (number: number) => {
    // each working once, in order: a program that calls this by itself only misleads about itself
    if (!(number > working && number < workings)) return;
    const done = working < 0 ? undefined : speech.shownBy(working);
    working = number;
    speech.begin(number);
    // what is done can be seen before the rest is
    tell({ kind: "begin", run, working: number, ...(done && { done }) }, []);
  };
  // objects of the host would lead back to it
  const { run, quick } = request;
  const job = freezePlain(copyPlain(request.job));
  const dials = freezePlain(copyPlain(request.dials)) as RunRequest["dials"];
  const began = now();
  let failure: object | undefined;
  try {
    program(scope, begin, speech.show, job, quick, dials);
  } catch (error) {
    failure = { working, ...describeError(error, firstLine, lastLine) };
  }
  const milliseconds = now() - began;
  const { outputs, buffers } = speech.end();
  tell({ kind: "end", run, outputs, milliseconds, ...(failure && { failure }) }, buffers);
}

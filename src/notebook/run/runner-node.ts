/**
 * Runs a page without a browser: a thread of its own, and in it a context that holds nothing but the language
 * and the library. Time and memory are limited; what comes back is checked like anything from outside.
 */
import { Worker } from "node:worker_threads";
import type { Problem } from "../../../lib/units/problem.ts";
import { readDials } from "../dials/dials.ts";
import type { DialReading, PageProblem } from "../dials/types.ts";
import type { Output } from "../outputs/output.ts";
import { readPage } from "../page/page.ts";
import { withDial } from "../page/set-dial.ts";
import type { Page } from "../page/types.ts";
import type { RunRequest } from "../sandbox/prelude.ts";
import { checkedOutputs, located, readMessage } from "./messages-of-run.ts";
import { jobForPage, openJob } from "./open-job.ts";
import { dialValues, type MadeProgram, makeProgram, type Prelude } from "./program.ts";
import type { RunProblem } from "./types.ts";

export interface PageRun {
  readonly text: string;
  readonly prelude: Prelude;
  /** YAML of the job that the page reads. */
  readonly jobText?: string;
  /** Dials to set before the run: `{ thickness: "18 mm" }`. */
  readonly dials?: Readonly<Record<string, string>>;
  readonly quick?: boolean;
  /** For each working; default 60 s. */
  readonly milliseconds?: number;
  /** Of the program's heap; default 512. */
  readonly megabytes?: number;
}

export interface PageRunResult {
  readonly page: Page;
  readonly readings: readonly DialReading[];
  readonly outputs: readonly (readonly Output[])[];
  /** Problems of the page's text, its dials and its job; then nothing was run. */
  readonly pageProblems: readonly PageProblem[];
  readonly problem?: RunProblem;
  readonly milliseconds: number;
}

/** The thread's own script: takes everything away from itself before the page's script runs in an empty context. */
const THREAD = `
const { parentPort, workerData } = require("node:worker_threads");
const vm = require("node:vm");
const { script, request } = workerData;
const tell = (message) => { try { parentPort.postMessage(message); } catch {} };
const sandbox = Object.create(null);
sandbox.tellHost = tell;
const context = vm.createContext(sandbox, { codeGeneration: { strings: false, wasm: false } });
const page = new vm.Script(script, { filename: "page.js" });
for (const name of Object.getOwnPropertyNames(globalThis)) {
  if (/^[a-z]/.test(name) && name !== "globalThis" && !/^(?:is|parse|decode|encode)[A-Z]/.test(name)) {
    try { delete globalThis[name]; } catch {}
  }
}
const run = page.runInContext(context);
run(request);
`;

/** Runs a page from its text. Never throws for what the page does. */
export async function runPageText(given: PageRun): Promise<PageRunResult> {
  const { page, problems: unknown } = withDials(readPage(given.text), given.dials ?? {});
  const job = given.jobText === undefined ? undefined : openJob(given.jobText);
  const open = job && !("problems" in job) ? job : undefined;
  const { readings, problems: all } = readDials(page, open);
  // of a job that can't be read its own problems are told
  const problems = all.filter(({ code }) => job === undefined || open || code !== "dial.noJob");
  const forPage = open ? jobForPage(page, open) : undefined;
  const jobProblems = [job, forPage].flatMap((read) =>
    read && "problems" in read ? read.problems : [],
  );
  const pageProblems = [
    ...unknown,
    ...page.problems,
    ...problems,
    ...jobProblems.map(problemOfJob),
  ];
  const outputs = page.workings.map(() => []);
  const values = dialValues(readings);
  const nothing = { page, readings, outputs, milliseconds: 0, pageProblems };
  if (pageProblems.length > 0 || values === undefined) return nothing;
  const program = await makeProgram(page, given.prelude);
  if ("problem" in program) return { ...nothing, problem: program.problem };
  const request: RunRequest = {
    run: 1,
    dials: values,
    job: forPage && "job" in forPage ? forPage.job : null,
    quick: given.quick ?? false,
  };
  const { problem, ...rest } = await runScript(program.script, request, limitsFor(given, program));
  return { ...nothing, ...rest, ...(problem && { problem: located(problem, page) }) };
}

/** The page with dials set; those that it does not have are named. */
function withDials(
  given: Page,
  dials: Readonly<Record<string, string>>,
): { page: Page; problems: PageProblem[] } {
  let page = given;
  const problems: PageProblem[] = [];
  for (const [name, value] of Object.entries(dials)) {
    const dial = page.dials.find((d) => d.name === name);
    if (dial === undefined) {
      const possible = page.dials.map((d) => d.name);
      problems.push({ code: "dial.unknown", line: 0, name, given: name, possible });
      continue;
    }
    const typed = dial.kind === "flag" ? /^(?:yes|true|on)$/i.test(value) : value;
    page = readPage(withDial(page, name, typed));
  }
  return { page, problems };
}

function problemOfJob({ path, given, ...rest }: Problem): PageProblem {
  return { ...rest, line: 0, name: path, ...(given !== undefined && { given: String(given) }) };
}

function limitsFor(
  { milliseconds = 60_000, megabytes = 512 }: PageRun,
  { workings, lineOffset }: MadeProgram,
): ScriptLimits {
  return { workings, lineOffset, milliseconds, megabytes };
}

interface ScriptLimits {
  readonly workings: number;
  readonly lineOffset: number;
  readonly milliseconds: number;
  readonly megabytes: number;
}

type Ran = Pick<PageRunResult, "outputs" | "milliseconds"> & { problem?: RunProblem };

/** Runs one script in a thread; ends with it, or ends it. */
function runScript(script: string, request: RunRequest, limits: ScriptLimits): Promise<Ran> {
  return new Promise((resolve) => {
    const thread = new Worker(THREAD, {
      eval: true,
      workerData: { script, request },
      env: {},
      argv: [],
      execArgv: [],
      stdin: false,
      resourceLimits: {
        maxOldGenerationSizeMb: limits.megabytes,
        maxYoungGenerationSizeMb: 32,
        stackSizeMb: 2,
      },
    });
    let working: number | undefined;
    let timer: NodeJS.Timeout | undefined;
    let settled = false;
    const settle = (ran: Ran) => {
      if (settled) return;
      settled = true;
      clearTimeout(timer);
      void thread.terminate().then(() => resolve(ran));
    };
    const fail = (problem: RunProblem) =>
      settle({
        outputs: Array.from({ length: limits.workings }, () => []),
        milliseconds: 0,
        problem: { ...problem, ...(working !== undefined && { working }) },
      });
    const wait = () => {
      clearTimeout(timer);
      timer = setTimeout(() => {
        fail({ code: "time", detail: `not finished after ${limits.milliseconds / 1000} s` });
      }, limits.milliseconds);
    };
    let said = false;
    wait();
    thread.on("message", (given: unknown) => {
      const message = readMessage(given, limits.workings, limits.lineOffset);
      if (message?.kind === "begin") {
        working = message.working;
        wait();
      } else if (message?.kind === "end") {
        clearTimeout(timer);
        said = true;
        void checkedOutputs(message.given, limits.workings).then((checked) => {
          const { outputs } = checked;
          const { milliseconds } = message;
          const problem = message.problem ?? checked.problem;
          settle({ outputs, milliseconds, ...(problem && { problem }) });
        });
      }
    });
    thread.on("error", (error: Error & { code?: string }) => {
      // what comes of it after its end is no part of its answer, which is still being checked
      if (said) return;
      if (error.code === "ERR_WORKER_OUT_OF_MEMORY") {
        fail({ code: "memory", detail: `more than ${limits.megabytes} MB` });
        return;
      }
      const line = /page\.js:(\d+)/.exec(error.stack ?? "");
      const inPage = line ? Number(line[1]) - limits.lineOffset : 0;
      fail({
        code: error.name === "SyntaxError" ? "syntax" : "fault",
        detail: `${error.name}: ${error.message}`.slice(0, 1200),
        ...(inPage > 0 && { line: inPage }),
      });
    });
    // what it said is still being checked when it ends
    thread.on("exit", () => {
      if (!said) fail({ code: "fault", detail: "the thread ended early" });
    });
  });
}

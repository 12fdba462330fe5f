/** `castclock sweep`: one question over many jobs, spread evenly between bounds, on all cores, into a file. */
import { existsSync } from "node:fs";
import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import workerpool from "workerpool";
import { checkJob } from "../../../lib/job/job.ts";
import { THICKNESS } from "../../../lib/job/with-setting.ts";
import { formatDuration } from "../../../lib/units/format.ts";
import { nearest } from "../../../lib/units/nearest.ts";
import { InputError, type Problem, tried } from "../../../lib/units/problem.ts";
import { askable, type QuestionName } from "../../sweep/askable.ts";
import { fill, MOST_AT_ONCE } from "../../sweep/fill.ts";
import { columnsOf, linesOf, type Sweep } from "../../sweep/members.ts";
import { byWholeNumbers, problemsAtEnds } from "../../sweep/varied.ts";
import type { World } from "../files.ts";
import { Misuse } from "../words.ts";
import { openTable, type TableFile } from "./table-file.ts";
import { variedOf } from "./vary-option.ts";

export interface SweepWords {
  readonly raw: Record<string, unknown>;
  readonly vary: readonly string[];
  readonly members: string | undefined;
  readonly out: string | undefined;
  /** The question; left out: demold. */
  readonly of: string | undefined;
  readonly workers: string | undefined;
  readonly quick: boolean;
}

const MOST_MEMBERS = 100_000_000;
const MOST_WORKERS = 64;
/**
 * What a thread may hold of short-lived objects, MB. Two threads left to themselves came to 241 MB at 2 000 members, so they keep
 * to 205, at 2 000 as at 6 000, for no more processor time (measured).
 */
const YOUNG = 8;
const USAGE =
  "castclock sweep JOB.yaml --vary path=low..high [--vary ...] --members N --out FILE.csv [--of QUESTION] [--workers K] [--quick]";

/** Runs or goes on with a sweep. @returns exit code */
export async function runSweep(words: SweepWords, world: World): Promise<0> {
  if (words.vary.length === 0 || words.out === undefined || words.members === undefined)
    throw new Misuse(USAGE);
  const { members, workers, asked } = read(words, words.members);
  const { keys, header } = columnsOf(asked);
  const sweep: Sweep = { ...asked, keys };
  const table = openTable(words.out, header);
  try {
    checkSame(sweep, table, words.out);
    table.begin();
    const begun = Math.min(table.lines, members);
    const span = { from: begun, to: members, workers };
    const { done, alike } = await fillTable(sweep, span, table, world);
    world.follow("");
    world.print(summary(words.out, begun, done, members));
    if (scalesStations(sweep))
      world.print("All stations were scaled alike with the thickness; the length stayed.\n");
    if (alike)
      world.print(`They are answered alike: what varies changes nothing for ${asked.question}.\n`);
    // whoever waits for the whole of it is told as by every program that was stopped
    if (done < members) process.kill(process.pid, "SIGINT");
    return 0;
  } finally {
    table.close();
  }
}

const scalesStations = ({ raw, varied }: Sweep) =>
  varied.some(({ path }) => path === THICKNESS) && checkJob(raw).job.bait.even === null;

function summary(path: string, begun: number, done: number, members: number): string {
  const before = begun > 0 ? `, ${begun} of them from before` : "";
  return done < members
    ? `Stopped: ${path} holds ${done} of ${members} members${before}. The same command goes on from there.\n`
    : `${path} holds ${done} members${before}.\n`;
}

/** @throws InputError with all that is wrong with the words and at the ends of what varies */
function read(words: SweepWords, membersTyped: string) {
  const wrong: Problem[] = [];
  const typed = (value: string, option: string, most: number) =>
    tried(wrong, () => wholeNumber(value, option, most)) ?? 1;
  const members = typed(membersTyped, "--members", MOST_MEMBERS);
  const threads =
    words.workers === undefined
      ? availableParallelism()
      : typed(words.workers, "--workers", MOST_WORKERS);
  const question = tried(wrong, () => questionNamed(words.of ?? "demold")) ?? "demold";
  const ranges = words.vary.flatMap((one) => tried(wrong, () => variedOf(one)) ?? []);
  const paths = ranges.map(({ path }) => path);
  const twice = new Set(paths.filter((path, i) => paths.indexOf(path) < i));
  wrong.push(...[...twice].map((path) => ({ code: "varied_twice", path })));
  wrong.push(...problemsAtEnds(words.raw, ranges));
  if (wrong.length > 0) throw new InputError(wrong);
  const varied = byWholeNumbers(words.raw, ranges);
  const workers = Math.min(threads, Math.ceil(members / MOST_AT_ONCE));
  return { members, workers, asked: { question, raw: words.raw, varied, quick: words.quick } };
}

function wholeNumber(typed: string, path: string, most: number): number {
  const value = Number(typed);
  const limits = { path, given: typed, least: "1", most: String(most) };
  if (typed.trim() === "" || !Number.isInteger(value))
    throw new InputError([{ code: "not_whole", ...limits }]);
  if (value < 1 || value > most)
    throw new InputError([{ code: value < 1 ? "too_small" : "too_big", ...limits }]);
  return value;
}

function questionNamed(name: string): QuestionName {
  if (Object.hasOwn(askable, name)) return name as QuestionName;
  const possible = Object.keys(askable);
  const suggestion = nearest(name, possible);
  const close = suggestion === undefined ? {} : { suggestion };
  throw new InputError([{ code: "unknown_word", path: "--of", given: name, possible, ...close }]);
}

/** A file that is gone on with must be of this sweep: its last member is worked out again. */
function checkSame(sweep: Sweep, { lines, last }: TableFile, path: string): void {
  if (lines === 0) return;
  if (linesOf(sweep, lines - 1, lines) !== `${last}\n`)
    throw new InputError([{ code: "another_table", path }]);
}

interface Span {
  readonly from: number;
  readonly to: number;
  readonly workers: number;
}

/** Whether all members are answered, and with the same: what stands behind a member's number and what varies. */
class Likeness {
  readonly #before: number;
  #first: string | undefined;
  #lines = 0;
  #alike = true;

  constructor(varied: number) {
    this.#before = 1 + varied;
  }

  get alike(): boolean {
    return this.#alike && this.#lines > 1;
  }

  take(lines: string): void {
    for (const line of this.#alike ? lines.trimEnd().split("\n") : []) {
      // numbers stand there, without a comma of their own
      const said = line.split(",").slice(this.#before).join(",");
      this.#first ??= said;
      // the last cell is the reason of a refusal
      this.#alike &&= said === this.#first && said.endsWith(",");
      this.#lines++;
    }
  }
}

/** Works out the members on as many threads; gives how many the file holds at the end, and whether all came out alike. */
async function fillTable(
  sweep: Sweep,
  span: Span,
  table: TableFile,
  world: World,
): Promise<{ done: number; alike: boolean }> {
  const script = fileURLToPath(new URL("./sweep-worker.js", import.meta.url));
  const alone = span.workers < 2 || !existsSync(script);
  const pool = alone
    ? undefined
    : workerpool.pool(script, {
        maxWorkers: span.workers,
        workerType: "thread",
        workerThreadOpts: { resourceLimits: { maxYoungGenerationSizeMb: YOUNG } },
      });
  let stopped = false;
  const stop = () => {
    stopped = true;
  };
  process.once("SIGINT", stop);
  const start = world.now();
  const likeness = new Likeness(sweep.varied.length);
  try {
    const done = await fill({
      ...span,
      workers: pool ? span.workers : 1,
      block: MOST_AT_ONCE,
      linesOf: async (from, to) =>
        pool ? await pool.exec("linesOf", [sweep, from, to]) : linesOf(sweep, from, to),
      take(lines, done) {
        table.add(lines);
        likeness.take(lines);
        const left = ((world.now() - start) / (done - span.from)) * (span.to - done);
        world.follow(`${done} of ${span.to} members, ${formatDuration(left / 1000)} left`);
      },
      isStopped: () => stopped,
      // lets a Ctrl+C be heard where everything runs on this thread
      pause: () => new Promise((resolve) => setImmediate(resolve)),
    });
    return { done, alike: likeness.alike };
  } finally {
    process.off("SIGINT", stop);
    await pool?.terminate(true);
  }
}

/** `castclock sweep`: one question over many jobs, spread evenly between bounds, on all cores, into a file. */
import { existsSync } from "node:fs";
import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import workerpool from "workerpool";
import { checkJob, withSetting } from "../../../lib/job/job.ts";
import { formatDuration } from "../../../lib/units/format.ts";
import { InputError } from "../../../lib/units/problem.ts";
import type { World } from "../files.ts";
import { questions } from "../questions.ts";
import { Misuse } from "../words.ts";
import { columnsOf, linesOf, type Sweep } from "./members.ts";
import { openTable, type TableFile } from "./table-file.ts";
import { settingAt, type Varied, variedOf } from "./varied.ts";

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
/** Members that a worker is handed at once: enough that handing them over costs nothing, few enough to be stopped soon. */
const BLOCK = 32;
/** Blocks that wait for each worker: what is in memory at a time. */
const AHEAD = 3;
const USAGE =
  "castclock sweep JOB.yaml --vary path=low..high [--vary ...] --members N --out FILE.csv [--of QUESTION] [--workers K] [--quick]";

/** Runs or goes on with a sweep. @returns exit code */
export async function runSweep(words: SweepWords, world: World): Promise<0> {
  if (words.vary.length === 0 || words.out === undefined || words.members === undefined)
    throw new Misuse(USAGE);
  const members = wholeNumber(words.members, "--members", MOST_MEMBERS);
  const workers = Math.min(
    words.workers === undefined
      ? availableParallelism()
      : wholeNumber(words.workers, "--workers", MOST_WORKERS),
    Math.ceil(members / BLOCK),
  );
  const asked = {
    question: questionNamed(words.of ?? "demold"),
    raw: words.raw,
    varied: words.vary.map(variedOf),
    quick: words.quick,
  };
  checkEnds(words.raw, asked.varied);
  const { keys, header } = columnsOf(asked);
  const sweep: Sweep = { ...asked, keys };
  const table = openTable(words.out, header);
  try {
    checkSame(sweep, table, words.out);
    table.begin();
    const begun = Math.min(table.lines, members);
    const done = await fill(sweep, { from: begun, to: members, workers }, table, world);
    world.follow("");
    world.print(summary(words.out, begun, done, members));
    // whoever waits for the whole of it is told as by every program that was stopped
    if (done < members) process.kill(process.pid, "SIGINT");
    return 0;
  } finally {
    table.close();
  }
}

function summary(path: string, begun: number, done: number, members: number): string {
  const before = begun > 0 ? `, ${begun} of them from before` : "";
  return done < members
    ? `Stopped: ${path} holds ${done} of ${members} members${before}. The same command goes on from there.\n`
    : `${path} holds ${done} members${before}.\n`;
}

function wholeNumber(typed: string, option: string, most: number): number {
  const value = Number(typed);
  if (!Number.isInteger(value) || value < 1 || value > most)
    throw new Misuse(`${option} is a whole number from 1 to ${most}, not "${typed}".`);
  return value;
}

function questionNamed(name: string): string {
  if (questions.some((one) => one.name === name)) return name;
  throw new Misuse(
    `There is no question "${name}". Possible: ${questions.map((one) => one.name).join(", ")}.`,
  );
}

/** Each range by itself: what is possible for a value is said before a million members are refused for it. */
function checkEnds(raw: Record<string, unknown>, varied: readonly Varied[]): void {
  const problems = varied.flatMap((one) =>
    [one.low, one.high].flatMap((value) => {
      try {
        checkJob(withSetting(raw, one.path, settingAt(one, value)));
        return [];
      } catch (error) {
        if (error instanceof InputError) return error.problems;
        throw error;
      }
    }),
  );
  if (problems.length > 0) throw new InputError(problems);
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

/** Works out the members in order; gives how many the file holds at the end. */
async function fill(sweep: Sweep, span: Span, table: TableFile, world: World): Promise<number> {
  const script = fileURLToPath(new URL("./sweep-worker.js", import.meta.url));
  const alone = span.workers < 2 || !existsSync(script);
  const pool = alone
    ? undefined
    : workerpool.pool(script, { maxWorkers: span.workers, workerType: "thread" });
  const blockAt = async (from: number): Promise<string> => {
    const to = Math.min(from + BLOCK, span.to);
    return pool ? await pool.exec("linesOf", [sweep, from, to]) : linesOf(sweep, from, to);
  };
  let stopped = false;
  const stop = () => {
    stopped = true;
  };
  process.once("SIGINT", stop);
  const start = world.now();
  let done = span.from;
  try {
    const waiting: Promise<string>[] = [];
    let next = span.from;
    while (done < span.to && !stopped) {
      for (; next < span.to && waiting.length < (pool ? AHEAD * span.workers : 1); next += BLOCK) {
        const block = blockAt(next);
        // one that fails is told when its turn comes
        block.catch(() => undefined);
        waiting.push(block);
      }
      table.add(await waiting.shift()!);
      done = Math.min(done + BLOCK, span.to);
      const left = ((world.now() - start) / (done - span.from)) * (span.to - done);
      world.follow(`${done} of ${span.to} members, ${formatDuration(left / 1000)} left`);
      // lets a Ctrl+C be heard where everything runs on this thread
      await new Promise((resolve) => setImmediate(resolve));
    }
    return done;
  } finally {
    process.off("SIGINT", stop);
    await pool?.terminate(true);
  }
}

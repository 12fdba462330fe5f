/** `castclock sweep`: one question over many jobs, spread evenly between bounds, on all cores, into a file. */
import { existsSync } from "node:fs";
import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import workerpool from "workerpool";
import { formatDuration } from "../../../lib/units/format.ts";
import { InputError } from "../../../lib/units/problem.ts";
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
  const members = wholeNumber(words.members, "--members", MOST_MEMBERS);
  const workers = Math.min(
    words.workers === undefined
      ? availableParallelism()
      : wholeNumber(words.workers, "--workers", MOST_WORKERS),
    Math.ceil(members / MOST_AT_ONCE),
  );
  const asked = {
    question: questionNamed(words.of ?? "demold"),
    raw: words.raw,
    varied: byWholeNumbers(words.raw, words.vary.map(variedOf)),
    quick: words.quick,
  };
  const wrong = problemsAtEnds(words.raw, asked.varied);
  if (wrong.length > 0) throw new InputError(wrong);
  const { keys, header } = columnsOf(asked);
  const sweep: Sweep = { ...asked, keys };
  const table = openTable(words.out, header);
  try {
    checkSame(sweep, table, words.out);
    table.begin();
    const begun = Math.min(table.lines, members);
    const done = await fillTable(sweep, { from: begun, to: members, workers }, table, world);
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

function questionNamed(name: string): QuestionName {
  if (Object.hasOwn(askable, name)) return name as QuestionName;
  throw new Misuse(`There is no question "${name}". Possible: ${Object.keys(askable).join(", ")}.`);
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

/** Works out the members on as many threads; gives how many the file holds at the end. */
async function fillTable(
  sweep: Sweep,
  span: Span,
  table: TableFile,
  world: World,
): Promise<number> {
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
  try {
    return await fill({
      ...span,
      workers: pool ? span.workers : 1,
      block: MOST_AT_ONCE,
      linesOf: async (from, to) =>
        pool ? await pool.exec("linesOf", [sweep, from, to]) : linesOf(sweep, from, to),
      take(lines, done) {
        table.add(lines);
        const left = ((world.now() - start) / (done - span.from)) * (span.to - done);
        world.follow(`${done} of ${span.to} members, ${formatDuration(left / 1000)} left`);
      },
      isStopped: () => stopped,
      // lets a Ctrl+C be heard where everything runs on this thread
      pause: () => new Promise((resolve) => setImmediate(resolve)),
    });
  } finally {
    process.off("SIGINT", stop);
    await pool?.terminate(true);
  }
}

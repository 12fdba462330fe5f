/** The run of many jobs: goes on while other sheets are read, until it is stopped or there is nothing left. */
import { signal } from "@preact/signals";
import type { Problem } from "../../../lib/units/problem.ts";
import { fill, MOST_AT_ONCE } from "../../sweep/fill.ts";
import type { Sweep } from "../../sweep/members.ts";
import { Gathered, type KindOf } from "./gathered.ts";
import { startThreads, type Threads } from "./threads.ts";

export interface Run {
  readonly sweep: Omit<Sweep, "keys">;
  /** The job's name, and its keys in words. */
  readonly of: string;
  readonly labels: ReadonlyMap<string, string>;
  readonly members: number;
  readonly done: number;
  readonly state: "running" | "stopped" | "done";
  /** s, from what it took so far; absent until a first block is there. */
  readonly left?: number | undefined;
  readonly gathered?: Gathered;
  readonly problems: readonly Problem[];
  /** What went wrong that nobody foresaw; `not loaded`: the file of the threads. */
  readonly fault?: string | undefined;
}

export const run = signal<Run | undefined>(undefined);

/** How often what is shown is brought up to date at most, and times what the last time took. ms */
const SHOW_MS = 250;
const SHOW_TIMES = 20;
/** Blocks for each thread, where there are few members: all of them have something to do, and the count moves. */
const BLOCKS_EACH = 8;
let threads: Threads | undefined;
/** What a thread needs for the run that is open. */
let open: Sweep | undefined;

function change(next: Partial<Run>): void {
  if (run.value) run.value = { ...run.value, ...next };
}

function endThreads(): void {
  threads?.end();
  threads = undefined;
}

/** Begins anew; what was gathered before is let go. */
export async function beginRun(given: {
  readonly sweep: Omit<Sweep, "keys">;
  readonly of: string;
  readonly labels: ReadonlyMap<string, string>;
  readonly members: number;
  readonly kindOf: KindOf;
}): Promise<void> {
  endThreads();
  const { sweep, of, labels, members, kindOf } = given;
  run.value = { sweep, of, labels, members, done: 0, state: "running", problems: [] };
  threads = startThreads();
  const mine = threads;
  try {
    const columns = await mine.columns(sweep);
    if (mine !== threads) return;
    if ("problems" in columns) {
      change({ state: "done", problems: columns.problems });
      return endThreads();
    }
    open = { ...sweep, keys: columns.keys };
    change({ gathered: new Gathered(open, columns.header, columns.figures, kindOf) });
    await goThrough(mine);
  } catch (error) {
    failed(error, mine);
  }
}

export function stopRun(): void {
  endThreads();
  change({ state: "stopped", done: run.value?.gathered?.count ?? 0 });
}

/** Goes on where it was stopped. */
export async function goOn(): Promise<void> {
  if (!run.value?.gathered || threads) return;
  threads = startThreads();
  const mine = threads;
  change({ state: "running", fault: undefined, left: undefined });
  try {
    await goThrough(mine);
  } catch (error) {
    failed(error, mine);
  }
}

/** Threads that were ended drop what they are at, which is no fault. */
function failed(error: unknown, mine: Threads): void {
  if (mine !== threads) return;
  endThreads();
  const words = error instanceof Error ? error.message : String(error);
  const fault = /worker error/i.test(words) ? "not loaded" : words;
  change({ state: "stopped", fault, done: run.value?.gathered?.count ?? 0 });
}

async function goThrough(mine: Threads): Promise<void> {
  const { members } = run.value!;
  const gathered = run.value!.gathered!;
  const sweep = open!;
  const from = gathered.count;
  const start = performance.now();
  let next = start;
  const show = (done: number) => {
    const began = performance.now();
    const left = ((began - start) / 1000 / (done - from)) * (members - done);
    change({ done, left });
    // drawn after this turn: what it takes is known in the next one
    setTimeout(() => {
      next = began + Math.max(SHOW_MS, SHOW_TIMES * (performance.now() - began));
    });
    next = Number.POSITIVE_INFINITY;
  };
  await fill({
    from,
    to: members,
    workers: mine.count,
    block: Math.min(MOST_AT_ONCE, Math.ceil(members / (BLOCKS_EACH * mine.count))),
    linesOf: (a, b) => mine.linesOf(sweep, a, b),
    take(lines, done) {
      if (mine !== threads) return;
      gathered.add(lines);
      if (performance.now() > next) show(done);
    },
    isStopped: () => mine !== threads,
  });
  if (mine !== threads) return;
  endThreads();
  change({ state: "done", done: gathered.count });
}

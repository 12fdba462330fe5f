/** The run of many jobs: goes on while other sheets are read, until it is stopped or there is nothing left. */
import { signal } from "@preact/signals";
import type { Problem } from "../../../lib/units/problem.ts";
import { fill } from "../../sweep/fill.ts";
import type { Sweep } from "../../sweep/members.ts";
import { Gathered, type KindOf } from "./gathered.ts";
import { startThreads, type Threads } from "./threads.ts";

export interface Run {
  readonly sweep: Omit<Sweep, "keys">;
  /** The job's name. */
  readonly of: string;
  readonly members: number;
  readonly done: number;
  readonly state: "running" | "stopped" | "done";
  /** s, from what it took so far; absent until a first block is there. */
  readonly left?: number;
  readonly gathered?: Gathered;
  readonly problems: readonly Problem[];
  /** What went wrong that nobody foresaw. */
  readonly fault?: string;
}

export const run = signal<Run | undefined>(undefined);

/** How often what is shown is brought up to date. ms */
const SHOW_MS = 250;
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
  readonly members: number;
  readonly kindOf: KindOf;
}): Promise<void> {
  endThreads();
  const { sweep, of, members, kindOf } = given;
  run.value = { sweep, of, members, done: 0, state: "running", problems: [] };
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
  change({ state: "running" });
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
  change({ state: "stopped", fault: error instanceof Error ? error.message : String(error) });
}

async function goThrough(mine: Threads): Promise<void> {
  const { members, done: from, gathered } = run.value!;
  const sweep = open!;
  const start = performance.now();
  let shown = start;
  let done = from;
  const show = () => {
    const left = ((performance.now() - start) / 1000 / (done - from)) * (members - done);
    change({ done, left });
    shown = performance.now();
  };
  await fill({
    from,
    to: members,
    workers: mine.count,
    linesOf: (a, b) => mine.linesOf(sweep, a, b),
    take(lines, now) {
      if (mine !== threads) return;
      gathered!.add(lines);
      done = now;
      if (performance.now() - shown > SHOW_MS) show();
    },
    isStopped: () => mine !== threads,
  });
  if (mine !== threads) return;
  endThreads();
  show();
  change({ state: "done" });
}

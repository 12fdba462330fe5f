/** The threads of the sheet of many jobs: as many as there are cores, started when they are needed. */
import workerpool from "workerpool";
import type { Sweep } from "../../sweep/members.ts";
import type { Columns } from "./many-worker.ts";
import script from "./many-worker.ts?worker&url";

export interface Threads {
  readonly count: number;
  columns(sweep: Omit<Sweep, "keys">): Promise<Columns>;
  linesOf(sweep: Sweep, from: number, to: number): Promise<string>;
  /** What they are at is dropped. */
  end(): void;
}

export function startThreads(count = navigator.hardwareConcurrency || 1): Threads {
  const pool = workerpool.pool(script, {
    maxWorkers: count,
    workerType: "web",
    workerOpts: { type: "module" },
  });
  return {
    count,
    columns: async (sweep) => await pool.exec("columns", [sweep]),
    linesOf: async (sweep, from, to) => await pool.exec("linesOf", [sweep, from, to]),
    end: () => void pool.terminate(true).catch(() => undefined),
  };
}

/** Works out the members of a sweep in order, a block at a time, whoever does the work. */
/** Members that a worker is handed at once: enough that handing them over costs nothing, few enough to be stopped soon. */
export const MOST_AT_ONCE = 32;

/** Blocks that wait for each worker: what is in memory at a time. */
const AHEAD = 3;

interface Filling {
  /** Members that are there already. */
  readonly from: number;
  readonly to: number;
  readonly workers: number;
  /** Members that are handed over at once. */
  readonly block: number;
  /** Lines of members `from` up to `to`. */
  readonly linesOf: (from: number, to: number) => Promise<string>;
  /** Each block in its turn, and how many members there are with it. */
  readonly take: (lines: string, done: number) => void;
  readonly isStopped: () => boolean;
  /** Between two blocks: lets others have a turn. */
  readonly pause?: () => Promise<void>;
}

/** @returns members that there are at the end: fewer than wanted when it was stopped */
export async function fill(filling: Filling): Promise<number> {
  const { from, to, workers, block: size, linesOf, take, isStopped, pause } = filling;
  const waiting: Promise<string>[] = [];
  let next = from;
  let done = from;
  while (done < to && !isStopped()) {
    for (; next < to && waiting.length < (workers < 2 ? 1 : AHEAD * workers); next += size) {
      const block = linesOf(next, Math.min(next + size, to));
      // one that fails is told when its turn comes
      block.catch(() => undefined);
      waiting.push(block);
    }
    const lines = await waiting.shift()!;
    done = Math.min(done + size, to);
    take(lines, done);
    await pause?.();
  }
  return done;
}

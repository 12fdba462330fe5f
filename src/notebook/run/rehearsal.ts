/**
 * Runs beforehand what the next turn of a dial may ask for, for nobody: the turn then meets a worker that knows its way,
 * and often the answer itself.
 */
import { readDials } from "../dials/dials.ts";
import { stepDial } from "../dials/step-dial.ts";
import { readPage } from "../page/page.ts";
import { withDial } from "../page/set-dial.ts";
import { openJobAtHand } from "./job-at-hand.ts";
import type { Hands, RunGiven, RunPreparer } from "./preparing.ts";
import type { ProgramWorker } from "./program-worker.ts";

/** Once a page rests, the quick runs that the next turn may ask for are done beforehand, for this long. */
const REHEARSED_MS = 600;
/** A page whose full run takes longer than this is not rehearsed, and a rehearsal that does is ended. */
export const TOO_LONG_MS = 3000;

interface Rehearsal {
  readonly worker: ProgramWorker;
  readonly preparer: RunPreparer;
  /** A newer run is wanted, or the page was left. */
  readonly isOver: () => boolean;
}

/** Runs what is asked one by one, for as long as a rehearsal may last. */
export async function rehearse(asked: Iterable<RunGiven>, stage: Rehearsal): Promise<void> {
  const { worker, preparer } = stage;
  const isOver = () => stage.isOver() || worker.isBusy;
  let left = REHEARSED_MS;
  let since = performance.now();
  for (const one of asked) {
    if (isOver()) return;
    const hands = await preparer.gather({ ...one, quick: true }, 0);
    if (isOver() || "problem" in hands) return;
    // reading the page anew counts, too: it takes the turns of the sheet itself
    left -= performance.now() - since;
    const took = await rehearseOne(one, hands, stage);
    if (took === undefined) return;
    left -= took;
    if (left <= 0) return;
    since = performance.now();
  }
}

/** ms that it took; undefined when it failed or was ended. */
function rehearseOne(
  one: RunGiven,
  { program, request }: Exclude<Hands, { problem: unknown }>,
  { worker, isOver }: Rehearsal,
): Promise<number | undefined> {
  return new Promise((resolve) => {
    let limit: ReturnType<typeof setTimeout> | undefined;
    const over = (milliseconds?: number) => {
      clearTimeout(limit);
      resolve(milliseconds);
    };
    // nobody waits for it: it may not keep a core busy until a run's own limit
    const giveUp = () => {
      if (!isOver()) worker.end();
      over();
    };
    worker.run(one.page, program, request, {
      began: () => {
        limit ??= setTimeout(giveUp, TOO_LONG_MS);
      },
      ended: ({ milliseconds }) => over(milliseconds),
      failed: () => over(),
      lasts: () => {},
    });
  });
}

/** The page as it stands, then with each dial one step up and down. */
export function* startAndNeighbors(given: RunGiven): Generator<RunGiven> {
  yield given;
  const names = given.page.dials.map((dial) => dial.name);
  yield* neighborsOf(given, names);
}

/** The page with dials one step up or down: made one by one, as they are run. */
export function* neighborsOf(given: RunGiven, names: readonly string[]): Generator<RunGiven> {
  const open = given.jobText === undefined ? undefined : openJobAtHand(given.jobText);
  if (open && "problems" in open) return;
  for (const reading of readDials(given.page, open).readings) {
    const { name } = reading.dial;
    if (!names.includes(name)) continue;
    for (const direction of [1, -1] as const)
      yield {
        ...given,
        page: readPage(withDial(given.page, name, stepDial(reading, direction))),
      };
  }
}

/** Lines of the log as what the library asks for: of tonight as what has happened so far, of a job as evidence. */

import type { Happened } from "../../../lib/models/shots/timeline.ts";
import type { ShopLine } from "../../../lib/questions/fit/shop.ts";
import { isProblem, readQuantity } from "../../../lib/units/quantity.ts";
import type { LogEntry } from "./entries.ts";

/** A pause longer than this parts two evenings, ms. */
const PAUSE = 3 * 3600e3;

/** Lines of this job up to the last one, back to the first long pause; in order. `at` is when a line was written: as opened. */
export function tonight(entries: readonly LogEntry[], job: string): LogEntry[] {
  const own = entries
    .filter((e) => e.job === job && Number.isFinite(Date.parse(e.at)))
    .toSorted((a, b) => a.at.localeCompare(b.at));
  const after = (a: LogEntry, b: LogEntry) => Date.parse(b.at) - Date.parse(a.at);
  const from = own.findLastIndex((e, i) => i > 0 && after(own[i - 1]!, e) > PAUSE);
  return own.slice(Math.max(0, from));
}

/** Lines as shots: when each was filled and opened, s. */
interface Timed {
  readonly mold: number; // from 1
  readonly injected: number;
  readonly opened: number;
}

/**
 * The shots of an evening, s from the first. The log names no mold: a shot went into the next mold in turn, or where that
 * was still closed, into the next one that was free. Lines that were written one after the other, later than the shots they tell
 * of, leave none free: then only their order and how long each was closed is taken, and the last of each mold for when it was written.
 *
 * @param pause of a mold between two shots, s: where the lines themselves don't say it
 */
export function happenedOf(evening: readonly LogEntry[], molds: number, pause: number): Happened[] {
  const written = evening.map(({ at, seconds }) => ({
    injected: Date.parse(at) / 1000 - seconds,
    opened: Date.parse(at) / 1000,
  }));
  const shots = asTimed(written, molds) ?? inTurn(written, molds, pause);
  const start = Math.min(...shots.map(({ injected }) => injected));
  return shots
    .sort((a, b) => a.injected - b.injected)
    .map(({ mold, injected, opened }) => ({
      mold,
      injected: injected - start,
      opened: opened - start,
    }));
}

type Written = Omit<Timed, "mold">;

/** Each line at its own time; null where more molds would have been closed at once than there are. */
function asTimed(written: readonly Written[], molds: number): Timed[] | null {
  const freeFrom = Array.from({ length: molds }, () => Number.NEGATIVE_INFINITY);
  let last = -1;
  const shots: Timed[] = [];
  for (const { injected, opened } of written.toSorted((a, b) => a.injected - b.injected)) {
    const turn = Array.from(freeFrom, (_, i) => (last + 1 + i) % molds);
    const free = turn.find((i) => freeFrom[i]! <= injected);
    if (free === undefined) return null;
    last = free;
    freeFrom[last] = opened;
    shots.push({ mold: last + 1, injected, opened });
  }
  return shots;
}

/** In the order in which they were written, mold after mold; each as late as the next one in its mold lets it be. */
function inTurn(written: readonly Written[], molds: number, pause: number): Timed[] {
  const next: (number | undefined)[] = [];
  return written
    .map((line, i) => ({ ...line, mold: (i % molds) + 1 }))
    .toReversed()
    .map(({ mold, injected, opened }) => {
      const before = next[mold];
      const latest = before === undefined || opened <= before ? opened : before - pause;
      const shot = { mold, injected: latest - (opened - injected), opened: latest };
      next[mold] = shot.injected;
      return shot;
    })
    .toReversed();
}

/** All lines of this job as evidence for `fit`; SI and K. A reading that was not typed is null. */
export function shotsOf(entries: readonly LogEntry[], job: string): ShopLine[] {
  const kelvin = (typed: string) => {
    const read = readQuantity(typed, "temperature");
    return typed.trim() === "" || isProblem(read) ? null : read.value;
  };
  return entries
    .filter((e) => e.job === job)
    .map(({ mold, plastisol, seconds, verdict }) => ({
      mold: kelvin(mold),
      shot: kelvin(plastisol),
      opened: seconds,
      verdict,
    }));
}

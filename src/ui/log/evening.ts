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

/**
 * The shots of an evening, s from the first. The log names no mold: a shot went into the next mold in turn, or where that
 * was still closed, into the next one that was free.
 *
 * @returns more molds than `molds` where so many were closed at once
 */
export function happenedOf(evening: readonly LogEntry[], molds: number): Happened[] {
  const shots = evening
    .map(({ at, seconds }) => ({
      injected: Date.parse(at) / 1000 - seconds,
      opened: Date.parse(at) / 1000,
    }))
    .sort((a, b) => a.injected - b.injected);
  const start = shots[0]?.injected ?? 0;
  const freeFrom: number[] = Array.from({ length: molds }, () => Number.NEGATIVE_INFINITY);
  let last = -1;
  return shots.map(({ injected, opened }) => {
    const turn = Array.from(freeFrom, (_, i) => (last + 1 + i) % freeFrom.length);
    const free = turn.find((i) => freeFrom[i]! <= injected);
    last = free ?? freeFrom.push(0) - 1;
    freeFrom[last] = opened;
    return { mold: last + 1, injected: injected - start, opened: opened - start };
  });
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

/**
 * A bench timer as data. Everything is told from the wall clock: `startedAt` and the seconds of its marks are
 * kept, nothing is counted, so that a reload, a locked phone or a night's sleep change nothing.
 */

import type { Range } from "../../../lib/confidence/range.ts";

/** An opening, the second color's window, or an answer of a sheet. */
export type TimerKind = "open" | "second color" | "answer";

/** The job that a timer was started with: it stays that one, whichever is chosen later. */
export interface TimedJob {
  readonly text: string;
  /** As typed, for a line of the log. */
  readonly room: string;
  readonly mold: string;
  readonly plastisol: string;
}

/** The sheet whose answer is timed, so that a reading of the mold is answered by the same sheet. */
export interface TimedAnswer {
  readonly page: string;
  readonly label: string;
}

export interface TimerMark {
  readonly word: string;
  /** Seconds after the start. */
  readonly seconds: number;
  /** ms since the epoch at which it rang; absent while it has not. */
  readonly rangAt?: number;
  /** Nobody could hear it: the browser had no sound. */
  readonly silent?: boolean;
}

export interface BenchTimer {
  readonly name: string;
  readonly kind: TimerKind;
  readonly jobName: string;
  readonly shot: number;
  /** ms since the epoch. */
  readonly startedAt: number;
  readonly marks: readonly TimerMark[];
  /** The open time with its range, s: for the log. */
  readonly foretold?: Range;
  /** What the marks were last worked out from, in words. */
  readonly from: string;
  /** Absent in timers of an earlier version. */
  readonly job?: TimedJob;
  readonly answer?: TimedAnswer;
  /** What was read or changed on the way: goes into the log. */
  readonly corrections?: readonly string[];
}

interface TimerReading {
  readonly elapsed: number;
  /** The mark that comes next, and the seconds to it; absent when all are past. */
  readonly next?: TimerMark;
  readonly left?: number;
  /** The last mark that is past. */
  readonly past?: TimerMark;
}

/** Marks later than their time by more than this rang late, and it is said so. s */
const LATE = 3;

export function startTimer(
  what: Omit<BenchTimer, "startedAt" | "marks">,
  marks: readonly TimerMark[],
  now: number,
): BenchTimer {
  return { ...what, startedAt: now, marks: inOrder(marks) };
}

export function readTimer(timer: BenchTimer, now: number): TimerReading {
  const elapsed = Math.max(0, (now - timer.startedAt) / 1000);
  const next = timer.marks.find((m) => m.seconds > elapsed);
  const past = timer.marks.findLast((m) => m.seconds <= elapsed);
  return {
    elapsed,
    ...(next && { next, left: next.seconds - elapsed }),
    ...(past && { past }),
  };
}

/** The marks that are due and have not rung. */
export function dueMarks(timer: BenchTimer, now: number): TimerMark[] {
  const elapsed = (now - timer.startedAt) / 1000;
  return timer.marks.filter((m) => m.rangAt === undefined && m.seconds <= elapsed);
}

/** The timer with its due marks noted as rung. */
export function withRung(timer: BenchTimer, now: number, isHeard = true): BenchTimer {
  const due = new Set(dueMarks(timer, now));
  return {
    ...timer,
    marks: timer.marks.map((m) =>
      due.has(m) ? { ...m, rangAt: now, ...(!isHeard && { silent: true }) } : m,
    ),
  };
}

/** How late a mark rang, s; 0 when it was in time. */
export function lateness(timer: BenchTimer, mark: TimerMark): number {
  if (mark.rangAt === undefined) return 0;
  const late = (mark.rangAt - timer.startedAt) / 1000 - mark.seconds;
  return late > LATE ? late : 0;
}

/**
 * New marks for a running timer, from a reading or another shot number. A mark that moves into the future rings
 * again; one that stays in the past does not.
 */
export function corrected(
  timer: BenchTimer,
  marks: readonly TimerMark[],
  what: Pick<BenchTimer, "from" | "shot" | "foretold" | "job" | "corrections">,
  now: number,
): BenchTimer {
  const elapsed = (now - timer.startedAt) / 1000;
  const before = new Map(timer.marks.map((m) => [m.word, m]));
  const next = marks.map((m) => {
    const rangAt = before.get(m.word)?.rangAt;
    const silent = before.get(m.word)?.silent;
    return m.seconds <= elapsed && rangAt !== undefined
      ? { ...m, rangAt, ...(silent && { silent }) }
      : m;
  });
  return { ...timer, ...what, marks: inOrder(next) };
}

/** All marks that are still to come, later by so many seconds: the evening goes on from where it is. */
export function delayed(timer: BenchTimer, seconds: number, now: number): BenchTimer {
  const elapsed = (now - timer.startedAt) / 1000;
  const later = (m: TimerMark) =>
    m.seconds > elapsed ? { ...m, seconds: m.seconds + seconds } : m;
  return { ...timer, marks: timer.marks.map(later) };
}

function inOrder(marks: readonly TimerMark[]): TimerMark[] {
  return marks.toSorted((a, b) => a.seconds - b.seconds);
}

/** Names of the places on the bench; a timer takes one. */
export const PLACES = ["Mold A", "Mold B", "Mold C", "Mold D"] as const;

/** What storage gave back, or nothing when it is no timer. */
export function readStored(text: string | null): (BenchTimer | null)[] {
  const empty: (BenchTimer | null)[] = PLACES.map(() => null);
  if (text === null) return empty;
  try {
    const stored: unknown = JSON.parse(text);
    if (!Array.isArray(stored)) return empty;
    return PLACES.map((_, i) => (isTimer(stored[i]) ? stored[i] : null));
  } catch {
    return empty; // not ours, or cut short
  }
}

function isTimer(given: unknown): given is BenchTimer {
  if (typeof given !== "object" || given === null) return false;
  const t = given as Record<string, unknown>;
  return (
    typeof t["name"] === "string" &&
    typeof t["startedAt"] === "number" &&
    typeof t["shot"] === "number" &&
    Array.isArray(t["marks"]) &&
    t["marks"].every(
      (m: unknown) =>
        typeof m === "object" &&
        m !== null &&
        typeof (m as TimerMark).word === "string" &&
        Number.isFinite((m as TimerMark).seconds),
    )
  );
}

/** A log of shots as a table: mold, injected, and opened where it is; times of day, or from the start of the evening. */
import { happenedProblems, type LoggedShot } from "../../lib/models/shots/happened.ts";
import type { Happened } from "../../lib/models/shots/timeline.ts";
import { clockSeconds, DAY, isBareClock, isTimeOfDay } from "../../lib/units/clock.ts";
import { formatDuration } from "../../lib/units/format.ts";
import { InputError, type Problem } from "../../lib/units/problem.ts";
import { isProblem, readQuantity } from "../../lib/units/quantity.ts";
import { isEmptyTable, readTable } from "../notebook/files/table-text.ts";

const COLUMNS = { mold: "mold", injected: "injected", opened: "opened" } as const;

/** What the job says of the evening. */
interface Evening {
  readonly start: number | null; // s after midnight
  readonly session: number; // s
  readonly molds: number | null; // in rotation; null: not known
}

interface BenchLog {
  readonly shots: Happened[];
  /** From when its times count, s after midnight; null where neither job nor log says it. */
  readonly start: number | null;
}

/** The first shot of an evening is injected within this of its start, s; all others no longer before it. */
const NEAR = 2 * 3600;
/** Where nothing says when the evening starts, a first shot so soon is counted from it, s. */
const SOON = 1800;
/** An evening that runs so much longer than it was meant to is none, s. */
const OVERTIME = 6 * 3600;

type Reading = "clock" | "elapsed";

/**
 * How the file's times like 19:05 or 0:07:30 are meant, by the first of them: as far from the start as a first shot may be.
 *
 * @returns a problem where both or neither can be
 */
function readingOf(
  first: string,
  { start, session }: Evening,
): Reading | "both" | "half a day off" | "neither" {
  const elapsed = readQuantity(first, "duration");
  const clock = clockSeconds(first);
  const since = isProblem(elapsed) ? Number.POSITIVE_INFINITY : elapsed.value;
  if (clock === undefined || clock >= DAY) return since <= NEAR ? "elapsed" : "neither";
  if (start === null) {
    const counted = since <= Math.max(session, NEAR);
    if (counted && clock > SOON) return "both";
    return counted ? "elapsed" : "clock";
  }
  const near = (at: number) => Math.abs(((at - start + 1.5 * DAY) % DAY) - DAY / 2) <= NEAR;
  const counted = since <= NEAR;
  if (near(clock)) return counted && clock - start !== since ? "both" : "clock";
  // 7:05 of an evening that starts at 19:00
  if (counted) return near(clock + DAY / 2) && clock > SOON ? "half a day off" : "elapsed";
  return "neither";
}

/**
 * Reads a log of shots. Times are those of the day, as a plan with a start prints them (`19:05:00`, `7:05 PM`, past
 * midnight too), or count from the first shot, like `0:12:30` or `12 min 30 s`; a shot still in its mold has no `opened`.
 * Where the job has no start, times of the day count from the first line.
 *
 * @param evening null where the job can't be read: what hangs on it is not judged then
 * @throws InputError with every problem at once, by line; a time that can be meant as either is one
 * @example readBenchLog("mold,injected,opened\n1,0 s,7 min").shots[0].opened // 420
 * @example readBenchLog("mold,injected,opened\n1,19:00:00,19:07:00").shots[0].opened // 420
 */
export function readBenchLog(
  text: string,
  evening: Evening | null = { start: null, session: 3 * 3600, molds: null },
): BenchLog {
  if (isEmptyTable(text)) throw new InputError([{ code: "log_of_shots_empty", path: "line 1" }]);
  const { heading, lines: written } = readTable(text);
  const names = heading.map((name) => name.trim().toLowerCase());
  const problems: Problem[] = [];
  for (const given of [COLUMNS.mold, COLUMNS.injected])
    if (!names.includes(given))
      problems.push({ code: "no_column", path: "line 1", given, suggestion: given });
  if (problems.length > 0) throw new InputError(problems);
  const lines = written.map(({ cells, number }) => ({
    number,
    cell: (name: string) => (cells[names.indexOf(name)] ?? "").trim(),
  }));
  const { shots, start, problems: wrong } = readLines(lines, evening);
  if (wrong.length > 0) throw new InputError(wrong);
  return { shots: shots.map(({ path: _, ...shot }) => shot), start };
}

interface Line {
  readonly number: number;
  readonly cell: (name: string) => string;
}

/** The lines of a log, read in one way. */
interface ReadLines {
  readonly shots: LoggedShot[];
  readonly start: number | null;
  readonly problems: Problem[];
}

function readLines(lines: readonly Line[], evening: Evening | null): ReadLines {
  const cells = lines.flatMap(({ number, cell }) =>
    [COLUMNS.injected, COLUMNS.opened].map((name) => ({
      path: `line ${number}, ${name}`,
      typed: cell(name),
    })),
  );
  const first = cells.find(({ typed }) => typed !== "");
  if (first && cells.some(({ typed }) => isTimeOfDay(typed)))
    return readAs("clock", lines, { evening, first });
  if (!evening || !first || !isBareClock(first.typed))
    return readAs("elapsed", lines, { evening, first });
  const meant = readingOf(first.typed, evening);
  if (meant === "clock" || meant === "elapsed") return readAs(meant, lines, { evening, first });
  const both = (["clock", "elapsed"] as const).map((reading) =>
    readAs(reading, lines, { evening, first }),
  ) as [ReadLines, ReadLines];
  const told =
    meant === "both" ? toldByLines(both, clockSeconds(first.typed)!, evening) : undefined;
  return told ?? { ...both[0], problems: [unsure(meant, first), ...ofEither(both)] };
}

/** Problems of a time that is read in the wrong way, or of one that can't have been. */
const FAR: ReadonlySet<string> = new Set(["far_from_start", "two_ways_of_times"]);
const NOT_SO: ReadonlySet<string> = new Set([...FAR, "opened_before_filled", "mold_still_closed"]);

/** A first time so near to the planned start is that, s; and no mold is closed for less time by the clock. */
const A_MINUTE = 60;

/** Of two ways to read a log the one that can have been: the other runs backwards, or has molds closed for seconds; undefined: both. */
function toldByLines(
  [clock, elapsed]: readonly [ReadLines, ReadLines],
  first: number,
  { start }: Evening,
): ReadLines | undefined {
  const [a, b] = [clock, elapsed].map(({ problems }) =>
    problems.some(({ code }) => NOT_SO.has(code)),
  );
  if (a !== b) return a ? elapsed : clock;
  if (start === null) return undefined;
  if (Math.abs(first - start) < A_MINUTE) return clock;
  const closed = ({ shots }: ReadLines) =>
    shots.flatMap(({ injected, opened }) => (opened === null ? [] : [opened - injected]));
  const [byClock, since] = [closed(clock), closed(elapsed)];
  const isSeconds = since.length > 0 && since.every((s) => s < A_MINUTE);
  return isSeconds && byClock.every((s) => s >= A_MINUTE) ? clock : undefined;
}

/** What can't be told of the first time. */
function unsure(meant: "both" | "half a day off" | "neither", { path, typed }: Cell): Problem {
  return meant === "neither"
    ? farFromStart("first_far_from_start", path, typed.slice(0, 40), NEAR)
    : { code: "clock_or_elapsed", path, given: typed };
}

/** What is wrong whichever way the times are read: what does not hang on it is found with either, though not always with both. */
function ofEither([one, other]: readonly [ReadLines, ReadLines]): Problem[] {
  const isIn = (problems: readonly Problem[], { code, path }: Problem) =>
    problems.some((too) => too.code === code && too.path === path);
  const more = other.problems.filter((found) => !isIn(one.problems, found));
  return [
    ...one.problems.filter(
      (found) => !NOT_SO.has(found.code) || (!FAR.has(found.code) && isIn(other.problems, found)),
    ),
    ...more.filter(({ code }) => !NOT_SO.has(code)),
  ];
}

function readAs(
  reading: Reading,
  lines: readonly Line[],
  { evening, first }: { readonly evening: Evening | null; readonly first: Cell | undefined },
): ReadLines {
  const problems: Problem[] = [];
  const times = new Times(reading, { evening, first: first?.typed ?? "" }, problems);
  const shots = lines.map(({ number, cell }): LoggedShot => {
    const mold = cell(COLUMNS.mold);
    if (!/^\d+$/.test(mold))
      problems.push({ code: "not_whole", path: `line ${number}, mold`, given: mold.slice(0, 40) });
    const at = (name: string) => times.read(cell(name), `line ${number}, ${name}`);
    return {
      mold: Number(mold),
      injected: at(COLUMNS.injected),
      opened: cell(COLUMNS.opened) === "" ? null : at(COLUMNS.opened),
      path: `line ${number}`,
    };
  });
  // what can be read is judged along with what can't
  const wrong = new Set(problems.map(({ path }) => path.split(",")[0]));
  const readable = shots.filter(({ path }) => !wrong.has(path));
  problems.push(...happenedProblems(readable, evening?.molds ?? null));
  return { shots, start: times.start, problems };
}

interface Cell {
  readonly path: string;
  readonly typed: string;
}

/** Farther from the start than the bounds, which are taken themselves. */
function farFromStart(
  code: "first_far_from_start" | "far_from_start",
  path: string,
  given: string,
  latest: number,
): Problem {
  return { code, path, given, least: formatDuration(NEAR), most: formatDuration(latest) };
}

/** 7 pm: an hour of the day without its minutes. */
const BARE_HOUR = /^(\d{1,2})\s*([ap])\.?m\.?$/i;

/** What is no time in any way: all that a log takes is named, not only the units of a duration. */
function asLogTime(problem: Problem, typed: string): Problem {
  if (problem.code !== "unknown_unit" && problem.code !== "not_a_quantity") return problem;
  const [, hour, half] = BARE_HOUR.exec(typed) ?? [];
  const isHour = Number(hour) >= 1 && Number(hour) <= 12;
  return {
    code: "no_time_of_log",
    path: problem.path,
    given: typed.slice(0, 40),
    ...(isHour && { suggestion: `${hour}:00 ${half!.toUpperCase()}M` }),
  };
}

/** The times of one log, all read in one way. */
class Times {
  /** s after midnight. */
  readonly start: number | null;
  private readonly bare: Reading;
  private readonly first: string;
  private readonly latest: number;
  private readonly problems: Problem[];

  constructor(
    reading: Reading,
    { evening, first }: { readonly evening: Evening | null; readonly first: string },
    problems: Problem[],
  ) {
    this.problems = problems;
    this.latest = evening ? evening.session + OVERTIME : Number.POSITIVE_INFINITY;
    this.first = first.slice(0, 40);
    this.bare = reading;
    const begins = reading === "clock" ? clockSeconds(first) : undefined;
    this.start = evening?.start ?? begins ?? null;
  }

  /** s from the start of the evening. */
  read(typed: string, path: string): number {
    if (typed === "") {
      this.problems.push({ code: "empty_cell", path, possible: ["19:05:00", "12 min 30 s"] });
      return 0;
    }
    const seconds = this.secondsOf(typed, path);
    if (seconds !== null && !(seconds >= -NEAR && seconds <= this.latest)) {
      const given = typed.slice(0, 40);
      this.problems.push(
        this.isOfDay(typed)
          ? { code: "two_ways_of_times", path, given, suggestion: this.first }
          : farFromStart("far_from_start", path, given, this.latest),
      );
    }
    return seconds ?? 0;
  }

  /** Times count from the first shot here, and this one does not, but is of this evening. */
  private isOfDay(typed: string): boolean {
    const clock = this.bare === "elapsed" && isBareClock(typed) ? clockSeconds(typed) : undefined;
    if (clock === undefined || clock >= DAY || this.start === null) return false;
    return (clock - this.start + NEAR + DAY) % DAY <= this.latest + NEAR;
  }

  private secondsOf(typed: string, path: string): number | null {
    const clock = clockSeconds(typed);
    const ofDay = isTimeOfDay(typed) || (isBareClock(typed) && this.bare === "clock");
    if (ofDay && clock !== undefined && clock >= DAY) return Number.POSITIVE_INFINITY;
    if (ofDay && clock !== undefined && this.start !== null)
      return ((clock - this.start + NEAR + DAY) % DAY) - NEAR;
    const read = readQuantity(typed, "duration", path);
    if (!isProblem(read)) return read.value;
    this.problems.push(asLogTime(read, typed));
    return null;
  }
}

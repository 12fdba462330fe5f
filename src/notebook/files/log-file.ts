/**
 * A log as people have it: a table of a probe's temperatures, or of shots with their verdicts; separated by commas,
 * semicolons or tabs; times in seconds, minutes or off the clock.
 */
import type { ShopLog, TemperatureLog } from "../../../lib/questions/fit/log.ts";
import type { ShopLine } from "../../../lib/questions/fit/shop.ts";
import { shopVerdicts } from "../../../lib/questions/fit/shop-verdicts.ts";
import { clockSeconds, DAY } from "../../../lib/units/clock.ts";
import type { Kind } from "../../../lib/units/kinds.ts";
import { InputError, type Problem } from "../../../lib/units/problem.ts";
import {
  isProblem,
  readQuantity,
  valueIn,
  withPossibleUnits,
} from "../../../lib/units/quantity.ts";
import { isEmptyTable, readTable, type TableLine } from "./table-text.ts";

const NUMBER = /^[-+]?\d+(?:[.,]\d+)?$/;
/** Characters of a heading that are looked at. */
const LONGEST_HEADING = 120;

/** What was done to a log before it was fitted, for the reader. */
interface LogNotes {
  /** Cells without a reading, and single readings far off their neighbors. */
  readonly gaps: number;
  readonly spikes: number;
  /** Readings before the plastic came, and when it came, s after the first. */
  readonly before: number;
  readonly start: number;
}

export type ReadLog =
  | { readonly kind: "probe"; readonly log: TemperatureLog; readonly notes: LogNotes }
  | {
      readonly kind: "shop";
      readonly log: ShopLog;
      /** Of each line its number in the file, heading and empty ones counted. */
      readonly numbers: readonly number[];
    };

interface Column {
  readonly name: string;
  readonly unit: string;
}

/** A heading: `time`, `time s`, `Time (s)`, `Temp [degF]`, `mold (degC)`, `Mold temperature degC`. */
function headingOf(text: string): Column {
  // short and of single spaces: the pattern tries every way to part it
  const short = text.trim().slice(0, LONGEST_HEADING).replace(/\s+/g, " ");
  // a name that is known may have several words; one word after it is its unit
  const known = KNOWN.find((name) => short.toLowerCase().startsWith(name));
  const rest =
    known && /^(?: ?[([] ?([^)\] ]+) ?[)\]]| ([^)\] ]+)|)$/.exec(short.slice(known.length));
  if (known && rest) return { name: known, unit: rest[1] ?? rest[2] ?? "" };
  const [, name = "", unit = ""] =
    /^([A-Za-z]+(?: [a-z]+)*?)? ?[([]? ?([^)\] ]*) ?[)\]]?$/.exec(short) ?? [];
  const plain = name.toLowerCase().trim();
  // a bare word is a name, not a unit
  return plain === "" ? { name: unit.toLowerCase(), unit: "" } : { name: plain, unit };
}

const WARM = ["temperature", "temp"] as const;
const HOT = ["plastisol", "plastic", "shot"] as const;
const NAMES = {
  time: ["time", "clock", "elapsed", "t"],
  temperature: ["temperature", "temp", "probe", "reading"],
  mold: ["mold temperature", "mold temp", "face"],
  shot: ["plastisol", "plastic", ...WARM.flatMap((warm) => HOT.map((hot) => `${hot} ${warm}`))],
  seconds: ["seconds", "opened", "open after", "sec"],
  injected: ["injected", "shot at"],
  verdict: ["verdict", "result"],
} as const;
/** Columns whose bare names are those of a number: with a temperature in heading or cells they are readings. */
const NUMBERED = { mold: "mold", shot: "shot" } as const;

/** From long to short: of two that begin alike the longer is meant. */
const KNOWN = [...Object.values(NAMES).flat(), ...Object.values(NUMBERED)].toSorted(
  (a, b) => b.length - a.length,
);

class Table {
  readonly problems: Problem[] = [];
  readonly columns: readonly Column[];
  readonly lines: readonly TableLine[];

  constructor(text: string) {
    const { heading, lines } = readTable(text);
    this.columns = heading.map(headingOf);
    this.lines = lines;
  }

  at(of: keyof typeof NAMES): number {
    return this.columns.findIndex(({ name }) => (NAMES[of] as readonly string[]).includes(name));
  }

  /** The column of a temperature; `bare`: also where its name alone stands for one. */
  reading(of: keyof typeof NUMBERED, bare: boolean): number {
    const named = this.at(of);
    if (named >= 0) return named;
    const isTemperature = (typed: string) => !isProblem(readQuantity(typed, "temperature"));
    return this.columns.findIndex(
      ({ name, unit }, at) =>
        name === NUMBERED[of] &&
        (bare ||
          isTemperature(`20 ${unit}`) ||
          this.lines.some((line) => isTemperature(this.cell(line, at)))),
    );
  }

  needed(of: keyof typeof NAMES, example: string): number {
    const at = this.at(of);
    if (at < 0)
      this.problems.push({ code: "no_column", path: "line 1", given: of, suggestion: example });
    return at;
  }

  cell(line: TableLine, at: number): string {
    return (at < 0 ? "" : (line.cells[at] ?? "")).trim();
  }

  /** The quantity of a cell; NaN with a problem, null when it is empty. */
  quantity(
    line: TableLine,
    at: number,
    kind: Kind,
    bounds: { least: number; most: number },
    otherwise = "",
  ): number | null {
    const cell = this.cell(line, at);
    if (cell === "") return null;
    const { name, unit } = this.columns[at]!;
    const path = `line ${line.number}, ${name}`;
    const given = unit || otherwise;
    const read = readQuantity(
      given !== "" && NUMBER.test(cell) ? `${cell} ${given}` : cell,
      kind,
      path,
    );
    if (isProblem(read)) {
      this.problems.push(withPossibleUnits(read, kind, bounds.least, bounds.most));
      return Number.NaN;
    }
    const { value } = read;
    if (value >= bounds.least && value <= bounds.most) return value;
    const shown = (si: number) =>
      `${Number(valueIn(si, read.unit, kind).toPrecision(4))} ${read.unit}`;
    this.problems.push({
      code: value < bounds.least ? "too_small" : "too_big",
      path,
      given: given !== "" && NUMBER.test(cell) ? `${cell} ${given}` : cell,
      least: shown(bounds.least),
      most: shown(bounds.most),
    });
    return Number.NaN;
  }

  done(): void {
    if (this.problems.length > 0) throw new InputError(this.problems);
  }
}

const TEMPERATURES = { least: 230, most: 650 };

/**
 * Reads a log. The first line names the columns. A probe's log has `time` and `temperature`; a shop's log has `seconds`
 * and `verdict`, and `mold` and `plastisol` where they were read; beside `injected` and `opened` a bare `mold` is its number,
 * `mold degC` its reading. Units stand in the heading or in each cell; other columns are
 * passed over. A probe's log may start before the shot, have gaps and single wild readings.
 *
 * @throws InputError with every problem at once, by line, in the unit that was typed
 * @example readLog("time s, temperature degC\n0, 170\n60, 150").kind // "probe"
 */
export function readLog(text: string): ReadLog {
  if (isEmptyTable(text)) throw new InputError([{ code: "log_empty", path: "line 1" }]);
  const table = new Table(text);
  if (table.at("verdict") >= 0) return shopLog(table);
  // shots without verdicts, as a plan takes them, are no probe's log with two columns missing
  const ofShots = table.at("injected") >= 0 || table.at("seconds") >= 0;
  if (ofShots && table.at("temperature") < 0)
    throw new InputError([{ code: "no_verdicts", path: "line 1" }]);
  return probeLog(table);
}

function shopLog(table: Table): ReadLog {
  const [verdictAt, secondsAt] = [table.at("verdict"), table.needed("seconds", "seconds")];
  // in a log of an evening a mold is a number, and opened a time like injected
  const injectedAt = table.at("injected");
  const moldAt = table.reading("mold", injectedAt < 0);
  const shotAt = table.reading("shot", false);
  table.done();
  const bare = table.columns.findIndex(({ name, unit }) => name === "mold" && unit === "");
  const moldNumberAt = injectedAt < 0 ? -1 : bare;
  let [days, last] = [0, Number.NEGATIVE_INFINITY];
  const lines = table.lines.map((line): ShopLine => {
    const word = table.cell(line, verdictAt).toLowerCase();
    const verdict = shopVerdicts.find((known) => known === word);
    if (!verdict)
      table.problems.push({
        code: "unknown_word",
        path: `line ${line.number}, verdict`,
        given: word.slice(0, 40),
        possible: shopVerdicts,
      });
    const { at, opened } =
      injectedAt < 0
        ? { at: null, opened: openedAfter(table, line, secondsAt) }
        : between(table, line, injectedAt, secondsAt);
    // past midnight the clock begins anew
    if (at !== null && at + days < last - DAY / 2) days += DAY;
    if (at !== null) last = at + days;
    const mold = moldNumberAt < 0 ? "" : table.cell(line, moldNumberAt);
    return {
      mold: table.quantity(line, moldAt, "temperature", TEMPERATURES),
      shot: table.quantity(line, shotAt, "temperature", TEMPERATURES),
      opened,
      verdict: verdict ?? "good",
      ...(at !== null && { filled: { mold, at: at + days } }),
    };
  });
  table.done();
  return { kind: "shop", log: { lines }, numbers: table.lines.map(({ number }) => number) };
}

/** `390`, `6:30` or `6.5 min` after the shot. */
function openedAfter(table: Table, line: TableLine, at: number): number {
  const minutes = /^(\d{1,3}):(\d{2})$/.exec(table.cell(line, at));
  if (minutes) return Number(minutes[1]) * 60 + Number(minutes[2]);
  const opened = table.quantity(line, at, "duration", OPENED, "s");
  if (opened === null) emptyCell(table, line, at, "390");
  return opened ?? Number.NaN;
}

/** A shot is in its mold for this long, s. */
const OPENED = { least: 1, most: 6 * 3600 };

function emptyCell(table: Table, line: TableLine, at: number, like: string): void {
  const path = `line ${line.number}, ${table.columns[at]!.name}`;
  table.problems.push({ code: "empty_cell", path, possible: [like] });
}

/** From a shot to its opening, both times of the day, past midnight too, or both counted from somewhere. */
function between(
  table: Table,
  line: TableLine,
  from: number,
  to: number,
): { readonly at: number; readonly opened: number } {
  const [a, b] = [from, to].map((at) => {
    const cell = table.cell(line, at);
    if (cell === "") emptyCell(table, line, at, "19:05:00");
    // from 7:05 to 7:12 are seven minutes or seven seconds
    if (/^\d+:\d+$/.test(cell)) {
      const path = `line ${line.number}, ${table.columns[at]!.name}`;
      table.problems.push({ code: "clock_or_elapsed", path, given: cell });
      return Number.NaN;
    }
    return (
      clockSeconds(cell) ??
      table.quantity(line, at, "duration", { least: 0, most: DAY }, "s") ??
      Number.NaN
    );
  }) as [number, number];
  const opened = b < a - DAY / 2 ? b + DAY - a : b - a;
  if (!Number.isNaN(opened) && !(opened >= OPENED.least && opened <= OPENED.most))
    table.problems.push({
      code: opened < OPENED.least ? "too_small" : "too_big",
      path: `line ${line.number}, ${table.columns[to]!.name}`,
      given: `${Math.round(opened)} s after the shot`,
      least: "1 s",
      most: "6 h",
    });
  return { at: a, opened };
}

/** 14:30: of the day, or minutes and seconds. */
const TWO_PARTS = /^(\d{1,3}):([0-5]\d(?:[.,]\d+)?)$/;
const IN_MINUTES = /^(?:m|min|mins|minutes?|m{1,2}:ss?|min:sec?)$/i;
const OF_THE_DAY = /^(?:h|hrs?|hours?|h{1,2}:mm)$/i;

/**
 * Whether times such as 14:30 are minutes and seconds: as the heading says, or where one is too large for an hour of the day.
 * Where neither tells it is a problem, told once.
 */
function inMinutes(table: Table, at: number): boolean {
  const { name, unit } = table.columns[at]!;
  if (IN_MINUTES.test(unit)) return true;
  if (name === "clock" || OF_THE_DAY.test(unit)) return false;
  const first = (line: TableLine) => TWO_PARTS.exec(table.cell(line, at))?.[1];
  const ambiguous = table.lines.find((line) => first(line) !== undefined);
  if (ambiguous === undefined) return false;
  if (table.lines.some((line) => Number(first(line) ?? 0) > 23)) return true;
  const given = table.cell(ambiguous, at);
  table.problems.push({
    code: "minutes_or_hours",
    path: `line ${ambiguous.number}, ${name}`,
    given,
  });
  return false;
}

/** Seconds of minutes and seconds; undefined for anything else. */
function minutesSeconds(cell: string): number | undefined {
  const [, minutes, seconds = ""] = TWO_PARTS.exec(cell) ?? [];
  return minutes === undefined
    ? undefined
    : 60 * Number(minutes) + Number(seconds.replace(",", "."));
}

function probeLog(table: Table): ReadLog {
  const timeAt = table.needed("time", "time s");
  const temperatureAt = table.needed("temperature", "temperature degC");
  table.done();
  const time: number[] = [];
  const temperature: number[] = [];
  let gaps = 0;
  let days = 0;
  let last = Number.NEGATIVE_INFINITY;
  const minutes = inMinutes(table, timeAt);
  table.done();
  for (const line of table.lines) {
    const cell = table.cell(line, timeAt);
    const clock = (minutes ? minutesSeconds(cell) : undefined) ?? clockSeconds(cell);
    // past midnight the clock begins anew
    if (clock !== undefined && clock + days < last - DAY / 2) days += DAY;
    const t =
      clock === undefined
        ? table.quantity(line, timeAt, "duration", { least: -DAY, most: 90 * DAY })
        : clock + days;
    const T = table.quantity(line, temperatureAt, "temperature", TEMPERATURES);
    if (t === null || T === null) {
      gaps++;
      continue;
    }
    if (!(t > last) && Number.isFinite(t))
      table.problems.push({ code: "not_rising", path: `line ${line.number}, time`, given: cell });
    if (Number.isFinite(t)) last = t;
    time.push(t);
    temperature.push(T);
  }
  table.done();
  return { kind: "probe", ...cleaned(time, temperature, gaps) };
}

/** Farther off both neighbors than this, and on the same side, a reading is a fault of the wire, K. */
const WILD = 15;
/** The plastic has come when the probe jumps by as much, K. */
const JUMP = 40;

function cleaned(allTimes: readonly number[], all: readonly number[], gaps: number) {
  const fine = all.map((T, i) => {
    const [a, b] = [T - (all[i - 1] ?? T), T - (all[i + 1] ?? T)];
    return !(a * b > 0 && Math.min(Math.abs(a), Math.abs(b)) > WILD);
  });
  const kept = all.map((_, i) => i).filter((i) => fine[i]);
  const T = kept.map((i) => all[i]!);
  const times = kept.map((i) => allTimes[i]!);
  const hottest = T.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  const first = T[0] ?? 0;
  let from = 0;
  // cold at first, then hot at once: the shot came in between
  const jump = T.findIndex((x, i) => i > 0 && x - T[i - 1]! > JUMP);
  if (jump > 0 && first < hottest - JUMP) from = jump;
  const start = from > 0 ? (times[from - 1]! + times[from]!) / 2 : startOf(times);
  return {
    log: { time: times.slice(from).map((t) => t - start), temperature: T.slice(from) },
    notes: { gaps, spikes: all.length - kept.length, before: from, start: start - (times[0] ?? 0) },
  };
}

/** Times that are counted from the shot stay as they are; a clock's begin with the first reading. */
function startOf(times: readonly number[]): number {
  const [first = 0] = times;
  return first > 3600 || first < 0 ? first : 0;
}

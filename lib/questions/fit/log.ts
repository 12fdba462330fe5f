/** Logs, and whether something can be learned from one: callers without types are told what it lacks. SI and K. */

import { Checks } from "../../units/check.ts";
import { nearest } from "../../units/nearest.ts";
import type { ShopLine } from "./shop.ts";
import { shopVerdicts } from "./shop-verdicts.ts";

/** Readings of one probe. */
export interface TemperatureLog {
  /** From injection, pouring or mixing, s, rising. */
  readonly time: readonly number[];
  readonly temperature: readonly number[]; // K
  /**
   * Where the probe was: the middle of one bait, the middle of a pour, or a cup of mixed resin. Left out: a bait when it
   * starts hot, else the pour.
   */
  readonly of?: "bait" | "pour" | "cup";
  /** Resin in the cup, kg. Default: the mass of the job's pot life, else 0.1. */
  readonly cupMass?: number;
}

/** A shop's log: a line for each shot. */
export interface ShopLog {
  readonly lines: readonly ShopLine[];
}

/** Fewest readings that are worth fitting. */
const FEWEST = 4;
/** Fewest lines with a verdict that tells of the time. */
const FEWEST_LINES = 2;

const KEYS = ["time", "temperature", "of", "cupMass", "lines"] as const;
const PLACES = ["bait", "pour", "cup"] as const;
/** What was read, K, and what counts from a shot on, s. */
const READ = { least: 230, most: 650 };
const SPAN = { least: 0, most: 90 * 86400 };

/** @throws InputError with every problem of the log at once */
export function checkLog(log: TemperatureLog | ShopLog): void {
  const checks = new Checks();
  if (typeof log !== "object" || log === null || isList(log))
    checks.add({ code: "not_a_group", path: "log", given: named(log), possible: KEYS });
  else if ("lines" in log) checkLines(checks, log.lines);
  else checkReadings(checks, log);
  checks.done();
}

function checkReadings(checks: Checks, log: TemperatureLog): void {
  const { time, temperature, of, cupMass } = log;
  const both = [isListAt(checks, log, "time"), isListAt(checks, log, "temperature")];
  if (of !== undefined && !PLACES.includes(of))
    checks.add({ code: "unknown_word", path: "log.of", given: named(of), possible: PLACES });
  if (cupMass !== undefined) checks.number("log.cupMass", cupMass, { above: 0, most: 100 });
  if (!both.every(Boolean)) return;
  if (time.length !== temperature.length)
    checks.add({
      code: "lists_differ",
      path: "log.temperature",
      given: temperature.length,
      most: String(time.length),
    });
  if (time.length < FEWEST)
    checks.add({ code: "few_readings", path: "log", given: time.length, least: String(FEWEST) });
  time.forEach((t, i) => {
    if (checks.number(`log.time[${i}]`, t, SPAN) && i > 0 && !(t > time[i - 1]))
      checks.add({ code: "not_rising", path: `log.time[${i}]`, given: t });
  });
  temperature.forEach((T, i) => {
    checks.number(`log.temperature[${i}]`, T, READ);
  });
  // a logger writes more readings than a call may have arguments
  const span =
    temperature.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY) -
    temperature.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  if (temperature.length >= FEWEST && Number.isFinite(span) && span < 3)
    checks.add({ code: "steady_readings", path: "log", given: span, least: "3 K" });
}

function checkLines(checks: Checks, lines: readonly ShopLine[]): void {
  if (!isList(lines)) {
    checks.add({ code: "not_a_list", path: "log.lines", given: named(lines) });
    return;
  }
  lines.forEach((line, i) => {
    const path = `log.lines[${i}]`;
    if (typeof line !== "object" || line === null) {
      checks.add({ code: "not_a_group", path, given: named(line) });
      return;
    }
    checks.number(`${path}.opened`, line.opened, { above: 0, most: SPAN.most });
    if (!shopVerdicts.includes(line.verdict))
      checks.add({
        code: "unknown_word",
        path: `${path}.verdict`,
        given: named(line.verdict),
        possible: shopVerdicts,
      });
    for (const key of ["mold", "shot"] as const)
      if (line[key] !== null) checks.number(`${path}.${key}`, line[key], READ);
    if (line.filled !== undefined) checks.number(`${path}.filled.at`, line.filled?.at);
  });
  const telling = lines.filter((line) => line?.verdict === "good" || line?.verdict === "soft");
  if (telling.length < FEWEST_LINES)
    checks.add({
      code: "few_verdicts",
      path: "log",
      given: telling.length,
      least: String(FEWEST_LINES),
    });
}

/** Whether a key of the log is a list; where there is none, a key that was meant for it is named. */
function isListAt(checks: Checks, log: TemperatureLog, key: "time" | "temperature"): boolean {
  const given: unknown = log[key];
  if (isList(given)) return true;
  const path = `log.${key}`;
  if (given !== undefined) {
    checks.add({ code: "not_a_list", path, given: named(given) });
    return false;
  }
  const meant = Object.keys(log).find((one) => !isKnown(one) && nearest(one, KEYS) === key);
  if (meant === undefined) checks.add({ code: "missing", path, suggestion: `${key}: [...]` });
  else checks.add({ code: "unknown_key", path: `log.${meant}`, suggestion: key, possible: KEYS });
  return false;
}

const isKnown = (key: string): boolean => (KEYS as readonly string[]).includes(key);
const isList = (x: unknown): boolean => Array.isArray(x) || ArrayBuffer.isView(x);
const named = (x: unknown): string => (typeof x === "object" && x !== null ? "a group" : String(x));

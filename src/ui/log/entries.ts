/** The log: one line for each shot, as data. What was measured is kept as typed; numbers are made from it for files. */

import { type ShopVerdict, shopVerdicts } from "../../../lib/questions/fit/shop-verdicts.ts";
import type { Kind } from "../../../lib/units/kinds.ts";
import { isProblem, readQuantity, valueIn } from "../../../lib/units/quantity.ts";
import { type Cell, csvText } from "../outputs/save.ts";
import { isPossible } from "./limits.ts";

export interface LogEntry {
  readonly id: string;
  /** ISO time. */
  readonly at: string;
  readonly job: string;
  readonly room: string;
  readonly mold: string;
  readonly plastisol: string;
  readonly shot: number;
  readonly seconds: number;
  readonly weight: string;
  readonly verdict: ShopVerdict;
  readonly note: string;
  /** Open time that was foretold for this shot, s. */
  readonly foretold?: { readonly low: number; readonly value: number; readonly high: number };
}

/** How the shot sits against what was foretold. */
export function against(entry: LogEntry): "early" | "inside" | "late" | undefined {
  if (!entry.foretold) return undefined;
  if (entry.seconds < entry.foretold.low) return "early";
  return entry.seconds > entry.foretold.high ? "late" : "inside";
}

const HEADER = [
  "time",
  "job",
  "room (degC)",
  "mold (degC)",
  "plastisol (degC)",
  "shot",
  "seconds",
  "weight (g)",
  "verdict",
  "foretold low (s)",
  "foretold (s)",
  "foretold high (s)",
  "note",
];

export function logCsv(entries: readonly LogEntry[]): string {
  const rows = entries.map((e): Cell[] => [
    e.at,
    e.job,
    number(e.room, "temperature", "degC"),
    number(e.mold, "temperature", "degC"),
    number(e.plastisol, "temperature", "degC"),
    e.shot,
    e.seconds,
    number(e.weight, "mass", "g"),
    e.verdict,
    e.foretold?.low ?? null,
    e.foretold?.value ?? null,
    e.foretold?.high ?? null,
    e.note,
  ]);
  return csvText(HEADER, rows);
}

export function logJson(entries: readonly LogEntry[]): string {
  return `${JSON.stringify({ log: entries }, null, 2)}\n`;
}

function number(text: string, kind: Kind, unit: string): number | null {
  if (text.trim() === "") return null;
  const read = readQuantity(text, kind);
  return isProblem(read) ? null : Number(valueIn(read.value, unit, kind).toFixed(2));
}

/** What storage or a file gave; lines that are no entries are left out. */
export function readEntries(text: string | null): LogEntry[] {
  if (text === null) return [];
  try {
    const stored: unknown = JSON.parse(text);
    const list = Array.isArray(stored) ? stored : (stored as { log?: unknown })?.log;
    return Array.isArray(list) ? list.filter(isEntry) : [];
  } catch {
    return []; // not ours
  }
}

function isEntry(given: unknown): given is LogEntry {
  if (typeof given !== "object" || given === null) return false;
  const e = given as Record<string, unknown>;
  const texts = ["id", "at", "job", "room", "mold", "plastisol", "weight", "note"];
  return (
    texts.every((key) => Object.hasOwn(e, key) && typeof e[key] === "string") &&
    Number.isFinite(e["shot"]) &&
    isPossible(Number(e["seconds"]), "duration") &&
    shopVerdicts.includes(e["verdict"] as ShopVerdict)
  );
}

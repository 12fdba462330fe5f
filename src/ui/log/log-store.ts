import { kept } from "../reading/kept.ts";
import { type LogEntry, readEntries } from "./entries.ts";

const store = kept<LogEntry[]>("log", readEntries, (entries) => JSON.stringify(entries));

/** Number of lines that a file of the reader's own already holds. */
const saved = kept<number>(
  "log-saved",
  (text) => Number(text ?? 0) || 0,
  (n) => String(n),
);

export const entries = store.value;
export const savedCount = saved.value;

/** Lines after which the sheet asks for them to be kept in a file. */
export const REMIND_AFTER = 20;

export function addEntry(entry: LogEntry): void {
  store.change((all) => [...all, entry]);
}

export function removeEntry(id: string): LogEntry | undefined {
  const found = store.value.value.find((e) => e.id === id);
  store.change((all) => all.filter((e) => e.id !== id));
  return found;
}

/** Adds what is not there yet, by its id. Gives the number added. */
export function mergeEntries(read: readonly LogEntry[]): number {
  const before = store.value.value.length;
  store.change((all) => {
    const known = new Set(all.map((e) => e.id));
    return [...all, ...read.filter((e) => !known.has(e.id))].toSorted((a, b) =>
      a.at.localeCompare(b.at),
    );
  });
  return store.value.value.length - before;
}

export function noteSaved(): void {
  saved.change(() => store.value.value.length);
}

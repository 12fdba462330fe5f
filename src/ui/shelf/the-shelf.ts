/** The one shelf of this browser, and its lists as signals. */
import { firstPages, shippedJobs } from "virtual:notebooks";
import { signal } from "@preact/signals";
import { FIRST_PAGE } from "../../notebook/run/first-job.ts";
import type { ShelfEntry } from "../../notebook/shelf/entry.ts";
import { openJournal } from "../../notebook/shelf/journal-browser.ts";
import { Shelf, type Undo } from "../../notebook/shelf/shelf.ts";
import { shippedDocuments } from "../../notebook/shelf/shipped.ts";
import { type SparePlace, spareKeys } from "../../notebook/shelf/spare-place.ts";
import type { ShelfStore } from "../../notebook/shelf/store.ts";
import { openStore } from "../../notebook/shelf/store-browser.ts";
import { keptWell } from "../reading/kept.ts";
import { memoryStore } from "./memory-store.ts";

export const pages = signal<readonly ShelfEntry[]>([]);
export const jobs = signal<readonly ShelfEntry[]>([]);
/** Shipped sheets that were taken off the shelf. */
export const removedPages = signal<readonly { readonly name: string; readonly text: string }[]>([]);
/** What was just taken away, and how to bring it back. */
export const undoable = signal<{ readonly words: string; readonly undo: Undo } | undefined>(
  undefined,
);

/** Undefined where the browser forbids it. */
function storagePlace(): SparePlace | undefined {
  try {
    return localStorage;
  } catch {
    return undefined;
  }
}

/**
 * The database with spare copies. What makes them is loaded at once only where there are some, to be brought back, else with
 * the first change: the first answer does not wait for it.
 */
async function openSpared(): Promise<ShelfStore> {
  const database = await openStore();
  const place = storagePlace();
  let spared: Promise<ShelfStore> | undefined;
  const load = () => {
    // where they can't be made the database goes on alone
    spared ??= import("./spared.ts")
      .then((module) => module.spared(database, place))
      .catch(() => database);
    return spared;
  };
  if (place && (spareKeys(place)?.length ?? 0) > 0) return await load();
  return { ...database, change: async (...given) => (await load()).change(...given) };
}

async function openShelf(): Promise<Shelf> {
  const store = await openSpared().catch(() => {
    keptWell.value = false; // said in the title block
    return memoryStore();
  });
  const shelf = new Shelf(store, {
    shipped: shippedDocuments(
      { page: firstPages, job: shippedJobs },
      { page: async () => (await import("virtual:pages")).otherPages },
    ),
    clock: Date.now,
    journal: openJournal(),
  });
  const listJobs = async () => {
    jobs.value = await shelf.list("job");
  };
  const [first] = await Promise.all([shelf.read("page", FIRST_PAGE), listJobs()]);
  pages.value = first ? [first] : [];
  shelf.subscribe((kind) => void (kind === "job" ? listJobs() : listPages()));
  // the last moment at which a phone lets a page do anything
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") void shelf.flush();
  });
  addEventListener("pagehide", () => void shelf.flush());
  void shelf.tidy();
  return shelf;
}

export const theShelf: Promise<Shelf> = openShelf();

/** Brings the lists of sheets up to date. The first answer does not wait for it: the texts of the others have to be loaded. */
export async function listPages(): Promise<void> {
  const shelf = await theShelf;
  pages.value = await shelf.list("page");
  removedPages.value = await shelf.removed("page");
}

export function titleOf(entry: ShelfEntry): string {
  const title = /^#\s+(.{1,200})/m.exec(entry.text)?.[1]?.trim();
  return title ?? entry.name;
}

const MOST_GIST = 80;

/** The order in which the questions come up at the bench; what is not named here follows. */
const BENCH_ORDER = [
  "first",
  "demold",
  "shots",
  "evening",
  "touch",
  "second-color",
  "sprue",
  "walls",
  "thick-pour",
  "mix",
  "shape",
  "swim",
  "budget",
  "shop-log",
  "probe",
  "method",
  "proof",
];

export function inBenchOrder(entries: readonly ShelfEntry[]): readonly ShelfEntry[] {
  const place = ({ name }: ShelfEntry) => {
    const found = BENCH_ORDER.findIndex((start) => name === start || name.startsWith(`${start}-`));
    return found < 0 ? BENCH_ORDER.length : found;
  };
  return entries.toSorted((a, b) => place(a) - place(b));
}

/** The first words of a page's prose: what it answers. */
export function gistOf(entry: ShelfEntry): string {
  const lines = entry.text.split("\n").map((l) => l.trim());
  const first = lines.find((l) => /^[\p{L}"*_]/u.test(l)) ?? "";
  const plain = first.replace(/[*_`[\]]|\(#[^)]*\)/g, "");
  const sentence = /^.*?[.?!](?=\s|$)/.exec(plain)?.[0] ?? plain;
  if (sentence.length <= MOST_GIST) return sentence;
  return `${sentence.slice(0, sentence.lastIndexOf(" ", MOST_GIST))} \u2026`;
}

/** The one shelf of this browser, and its lists as signals. */
import { firstPages, shippedJobs } from "virtual:notebooks";
import { signal } from "@preact/signals";
import { FIRST_PAGE } from "../../notebook/run/first-job.ts";
import type { ShelfEntry } from "../../notebook/shelf/entry.ts";
import { openJournal } from "../../notebook/shelf/journal-browser.ts";
import { Shelf, type Undo } from "../../notebook/shelf/shelf.ts";
import { shippedDocuments } from "../../notebook/shelf/shipped.ts";
import { type SparePlace, withSpares } from "../../notebook/shelf/spare.ts";
import type { DocumentKind } from "../../notebook/shelf/store.ts";
import { openStore } from "../../notebook/shelf/store-browser.ts";
import { keptWell } from "../reading/kept.ts";
import { notices } from "../reading/notices.ts";
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

const spareNotices = {
  broughtBack(count: number) {
    const what = count === 1 ? "one sheet or job" : `${count} sheets and jobs`;
    notices.value = {
      ...notices.value,
      shelf: `This browser had lost its databases: ${what} came back from the spare copies. What was typed in the last minutes before may be missing.`,
    };
  },
  notSpared(kind: DocumentKind, name: string) {
    const what = kind === "page" ? "sheet" : "job";
    notices.value = {
      ...notices.value,
      shelf: `The ${what} \u201c${name}\u201d is kept, but too large for a spare copy: were this browser to lose its databases, it would be gone. Save it to a file now and then.`,
    };
  },
};

async function openShelf(): Promise<Shelf> {
  const store = await openStore()
    .then((database) => withSpares(database, storagePlace(), spareNotices))
    .catch(() => {
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

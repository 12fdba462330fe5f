/**
 * The shelf: pages and jobs, shipped ones overlaid by the reader's own. Everything is kept as it is typed.
 *
 * Each document has a revision. A text that was based on an older one never overwrites a newer: it is kept as
 * a second version under a name of its own, and whoever wrote it is told.
 */
import { Draft } from "./draft.ts";
import type { Saved, ShelfEntry } from "./entry.ts";
import { isName, nameFrom } from "./names.ts";
import type { DocumentKind, KeptDocument, ShelfStore } from "./store.ts";

interface ShippedDocument {
  readonly name: string;
  readonly text: string;
}

interface ShelfGiven {
  readonly shipped: Readonly<Record<DocumentKind, readonly ShippedDocument[]>>;
  /** ms since the epoch */
  readonly clock: () => number;
}

/** What `undo` needs to bring back what was there. */
export interface Undo {
  readonly kind: DocumentKind;
  readonly name: string;
  readonly before: KeptDocument | undefined;
}

/** Removed documents are forgotten after this. */
const REMEMBERED_MS = 30 * 24 * 3600 * 1000;
export const MOST_TEXT = 500_000;

export class Shelf {
  readonly #store: ShelfStore;
  readonly #given: ShelfGiven;
  readonly #listeners = new Set<(kind: DocumentKind, name: string) => void>();
  readonly #drafts = new Set<Draft>();

  constructor(store: ShelfStore, given: ShelfGiven) {
    this.#store = store;
    this.#given = given;
    store.watch((kind, name) => this.#tell(kind, name));
  }

  /** All of a kind: shipped ones in their order, then the reader's own by name. */
  async list(kind: DocumentKind): Promise<ShelfEntry[]> {
    const kept = (await this.#store.all()).filter((d) => d.kind === kind);
    const byName = new Map(kept.map((d) => [d.name, d]));
    const entries: ShelfEntry[] = [];
    for (const shipped of this.#given.shipped[kind]) {
      const entry = entryOf(kind, shipped.name, byName.get(shipped.name), shipped);
      byName.delete(shipped.name);
      if (entry) entries.push(entry);
    }
    const own = [...byName.values()].sort((a, b) => (a.name < b.name ? -1 : 1));
    for (const document of own) {
      const entry = entryOf(kind, document.name, document, undefined);
      if (entry) entries.push(entry);
    }
    return entries;
  }

  async read(kind: DocumentKind, name: string): Promise<ShelfEntry | undefined> {
    const kept = await this.#store.one(kind, name);
    return entryOf(kind, name, kept, this.shippedText(kind, name));
  }

  /** The document as it was shipped. */
  shippedText(kind: DocumentKind, name: string): ShippedDocument | undefined {
    return this.#given.shipped[kind].find((d) => d.name === name);
  }

  /** Opens a document for typing: keeps what is typed, in time and in order. */
  async open(kind: DocumentKind, name: string): Promise<Draft | undefined> {
    const entry = await this.read(kind, name);
    if (entry === undefined) return undefined;
    const draft = new Draft(this, entry, () => this.#drafts.delete(draft));
    this.#drafts.add(draft);
    return draft;
  }

  /** Keeps a text that was based on a revision. */
  async save(kind: DocumentKind, name: string, text: string, basedOn: number): Promise<Saved> {
    const changed = this.#given.clock();
    let stale = false;
    const kept = await this.#store.change(kind, name, (now) => {
      const revision = now?.revision ?? 0;
      stale = false;
      if (now !== undefined && now.removed === undefined && now.text === text) return now;
      if (revision !== basedOn) {
        stale = true;
        return now;
      }
      return { kind, name, text, revision: revision + 1, changed };
    });
    if (!stale) {
      this.#tell(kind, name);
      return { kept: "as", name, revision: kept?.revision ?? 0 };
    }
    const second = await this.#add(kind, `${name} second version`, text);
    return { kept: "second", name: second.name, revision: second.revision };
  }

  /** A new document; the name is made free when it is taken. */
  async add(kind: DocumentKind, wanted: string, text: string): Promise<ShelfEntry> {
    const kept = await this.#add(kind, wanted, text);
    return { kind, name: kept.name, text, revision: kept.revision, shipped: false, own: true };
  }

  async duplicate(kind: DocumentKind, name: string): Promise<ShelfEntry | undefined> {
    const entry = await this.read(kind, name);
    return entry && (await this.add(kind, `${name} copy`, entry.text));
  }

  /** Another name for it; undefined when the name is not possible, or taken. A shipped document stays as it was shipped. */
  async rename(kind: DocumentKind, name: string, wanted: string): Promise<ShelfEntry | undefined> {
    const entry = await this.read(kind, name);
    const next = wanted.trim();
    if (entry === undefined || !isName(next) || (await this.#isTaken(kind, next))) return undefined;
    const renamed = await this.add(kind, next, entry.text);
    if (entry.shipped) await this.reset(kind, name);
    else await this.remove(kind, name);
    return renamed;
  }

  /** Takes it off the shelf. */
  async remove(kind: DocumentKind, name: string): Promise<Undo> {
    const removed = this.#given.clock();
    let before: KeptDocument | undefined;
    const shipped = this.shippedText(kind, name);
    await this.#store.change(kind, name, (now) => {
      before = now;
      if (now === undefined && shipped === undefined) return undefined;
      return {
        kind,
        name,
        text: now?.text ?? shipped?.text ?? "",
        revision: (now?.revision ?? 0) + 1,
        changed: removed,
        removed,
      };
    });
    this.#tell(kind, name);
    return { kind, name, before };
  }

  /** Back to the shipped text. */
  async reset(kind: DocumentKind, name: string): Promise<Undo> {
    const shipped = this.shippedText(kind, name);
    const changed = this.#given.clock();
    let before: KeptDocument | undefined;
    if (shipped === undefined) return { kind, name, before: await this.#store.one(kind, name) };
    await this.#store.change(kind, name, (now) => {
      before = now;
      // the revision goes on counting: a tab with the changed text must not take this for its own base
      return now && { kind, name, text: shipped.text, revision: now.revision + 1, changed };
    });
    this.#tell(kind, name);
    return { kind, name, before };
  }

  /** Brings back what `remove` or `reset` took away. */
  async undo({ kind, name, before }: Undo): Promise<void> {
    const changed = this.#given.clock();
    await this.#store.change(kind, name, (now) => {
      const revision = (now?.revision ?? 0) + 1;
      if (before === undefined) {
        const text = this.shippedText(kind, name)?.text;
        return text === undefined ? undefined : { kind, name, text, revision, changed };
      }
      return { ...before, revision, changed };
    });
    this.#tell(kind, name);
  }

  /** Hears of every change, of other tabs too. The answer ends it. */
  subscribe(listener: (kind: DocumentKind, name: string) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** Keeps at once what was typed and not yet kept: for the moment a page is hidden or closed. */
  async flush(): Promise<void> {
    await Promise.all([...this.#drafts].map((draft) => draft.flush()));
  }

  /** Forgets what was removed long ago. */
  async tidy(): Promise<void> {
    const until = this.#given.clock() - REMEMBERED_MS;
    for (const { kind, name, removed } of await this.#store.all()) {
      if (removed === undefined || removed > until) continue;
      // a removed shipped page stays removed
      if (this.shippedText(kind, name) !== undefined) continue;
      await this.#store.change(kind, name, (now) =>
        now?.removed !== undefined && now.removed <= until ? undefined : now,
      );
    }
  }

  async #add(kind: DocumentKind, wanted: string, text: string): Promise<KeptDocument> {
    const base = nameFrom(wanted);
    for (let number = 1; ; number++) {
      const name = number === 1 ? base : nameFrom(`${base.slice(0, 70)} ${number}`);
      if (this.shippedText(kind, name) !== undefined) continue;
      const changed = this.#given.clock();
      let free = false;
      const kept = await this.#store.change(kind, name, (now) => {
        free = now === undefined;
        return now ?? { kind, name, text, revision: 1, changed };
      });
      if (!free || kept === undefined) continue;
      this.#tell(kind, name);
      return kept;
    }
  }

  async #isTaken(kind: DocumentKind, name: string): Promise<boolean> {
    if (this.shippedText(kind, name) !== undefined) return true;
    return (await this.#store.one(kind, name)) !== undefined;
  }

  #tell(kind: DocumentKind, name: string): void {
    for (const listener of this.#listeners) listener(kind, name);
    for (const draft of this.#drafts) if (draft.kind === kind && draft.name === name) draft.heard();
  }
}

function entryOf(
  kind: DocumentKind,
  name: string,
  kept: KeptDocument | undefined,
  shipped: ShippedDocument | undefined,
): ShelfEntry | undefined {
  if (kept?.removed !== undefined) return undefined;
  const text = kept?.text ?? shipped?.text;
  if (text === undefined) return undefined;
  return {
    kind,
    name,
    text,
    revision: kept?.revision ?? 0,
    shipped: shipped !== undefined,
    own: shipped === undefined || text !== shipped.text,
    ...(kept && { changed: kept.changed }),
  };
}

/**
 * The shelf: pages and jobs, shipped ones overlaid by the reader's own. Everything is kept as it is typed.
 *
 * Each document has a revision. A text that was based on an older one never overwrites a newer: it is kept as
 * a second version under a name of its own, and whoever wrote it is told.
 */
import { Draft } from "./draft.ts";
import type { Saved, ShelfEntry } from "./entry.ts";
import type { Journal, Typed } from "./journal.ts";
import { isName, nameFrom } from "./names.ts";
import type { Shipped, ShippedDocument } from "./shipped.ts";
import type { DocumentKind, KeptDocument, ShelfStore } from "./store.ts";

/** It goes on from what is on the shelf: from the same revision, or from the write that it did not hear the end of. */
function goesOnFrom(typed: Typed, entry: ShelfEntry): boolean {
  if (typed.basedOn === entry.revision) return true;
  return typed.basedOn + 1 === entry.revision && typed.onItsWay === entry.text;
}

interface ShelfGiven {
  readonly shipped: Shipped;
  /** ms since the epoch */
  readonly clock: () => number;
  readonly journal?: Journal;
}

/** What `undo` needs to bring back what was there. */
export interface Undo {
  readonly kind: DocumentKind;
  readonly name: string;
  readonly before: KeptDocument | undefined;
  /** The revision that it made: what was written later is not overwritten. */
  readonly revision: number;
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
    for (const shipped of await this.#given.shipped.all(kind)) {
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
    return entryOf(kind, name, kept, await this.shipped(kind, name));
  }

  /** The document as it was shipped. */
  shipped(kind: DocumentKind, name: string): Promise<ShippedDocument | undefined> {
    return this.#given.shipped.one(kind, name);
  }

  /** Opens a document for typing: keeps what is typed, in time and in order. */
  async open(kind: DocumentKind, name: string): Promise<Draft | undefined> {
    const entry = await this.read(kind, name);
    if (entry === undefined) return undefined;
    const { journal } = this.#given;
    const typed = await journal?.read(kind, name);
    const draft = new Draft(this, entry, () => this.#drafts.delete(draft), journal);
    this.#drafts.add(draft);
    // typed in a visit that ended before it was kept; on another base it would overwrite what came later
    if (typed && typed.text !== entry.text) {
      if (goesOnFrom(typed, entry)) draft.change(typed.text);
      else await this.#add(kind, `${name} second version`, typed.text);
    }
    if (typed) {
      await draft.flush();
      journal?.note(kind, name, undefined);
    }
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
      const from = now?.from;
      return { kind, name, text, revision: revision + 1, changed, ...(from && { from }) };
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
    if (entry === undefined || !isName(next)) return undefined;
    const was = (await this.#store.one(kind, name))?.from;
    if (was !== next && (await this.#isTaken(kind, next))) return undefined;
    if (was === next && (await this.read(kind, next))?.own) return undefined;
    const from = entry.shipped ? name : was;
    const renamed = await this.#named(kind, next, entry.text, from === next ? undefined : from);
    if (entry.shipped) await this.reset(kind, name);
    else await this.remove(kind, name);
    return renamed;
  }

  /** Takes it off the shelf. */
  async remove(kind: DocumentKind, name: string): Promise<Undo> {
    const removed = this.#given.clock();
    let before: KeptDocument | undefined;
    const shipped = await this.shipped(kind, name);
    const after = await this.#store.change(kind, name, (now) => {
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
    return { kind, name, before, revision: after?.revision ?? 0 };
  }

  /** Back to the shipped text. */
  async reset(kind: DocumentKind, name: string): Promise<Undo> {
    const shipped = await this.shipped(kind, name);
    const changed = this.#given.clock();
    let before: KeptDocument | undefined;
    if (shipped === undefined) {
      before = await this.#store.one(kind, name);
      return { kind, name, before, revision: before?.revision ?? 0 };
    }
    const after = await this.#store.change(kind, name, (now) => {
      before = now;
      // the revision goes on counting: a tab with the changed text must not take this for its own base
      return now && { kind, name, text: shipped.text, revision: now.revision + 1, changed };
    });
    this.#tell(kind, name);
    return { kind, name, before, revision: after?.revision ?? 0 };
  }

  /**
   * Brings back what `remove` or `reset` took away. What was typed since then stays where it is: the earlier text is then
   * put beside it, under the name that comes back.
   */
  async undo({ kind, name, before, revision: made }: Undo): Promise<string> {
    const changed = this.#given.clock();
    const text = before?.text ?? (await this.shipped(kind, name))?.text;
    let isLater = false;
    await this.#store.change(kind, name, (now) => {
      isLater = (now?.revision ?? 0) !== made && now?.removed === undefined && now?.text !== text;
      if (isLater) return now;
      const revision = (now?.revision ?? 0) + 1;
      if (before !== undefined) return { ...before, revision, changed };
      return text === undefined ? undefined : { kind, name, text, revision, changed };
    });
    if (isLater && text !== undefined) {
      return (await this.#add(kind, `${name} earlier version`, text)).name;
    }
    this.#tell(kind, name);
    return name;
  }

  /** Shipped documents that were taken off. */
  async removed(kind: DocumentKind): Promise<ShippedDocument[]> {
    const kept = await this.#store.all();
    const gone = new Set(
      kept.filter((d) => d.kind === kind && d.removed !== undefined).map((d) => d.name),
    );
    if (gone.size === 0) return [];
    return (await this.#given.shipped.all(kind)).filter(({ name }) => gone.has(name));
  }

  /** Puts a shipped document back, as it came. */
  async bringBack(kind: DocumentKind, name: string): Promise<void> {
    const shipped = await this.shipped(kind, name);
    const changed = this.#given.clock();
    if (shipped === undefined) return;
    await this.#store.change(kind, name, (now) => {
      if (now?.removed === undefined) return now;
      return { kind, name, text: shipped.text, revision: now.revision + 1, changed };
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
      if ((await this.shipped(kind, name)) !== undefined) continue;
      await this.#store.change(kind, name, (now) =>
        now?.removed !== undefined && now.removed <= until ? undefined : now,
      );
    }
  }

  async #add(kind: DocumentKind, wanted: string, text: string): Promise<KeptDocument> {
    const base = nameFrom(wanted);
    for (let number = 1; ; number++) {
      const name = number === 1 ? base : nameFrom(`${base.slice(0, 70)} ${number}`);
      if ((await this.shipped(kind, name)) !== undefined) continue;
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

  /** Under this very name, over what may have been taken off there. */
  async #named(
    kind: DocumentKind,
    name: string,
    text: string,
    from: string | undefined,
  ): Promise<ShelfEntry> {
    const changed = this.#given.clock();
    const kept = await this.#store.change(kind, name, (now) => {
      const revision = (now?.revision ?? 0) + 1;
      return { kind, name, text, revision, changed, ...(from !== undefined && { from }) };
    });
    this.#tell(kind, name);
    const shipped = await this.shipped(kind, name);
    return {
      kind,
      name,
      text,
      revision: kept?.revision ?? 0,
      shipped: shipped !== undefined,
      own: text !== shipped?.text,
    };
  }

  async #isTaken(kind: DocumentKind, name: string): Promise<boolean> {
    if ((await this.shipped(kind, name)) !== undefined) return true;
    return (await this.read(kind, name)) !== undefined;
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

/**
 * Spare copies of what is kept on the shelf. A browser that was killed may throw away every database of a site; these
 * stand in its storage of plain texts, which that does not reach. It is small: what does not fit is told.
 */
import { type SparePlace, spareKey, spareKeys } from "./spare-place.ts";
import { type DocumentKind, isDocument, type KeptDocument, type ShelfStore } from "./store.ts";

interface SpareTold {
  /** So many documents were gone from the store and are back. */
  broughtBack(count: number): void;
  /** This one has no spare copy, or an older one. Told once in a visit. */
  notSpared(kind: DocumentKind, name: string): void;
}

/** Letters of one copy, and of all. The smallest of the browsers gives a site 2.5 million; the log and the timers stand there, too. */
export const MOST_IN_ONE = 300_000;
export const MOST_IN_ALL = 1_500_000;

type Age = Pick<KeptDocument, "revision" | "changed">;

/** Both have to say so: a name that was forgotten and taken again counts its revisions from 1. */
function isNewer(one: Age, other: Age | undefined): boolean {
  if (other === undefined) return true;
  return one.revision > other.revision && one.changed >= other.changed;
}

/** The age stands in front: most copies are only asked for it. */
function written(document: KeptDocument): string {
  // one that was removed is never read again, only that it was
  const told = document.removed === undefined ? document : { ...document, text: "" };
  return `${document.revision} ${document.changed} ${JSON.stringify(told)}`;
}

function ageOf(copy: string | null): Age | undefined {
  const [, revision, changed] = /^(\d+) (\d+) /.exec(copy ?? "") ?? [];
  return changed === undefined
    ? undefined
    : { revision: Number(revision), changed: Number(changed) };
}

function documentOf(copy: string): KeptDocument | undefined {
  try {
    const found: unknown = JSON.parse(copy.slice(copy.indexOf("{")));
    return isDocument(found) ? found : undefined;
  } catch {
    return undefined;
  }
}

/** The store with spare copies: brings back what it lost, then copies what it keeps. Without a place the store as it is. */
export async function withSpares(
  store: ShelfStore,
  place: SparePlace | undefined,
  told: SpareTold,
): Promise<ShelfStore> {
  const spares = place && openSpares(place, told);
  if (spares === undefined) return store;
  if (spares.keys().length > 0) await bringBack(store, spares, told);
  const copyAll = async () => {
    for (const document of await store.all()) spares.note(document);
  };
  copyAll().catch(() => undefined);
  // two tabs may write their copies in another order than their changes: each copies the other's, too
  store.watch((kind, name) => {
    store.one(kind, name).then(
      (document) => document && spares.note(document),
      () => undefined,
    );
  });
  return {
    all: () => store.all(),
    one: (kind, name) => store.one(kind, name),
    watch: (heard) => store.watch(heard),
    async change(kind, name, change) {
      const after = await store.change(kind, name, change);
      if (after) spares.note(after);
      else spares.forget(kind, name);
      return after;
    },
  };
}

interface Spares {
  keys(): readonly string[];
  copy(key: string): string | null;
  note(document: KeptDocument): void;
  forget(kind: DocumentKind, name: string): void;
}

/** Undefined where the storage can't be used at all. */
function openSpares(place: SparePlace, told: SpareTold): Spares | undefined {
  /** Letters of each copy. */
  const sizes = new Map<string, number>();
  const untold = new Set<string>();
  const copy = (key: string) => {
    try {
      return place.getItem(key);
    } catch {
      return null;
    }
  };
  const keys = spareKeys(place);
  if (keys === undefined) return undefined;
  for (const key of keys) sizes.set(key, copy(key)?.length ?? 0);
  const remove = (key: string) => {
    sizes.delete(key);
    try {
      place.removeItem(key);
    } catch {
      // it can't be written to, either
    }
  };
  const put = (key: string, text: string): boolean => {
    const before = sizes.get(key) ?? 0;
    const all = [...sizes.values()].reduce((a, b) => a + b, 0) - before + text.length;
    if (text.length > MOST_IN_ONE || (all > MOST_IN_ALL && text.length > before)) return false;
    try {
      place.setItem(key, text);
    } catch {
      return false;
    }
    sizes.set(key, text.length);
    return true;
  };
  return {
    keys: () => [...sizes.keys()],
    copy,
    note(document) {
      const { kind, name, revision, changed, removed } = document;
      const key = spareKey(kind, name);
      const there = ageOf(copy(key));
      const isThere = there?.revision === revision && there.changed === changed;
      if (isThere || (there && isNewer(there, document)) || put(key, written(document))) return;
      // the older copy stays: better than none. One of a document that was removed would bring it back
      if (removed !== undefined) remove(key);
      else if (!untold.has(key)) {
        untold.add(key);
        told.notSpared(kind, name);
      }
    },
    forget: (kind, name) => remove(spareKey(kind, name)),
  };
}

/** Puts what the store lost, or has an older state of, back into it. */
async function bringBack(store: ShelfStore, spares: Spares, told: SpareTold): Promise<void> {
  const kept = new Map((await store.all()).map((d) => [spareKey(d.kind, d.name), d]));
  let gone = 0;
  for (const key of spares.keys()) {
    const copy = spares.copy(key);
    const age = ageOf(copy);
    if (copy === null || age === undefined || !isNewer(age, kept.get(key))) continue;
    const document = documentOf(copy);
    if (document === undefined || spareKey(document.kind, document.name) !== key) continue;
    let wasGone = false;
    await store.change(document.kind, document.name, (now) => {
      wasGone = now === undefined;
      return isNewer(document, now) ? document : now;
    });
    if (wasGone && document.removed === undefined) gone++;
  }
  if (gone > 0) told.broughtBack(gone);
}

import type {
  DocumentKind,
  KeptDocument,
  ShelfStore,
} from "../../../../src/notebook/shelf/store.ts";

/** One database for several tabs: `tab()` gives each its own store. Every step waits a little, as a database does. */
export function fakeDatabase() {
  const documents = new Map<string, KeptDocument>();
  const watchers = new Map<object, (kind: DocumentKind, name: string) => void>();
  let failing = false;
  const wait = () => new Promise<void>((resolve) => queueMicrotask(resolve));
  const tab = (): ShelfStore => {
    const self = {};
    return {
      async all() {
        await wait();
        return [...documents.values()];
      },
      async one(kind, name) {
        await wait();
        return documents.get(`${kind}:${name}`);
      },
      async change(kind, name, change) {
        await wait();
        if (failing) throw new Error("the disk is full");
        const before = documents.get(`${kind}:${name}`);
        const after = change(before);
        if (after === before) return after;
        if (after === undefined) documents.delete(`${kind}:${name}`);
        else documents.set(`${kind}:${name}`, after);
        for (const [owner, heard] of watchers) if (owner !== self) heard(kind, name);
        return after;
      },
      watch(heard) {
        watchers.set(self, heard);
        return () => watchers.delete(self);
      },
    };
  };
  return {
    documents,
    tab,
    fail: (yes: boolean) => {
      failing = yes;
    },
  };
}

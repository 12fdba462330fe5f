/** The shelf's store in the browser: one database, each change in one transaction, other tabs told by a channel. */
import { createStore, get, update, values } from "idb-keyval";
import { type DocumentKind, isDocument, type KeptDocument, type ShelfStore } from "./store.ts";

const CHANNEL = "castclock-shelf";

const keyOf = (kind: DocumentKind, name: string) => `${kind}:${name}`;

/** Opens the database. Rejects where the browser keeps none (some private windows). */
export async function openStore(database = "castclock-shelf"): Promise<ShelfStore> {
  const store = createStore(database, "documents");
  const channel = new BroadcastChannel(CHANNEL);
  await get("", store); // an error of opening belongs here
  return {
    async all() {
      return (await values<KeptDocument>(store)).filter(isDocument);
    },
    async one(kind, name) {
      const found = await get<KeptDocument>(keyOf(kind, name), store);
      return isDocument(found) ? found : undefined;
    },
    async change(kind, name, change) {
      const { before, after } = await changed(store, keyOf(kind, name), change);
      if (after !== before) channel.postMessage({ kind, name });
      return after;
    },
    watch(heard) {
      const listener = ({ data }: MessageEvent) => {
        const { kind, name } = (data ?? {}) as Record<string, unknown>;
        if ((kind === "page" || kind === "job") && typeof name === "string") heard(kind, name);
      };
      channel.addEventListener("message", listener);
      return () => channel.removeEventListener("message", listener);
    },
  };
}

interface Changed {
  readonly before: KeptDocument | undefined;
  readonly after: KeptDocument | undefined;
}

/** Reads and writes in one transaction. `update` of idb-keyval writes undefined for a document taken out. */
async function changed(
  store: ReturnType<typeof createStore>,
  key: string,
  change: (now: KeptDocument | undefined) => KeptDocument | undefined,
): Promise<Changed> {
  let result: Changed = { before: undefined, after: undefined };
  await update<KeptDocument | undefined>(
    key,
    (found) => {
      const before = isDocument(found) ? found : undefined;
      const after = change(before);
      result = { before, after };
      return after;
    },
    store,
  );
  return result;
}

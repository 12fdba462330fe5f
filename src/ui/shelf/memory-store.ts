/** A shelf for this visit alone, where the browser keeps nothing: some private windows. */
import type { KeptDocument, ShelfStore } from "../../notebook/shelf/store.ts";

export function memoryStore(): ShelfStore {
  const documents = new Map<string, KeptDocument>();
  return {
    all: async () => [...documents.values()],
    one: async (kind, name) => documents.get(`${kind}:${name}`),
    change: async (kind, name, change) => {
      const key = `${kind}:${name}`;
      const after = change(documents.get(key));
      if (after) documents.set(key, after);
      else documents.delete(key);
      return after;
    },
    watch: () => () => undefined,
  };
}

/**
 * What is being typed, kept in the turn of its key. The shelf's own write reads before it writes and waits for the
 * page, which may be busy with what was just typed; this one is sent whole, with its end, and needs nobody after that.
 * A database of its own: that of the shelf takes one change at a time. Where there is none, typing is kept by the
 * shelf's own writes alone.
 */
import { createStore, get } from "idb-keyval";
import type { Journal, Typed } from "./journal.ts";
import type { DocumentKind } from "./store.ts";

const keyOf = (kind: DocumentKind, name: string) => `${kind}:${name}`;

/** Writes that may be under way at once: a large text typed fast would else pile up copies of itself. */
const MOST_UNDER_WAY = 4;

/** Opens the journal. Its database is opened with the first note or reading. */
export function openJournal(database = "castclock-typing"): Journal {
  const store = createStore(database, "typing");
  const waiting = new Map<string, Typed | undefined>();
  let underWay = 0;

  const writeOne = (key: string, typed: Typed | undefined) => {
    underWay++;
    store("readwrite", (typing) => {
      if (typed === undefined) typing.delete(key);
      else typing.put(typed, key);
      const { transaction } = typing;
      return new Promise<void>((done) => {
        transaction.oncomplete = transaction.onabort = () => done();
        transaction.commit();
      });
    })
      // full, switched off, or the database is gone
      .catch(() => undefined)
      .finally(() => {
        underWay--;
        const next = waiting.entries().next().value;
        if (next === undefined) return;
        waiting.delete(next[0]);
        writeOne(...next);
      });
  };

  return {
    note(kind, name, typed) {
      const key = keyOf(kind, name);
      if (underWay < MOST_UNDER_WAY && !waiting.has(key)) writeOne(key, typed);
      else waiting.set(key, typed);
    },
    async read(kind, name) {
      try {
        const typed: unknown = await get(keyOf(kind, name), store);
        return isTyped(typed) ? typed : undefined;
      } catch {
        return undefined;
      }
    },
  };
}

function isTyped(given: unknown): given is Typed {
  if (typeof given !== "object" || given === null) return false;
  const { text, basedOn, onItsWay } = given as Record<string, unknown>;
  return (
    typeof text === "string" &&
    typeof basedOn === "number" &&
    (onItsWay === undefined || typeof onItsWay === "string")
  );
}

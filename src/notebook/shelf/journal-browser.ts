/**
 * What is being typed, kept at once: a database needs a moment, which a reload may not leave it. One entry for each
 * document; where storage is full or switched off, typing is kept by the database alone.
 */
import type { Journal, Typed } from "./shelf.ts";
import type { DocumentKind } from "./store.ts";

const keyOf = (kind: DocumentKind, name: string) => `castclock.typing.${kind}:${name}`;

export const journal: Journal = {
  note(kind, name, typed) {
    try {
      if (typed === undefined) localStorage.removeItem(keyOf(kind, name));
      else localStorage.setItem(keyOf(kind, name), JSON.stringify(typed));
    } catch {
      // full or switched off
    }
  },
  read(kind, name) {
    try {
      const typed: unknown = JSON.parse(localStorage.getItem(keyOf(kind, name)) ?? "null");
      return isTyped(typed) ? typed : undefined;
    } catch {
      return undefined;
    }
  },
};

function isTyped(given: unknown): given is Typed {
  if (typeof given !== "object" || given === null) return false;
  const { text, basedOn } = given as Record<string, unknown>;
  return typeof text === "string" && typeof basedOn === "number";
}

/** What the shelf needs of a place to keep things. In the browser a database, in tests a Map. */

export type DocumentKind = "page" | "job";

/** A document as it is kept. Shipped ones are only kept once they were changed. */
export interface KeptDocument {
  readonly kind: DocumentKind;
  readonly name: string;
  readonly text: string;
  /** Counts up with every write; 0 is the shipped text. */
  readonly revision: number;
  /** ms since the epoch */
  readonly changed: number;
  /** The shipped document that it was renamed from: it may have that name back. */
  readonly from?: string;
  /** Set when it was taken off the shelf; it stays a while, so that this can be undone. */
  readonly removed?: number;
}

/** What is read from where it was kept may be anything. */
export function isDocument(found: unknown): found is KeptDocument {
  if (typeof found !== "object" || found === null) return false;
  const { kind, name, text, revision } = found as Record<string, unknown>;
  return (
    (kind === "page" || kind === "job") &&
    typeof name === "string" &&
    typeof text === "string" &&
    typeof revision === "number"
  );
}

export interface ShelfStore {
  all(): Promise<readonly KeptDocument[]>;
  one(kind: DocumentKind, name: string): Promise<KeptDocument | undefined>;
  /**
   * Reads and writes in one step that no other tab can come between. `change` gets what is there and answers
   * what shall be there; the same object: nothing is written; undefined: taken out.
   */
  change(
    kind: DocumentKind,
    name: string,
    change: (now: KeptDocument | undefined) => KeptDocument | undefined,
  ): Promise<KeptDocument | undefined>;
  /** Hears of changes by other tabs. The answer ends it. */
  watch(heard: (kind: DocumentKind, name: string) => void): () => void;
}

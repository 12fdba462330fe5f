/** What the site brings: some documents are at hand, the texts of others are fetched once they are asked for. */
import type { DocumentKind } from "./store.ts";

export interface ShippedDocument {
  readonly name: string;
  readonly text: string;
}

export interface Shipped {
  /** Waits for no other document where it is at hand. */
  one(kind: DocumentKind, name: string): Promise<ShippedDocument | undefined>;
  /** Those at hand, then the others, each in their order. */
  all(kind: DocumentKind): Promise<readonly ShippedDocument[]>;
}

/** @param others what is not at hand, for the kinds of which there is more */
export function shippedDocuments(
  atHand: Readonly<Record<DocumentKind, readonly ShippedDocument[]>>,
  others: Partial<Record<DocumentKind, () => Promise<readonly ShippedDocument[]>>> = {},
): Shipped {
  const all = async (kind: DocumentKind) => [...atHand[kind], ...((await others[kind]?.()) ?? [])];
  return {
    all,
    one: async (kind, name) =>
      atHand[kind].find((d) => d.name === name) ?? (await all(kind)).find((d) => d.name === name),
  };
}

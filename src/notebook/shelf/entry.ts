/** A document on the shelf as its readers see it, and what keeping one gives. */
import type { DocumentKind } from "./store.ts";

export interface ShelfEntry {
  readonly kind: DocumentKind;
  readonly name: string;
  readonly text: string;
  readonly revision: number;
  /** A shipped document, whether changed or not. */
  readonly shipped: boolean;
  /** Differs from the shipped text, or is the reader's own. */
  readonly own: boolean;
  /** ms since the epoch; absent for a shipped text as it came. */
  readonly changed?: number;
}

export type Saved =
  | { readonly kept: "as"; readonly name: string; readonly revision: number }
  /** Another tab was faster: the text is kept under `name`, the other's stays where it was. */
  | { readonly kept: "second"; readonly name: string; readonly revision: number };

/** Where typing is noted before it is written to the shelf. */
import type { DocumentKind } from "./store.ts";

/** Keeps what is being typed until it is written: a reload a moment after a key loses nothing. Never throws. */
export interface Journal {
  /** `undefined`: it was written. */
  note(kind: DocumentKind, name: string, typed: Typed | undefined): void;
  read(kind: DocumentKind, name: string): Promise<Typed | undefined>;
}

/** A text that was typed and not yet kept, and the revision that it was based on. */
export interface Typed {
  readonly text: string;
  readonly basedOn: number;
  /** The text before it that was just being written: the visit may have ended before it heard that this was kept. */
  readonly onItsWay?: string;
}

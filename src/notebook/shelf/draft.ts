/** A document while it is being typed. What is typed is kept within a fraction of a second, one write at a time. */
import type { Saved, ShelfEntry } from "./entry.ts";
import type { Journal } from "./journal.ts";
import type { DocumentKind } from "./store.ts";

export type DraftNews =
  | { readonly kind: "kept"; readonly revision: number }
  /** Another tab had changed the document: what was typed here is kept as `name`, and typing goes on there. */
  | { readonly kind: "second"; readonly name: string; readonly before: string }
  /** Another tab changed it, and nothing here was waiting: `text` is the new text. */
  | { readonly kind: "elsewhere"; readonly text: string }
  /** It could not be kept (the disk is full, say): it is tried again with the next change. */
  | { readonly kind: "failed"; readonly why: string };

/** What a draft needs of the shelf that it is kept on. */
interface DraftShelf {
  save(kind: DocumentKind, name: string, text: string, basedOn: number): Promise<Saved>;
  read(kind: DocumentKind, name: string): Promise<ShelfEntry | undefined>;
}

/** Between the writes of one burst of keys. The first key is written at once; none is put off by further keys. */
export const KEEP_WITHIN_MS = 100;

export class Draft {
  readonly kind: DocumentKind;
  #name: string;
  #text: string;
  #keptText: string;
  #revision: number;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #writing: Promise<void> | undefined;
  #onItsWay: string | undefined;
  #wroteAt = Number.NEGATIVE_INFINITY;
  #closed = false;
  readonly #shelf: DraftShelf;
  readonly #listeners = new Set<(news: DraftNews) => void>();
  readonly #onClose: () => void;
  readonly #journal: Pick<Journal, "note"> | undefined;

  constructor(
    shelf: DraftShelf,
    entry: ShelfEntry,
    onClose: () => void,
    journal?: Pick<Journal, "note">,
  ) {
    this.#journal = journal;
    this.kind = entry.kind;
    this.#shelf = shelf;
    this.#name = entry.name;
    this.#text = entry.text;
    this.#keptText = entry.text;
    this.#revision = entry.revision;
    this.#onClose = onClose;
  }

  get name(): string {
    return this.#name;
  }

  get text(): string {
    return this.#text;
  }

  get revision(): number {
    return this.#revision;
  }

  /** Nothing typed is waiting to be kept. */
  get isKept(): boolean {
    return this.#text === this.#keptText && this.#writing === undefined;
  }

  /** The text as it stands after a key. */
  change(text: string): void {
    if (this.#closed || text === this.#text) return;
    this.#text = text;
    this.#journal?.note(this.kind, this.#name, {
      text,
      basedOn: this.#revision,
      ...(this.#onItsWay === undefined ? {} : { onItsWay: this.#onItsWay }),
    });
    this.#flushSoon();
  }

  #flushSoon(): void {
    const wait = Math.max(0, this.#wroteAt + KEEP_WITHIN_MS - Date.now());
    this.#timer ??= setTimeout(() => void this.flush(), Math.min(wait, KEEP_WITHIN_MS));
  }

  /** Keeps at once what waits. */
  async flush(): Promise<void> {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    while (this.#writing !== undefined) await this.#writing;
    if (this.#text === this.#keptText) return;
    this.#writing = this.#write().finally(() => {
      this.#writing = undefined;
    });
    await this.#writing;
    if (this.#text !== this.#keptText && !this.#failed) this.#flushSoon();
  }

  #failed = false;

  async #write(): Promise<void> {
    const text = this.#text;
    this.#wroteAt = Date.now();
    this.#onItsWay = text;
    let saved: Saved;
    try {
      saved = await this.#shelf.save(this.kind, this.#name, text, this.#revision);
    } catch (error) {
      this.#failed = true;
      this.#onItsWay = undefined;
      this.#tell({ kind: "failed", why: error instanceof Error ? error.message : String(error) });
      return;
    }
    this.#failed = false;
    this.#onItsWay = undefined;
    const before = this.#name;
    this.#name = saved.name;
    this.#revision = saved.revision;
    this.#keptText = text;
    this.#journal?.note(
      this.kind,
      before,
      this.#text === text || before !== this.#name
        ? undefined
        : { text: this.#text, basedOn: this.#revision },
    );
    if (saved.kept === "second") this.#tell({ kind: "second", name: saved.name, before });
    else this.#tell({ kind: "kept", revision: saved.revision });
  }

  /** The shelf calls this when the document was written, here or elsewhere. */
  heard(): void {
    if (this.#closed || this.#writing !== undefined || this.#text !== this.#keptText) return;
    void this.#shelf.read(this.kind, this.#name).then((entry) => {
      if (entry === undefined || this.#writing !== undefined) return;
      if (this.#text !== this.#keptText || entry.revision === this.#revision) return;
      this.#revision = entry.revision;
      if (entry.text === this.#text) return;
      this.#text = entry.text;
      this.#keptText = entry.text;
      this.#tell({ kind: "elsewhere", text: entry.text });
    });
  }

  subscribe(listener: (news: DraftNews) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** Keeps what waits, then takes no more. */
  async close(): Promise<void> {
    await this.flush();
    this.#closed = true;
    this.#listeners.clear();
    this.#onClose();
  }

  #tell(news: DraftNews): void {
    for (const listener of this.#listeners) listener(news);
  }
}

/** A mistake where it stands: the line is hatched, and the words are written under it with a leader. */
import { type Extension, StateEffect, StateField } from "@codemirror/state";
import { Decoration, type DecorationSet, EditorView, WidgetType } from "@codemirror/view";

interface Wrong {
  /** From 1. */
  readonly line: number;
  readonly words: string;
}

class Words extends WidgetType {
  readonly words: string;
  constructor(words: string) {
    super();
    this.words = words;
  }
  override eq(other: Words): boolean {
    return other.words === this.words;
  }
  toDOM(): HTMLElement {
    const place = document.createElement("div");
    place.className = "wrong-words";
    place.textContent = this.words;
    return place;
  }
}

const hatched = Decoration.line({ class: "wrong-line" });

export const setWrong = StateEffect.define<Wrong | undefined>();

const marks = StateField.define<DecorationSet>({
  create: () => Decoration.none,
  update(now, transaction) {
    for (const effect of transaction.effects)
      if (effect.is(setWrong)) {
        if (!effect.value) return Decoration.none;
        const { doc } = transaction.state;
        const line = doc.line(Math.max(1, Math.min(effect.value.line, doc.lines)));
        const words = Decoration.widget({
          widget: new Words(effect.value.words),
          block: true,
          side: 1,
        });
        return Decoration.set([hatched.range(line.from), words.range(line.to)]);
      }
    return now.map(transaction.changes);
  },
  provide: (field) => EditorView.decorations.from(field),
});

export const wrongLine: Extension = marks;

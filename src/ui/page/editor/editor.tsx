import { defaultKeymap, history, historyKeymap, indentWithTab } from "@codemirror/commands";
import { javascript } from "@codemirror/lang-javascript";
import { HighlightStyle, syntaxHighlighting } from "@codemirror/language";
import { Annotation, EditorState } from "@codemirror/state";
import { EditorView, keymap, lineNumbers } from "@codemirror/view";
import { tags } from "@lezer/highlight";
import type { RefObject } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { EditorProps } from "../editor-props.ts";
import { type Begun, begun, type Word } from "./words.ts";
import { setWrong, wrongLine } from "./wrong-line.ts";

/** One ink, weight and slant instead of a rainbow: what the library gives stands out, words step back. */
const inks = HighlightStyle.define([
  { tag: tags.comment, color: "var(--ink-soft)", fontStyle: "italic" },
  { tag: [tags.keyword, tags.controlKeyword, tags.definitionKeyword], fontWeight: "700" },
  { tag: [tags.string, tags.special(tags.string)], color: "var(--blue)" },
  { tag: tags.number, color: "var(--red)" },
]);

/** Marks a change that was not typed here. */
const fromElsewhere = Annotation.define<boolean>();

const trimmed = (text: string) => text.replace(/\n+$/, "");

/** The text of a working on ruled paper. Words that may be meant stand in a row below, to be tapped. */
export default function Editor({ text, label, wrong, onChange }: EditorProps) {
  const place = useRef<HTMLDivElement>(null);
  const row = useRef<HTMLDivElement>(null);
  const [offered, setOffered] = useState<Begun | undefined>();
  const view = useEditor(place, { text, label, wrong, onChange }, setOffered, () =>
    row.current?.querySelector("button")?.focus(),
  );

  function take(word: Word): void {
    const now = view.current;
    if (!now || !offered) return;
    const { head } = now.state.selection.main;
    const line = now.state.doc.lineAt(head);
    now.dispatch({
      changes: { from: line.from + offered.from, to: head, insert: word.name },
      selection: { anchor: line.from + offered.from + word.name.length },
    });
    now.focus();
  }
  return (
    <>
      <div class="editor" ref={place} />
      <div class="word-row" ref={row}>
        {offered?.words.map((word) => (
          <button type="button" key={word.name} onClick={() => take(word)}>
            {word.name}
          </button>
        ))}
        <p class="word-doc" aria-live="polite">
          {offered ? firstWords(offered.words[0]!) : ""}
        </p>
      </div>
      <p class="small soft">
        Control and Space go to the words offered. Escape, then Tab, leaves the text.
      </p>
    </>
  );
}

const firstWords = ({ name, doc }: Word) => `${name}: ${doc.split("\n\n")[0] ?? ""}`;

/** The editor in its place, kept in step with what comes from elsewhere. */
function useEditor(
  place: RefObject<HTMLDivElement | null>,
  { text, label, wrong, onChange }: EditorProps,
  offer: (words: Begun | undefined) => void,
  toOffered: () => void,
): RefObject<EditorView | undefined> {
  const view = useRef<EditorView | undefined>(undefined);
  const tell = useRef(onChange);
  tell.current = onChange;
  /** What was typed and told, newest last. */
  const sent = useRef<string[]>([]);

  useEffect(() => {
    const typed = (now: string) => {
      sent.current.push(trimmed(now));
      tell.current(`${now}\n`);
    };
    const made = new EditorView({
      parent: place.current!,
      state: EditorState.create({
        doc: trimmed(text),
        extensions: [...extensionsOf(label, toOffered), telling(typed, offer)],
      }),
    });
    view.current = made;
    return () => made.destroy();
  }, []);

  // a change from elsewhere (reset, another tab) replaces what stands here
  useEffect(() => {
    const now = view.current;
    if (!now) return;
    // what comes back is mostly what was typed here, and may lag behind the typing
    const echo = sent.current.lastIndexOf(trimmed(text));
    if (echo >= 0) {
      sent.current.splice(0, echo);
      return;
    }
    if (trimmed(now.state.doc.toString()) === trimmed(text)) return;
    sent.current = [];
    now.dispatch({
      changes: { from: 0, to: now.state.doc.length, insert: trimmed(text) },
      annotations: fromElsewhere.of(true),
    });
  }, [text]);

  useEffect(() => {
    view.current?.dispatch({ effects: setWrong.of(wrong) });
  }, [wrong?.line, wrong?.words]);
  return view;
}

/** A mark at each fifth line only, as on a rule. */
const FIFTH = 5;

function extensionsOf(label: string, toOffered: () => void) {
  const offeredKey = {
    key: "Ctrl-Space",
    run: () => {
      toOffered();
      return true;
    },
  };
  return [
    lineNumbers({ formatNumber: (n) => (n === 1 || n % FIFTH === 0 ? String(n) : "\u2013") }),
    history(),
    javascript({ typescript: true }),
    syntaxHighlighting(inks),
    wrongLine,
    // Escape, then Tab leaves the editor: said beside it
    keymap.of([offeredKey, ...defaultKeymap, ...historyKeymap, indentWithTab]),
    EditorView.lineWrapping,
    EditorView.contentAttributes.of({ "aria-label": label }),
  ];
}

/** Tells what was typed here, and what the word at the cursor may become. */
function telling(typed: (text: string) => void, offer: (words: Begun | undefined) => void) {
  return EditorView.updateListener.of((update) => {
    if (!update.docChanged) return;
    if (update.transactions.some((t) => t.annotation(fromElsewhere))) return;
    const { head } = update.state.selection.main;
    const line = update.state.doc.lineAt(head);
    offer(begun(line.text.slice(0, head - line.from)));
    typed(update.state.doc.toString());
  });
}

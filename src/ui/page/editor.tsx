import { libraryWords } from "virtual:library-words";
import {
  autocompletion,
  type Completion,
  type CompletionContext,
  completionKeymap,
} from "@codemirror/autocomplete";
import { defaultKeymap, history, historyKeymap, indentWithTab } from "@codemirror/commands";
import { javascript } from "@codemirror/lang-javascript";
import { bracketMatching, HighlightStyle, syntaxHighlighting } from "@codemirror/language";
import { lintGutter, setDiagnostics } from "@codemirror/lint";
import { Annotation, EditorState } from "@codemirror/state";
import { EditorView, keymap, lineNumbers } from "@codemirror/view";
import { tags } from "@lezer/highlight";
import { useEffect, useRef } from "preact/hooks";
import type { EditorProps } from "./editor-props.ts";

/** One ink, weight and slant instead of a rainbow: what the library gives stands out, words step back. */
const inks = HighlightStyle.define([
  { tag: tags.comment, color: "var(--ink-soft)", fontStyle: "italic" },
  { tag: [tags.keyword, tags.controlKeyword, tags.definitionKeyword], fontWeight: "700" },
  { tag: [tags.string, tags.special(tags.string)], color: "var(--blue)" },
  { tag: tags.number, color: "var(--red)" },
]);

const SHOW = ["answer", "table", "figure", "field", "note", "timeline"];

const completions: Completion[] = [
  ...libraryWords.map(({ name, kind, doc }) => ({ label: name, type: kind, info: doc })),
  { label: "job", type: "variable", info: "The chosen job, in SI and kelvin." },
  {
    label: "quick",
    type: "variable",
    info: "True while a dial is being turned: answer fast, roughly.",
  },
];

/** Marks a change that was not typed here. */
const fromElsewhere = Annotation.define<boolean>();

const trimmed = (text: string) => text.replace(/\n+$/, "");

function complete(context: CompletionContext) {
  const shown = context.matchBefore(/show\.\w*/);
  if (shown)
    return {
      from: shown.from + 5,
      options: SHOW.map((label) => ({
        label,
        type: "function",
        info: `Shows a ${label} on the sheet.`,
      })),
    };
  const word = context.matchBefore(/[A-Za-z_]\w*/);
  if (!word || (word.from === word.to && !context.explicit)) return null;
  return { from: word.from, options: completions, validFor: /^\w*$/ };
}

export default function Editor({ text, label, wrong, onChange }: EditorProps) {
  const place = useRef<HTMLDivElement>(null);
  const view = useRef<EditorView | undefined>(undefined);
  const tell = useRef(onChange);
  tell.current = onChange;
  /** What was typed and told, newest last. */
  const sent = useRef<string[]>([]);

  useEffect(() => {
    const made = new EditorView({
      parent: place.current!,
      state: EditorState.create({
        doc: trimmed(text),
        extensions: [
          lineNumbers(),
          history(),
          bracketMatching(),
          javascript({ typescript: true }),
          syntaxHighlighting(inks),
          autocompletion({ override: [complete], icons: false }),
          lintGutter(),
          // Escape, then Tab leaves the editor: said beside it
          keymap.of([...completionKeymap, ...defaultKeymap, ...historyKeymap, indentWithTab]),
          EditorView.lineWrapping,
          EditorView.contentAttributes.of({ "aria-label": label }),
          EditorView.updateListener.of((update) => {
            if (!update.docChanged || update.transactions.some((t) => t.annotation(fromElsewhere)))
              return;
            const typed = update.state.doc.toString();
            sent.current.push(trimmed(typed));
            tell.current(`${typed}\n`);
          }),
        ],
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
    const now = view.current;
    if (!now) return;
    if (!wrong) {
      now.dispatch(setDiagnostics(now.state, []));
      return;
    }
    const line = now.state.doc.line(Math.min(wrong.line, now.state.doc.lines));
    const mark = { from: line.from, to: line.to, severity: "error" as const, message: wrong.words };
    now.dispatch(setDiagnostics(now.state, [mark]));
  }, [wrong?.line, wrong?.words]);

  return (
    <>
      <div class="editor" ref={place} />
      <p class="small soft">
        Every change runs the sheet again from here. Escape, then Tab, leaves the text.
      </p>
    </>
  );
}

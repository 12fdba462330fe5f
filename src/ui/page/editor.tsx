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
import { EditorState } from "@codemirror/state";
import { EditorView, keymap, lineNumbers } from "@codemirror/view";
import { tags } from "@lezer/highlight";
import { useEffect, useRef } from "preact/hooks";
import type { EditorProps } from "./working.tsx";

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

  useEffect(() => {
    const made = new EditorView({
      parent: place.current!,
      state: EditorState.create({
        doc: text.replace(/\n$/, ""),
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
            if (update.docChanged) tell.current(`${update.state.doc.toString()}\n`);
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
    const next = text.replace(/\n$/, "");
    if (now && now.state.doc.toString() !== next)
      now.dispatch({ changes: { from: 0, to: now.state.doc.length, insert: next } });
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

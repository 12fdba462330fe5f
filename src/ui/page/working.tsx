import type { ComponentType } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Working } from "../../notebook/page/types.ts";
import type { RunProblem } from "../../notebook/run/types.ts";
import { ErrorList } from "../reading/error-list.tsx";
import { problemWords, runWords } from "../reading/problem-words.ts";
import type { EditorProps } from "./editor-props.ts";

interface WorkingFoldProps {
  readonly working: Working;
  readonly problem: RunProblem | undefined;
  readonly onChange: (body: string) => void;
}

/** How a figure was worked out: folded for the bench, open for the curious. */
export function WorkingFold({ working, problem, onChange }: WorkingFoldProps) {
  const [open, setOpen] = useState(false);
  const line = problem?.line === undefined ? undefined : problem.line - working.bodyLine + 1;
  const words = problem && runWords(problem, working.name);
  return (
    <div class="working no-print">
      {words && (
        <div class="run-problem" role="alert">
          <p class="error">{words}</p>
          {problem.problems && <ErrorList words={problem.problems.map(problemWords)} />}
        </div>
      )}
      <details onToggle={(e) => setOpen(e.currentTarget.open)}>
        <summary>How it is worked out: {working.name || "this step"}</summary>
        {open && (
          <LazyEditor
            text={working.body}
            label={`Working: ${working.name}`}
            wrong={words && line !== undefined && line > 0 ? { line, words } : undefined}
            onChange={onChange}
          />
        )}
      </details>
    </div>
  );
}

let editor: ComponentType<EditorProps> | undefined;

function LazyEditor(props: EditorProps) {
  const [View, setView] = useState<ComponentType<EditorProps> | undefined>(() => editor);
  useEffect(() => {
    if (!View)
      void import("./editor.tsx").then((module) => {
        editor = module.default;
        setView(() => module.default);
      });
  }, [View]);
  if (View) return <View {...props} />;
  return <pre class="editor editor-plain">{props.text}</pre>;
}

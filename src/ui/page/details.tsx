import type { ComponentType } from "preact";
import { useEffect, useMemo, useState } from "preact/hooks";
import type { Output } from "../../notebook/outputs/output.ts";
import type { Working } from "../../notebook/page/types.ts";
import type { RunProblem } from "../../notebook/run/types.ts";
import { useSlices } from "../frame/growing.ts";
import { AnswerLine } from "../outputs/answer-line.tsx";
import { runWords } from "../reading/problem-words.ts";
import type { EditorProps } from "./editor-props.ts";
import type { OpenPage } from "./open-page.ts";
import { detailId, detailLetter } from "./working.tsx";

/** At the foot of a sheet, like the details and the parts list of a drawing: how each figure is worked out. */
export function Details({ open }: { open: OpenPage }) {
  const { workings } = open.page.value;
  const run = open.run.value;
  const listed = useSlices(workings.length, 20);
  if (workings.length === 0) return null;
  return (
    <section class="details no-print" aria-labelledby="details-title">
      <h2 id="details-title">Details</h2>
      <p>How each figure is worked out. What you change here is worked out again at once.</p>
      <ul class="index">
        {workings.slice(0, listed).map((working) => (
          <li key={working.number}>
            <Detail
              working={working}
              outputs={run.outputs[working.number] ?? NOTHING}
              problem={run.problem?.working === working.number ? run.problem : undefined}
              open={open}
            />
          </li>
        ))}
      </ul>
    </section>
  );
}

const NOTHING: readonly Output[] = [];

interface DetailProps {
  readonly working: Working;
  readonly outputs: readonly Output[];
  readonly problem: RunProblem | undefined;
  readonly open: OpenPage;
}

function Detail({ working, outputs, problem, open }: DetailProps) {
  const { name, number } = working;
  const [unfolded, setUnfolded] = useState(false);
  const line = problem?.line === undefined ? undefined : problem.line - working.bodyLine + 1;
  const words = problem && runWords(problem, name);
  const heading = useMemo(
    () => (
      <summary class="entry">
        <span class="balloon">{detailLetter(number)}</span>
        <b>{name || "this step"}</b>
        <span class="leader" aria-hidden="true" />
        <span class="gist">{gistOf(outputs)}</span>
      </summary>
    ),
    [name, number, outputs],
  );
  return (
    <details id={detailId(number)} onToggle={(e) => setUnfolded(e.currentTarget.open)}>
      {heading}
      {unfolded && (
        <div class="detail-body">
          <LazyEditor
            text={working.body}
            label={`Working: ${name}`}
            wrong={words && line !== undefined && line > 0 ? { line, words } : undefined}
            onChange={(body) => open.setWorking(number, body)}
          />
          <div class="detail-given">
            <Given outputs={outputs} words={words} />
            <button type="button" onClick={() => toPlace(number)}>
              To its place on the sheet
            </button>
          </div>
        </div>
      )}
    </details>
  );
}

/** What a working gives, in a few words: it is a list that is looked through. */
function gistOf(outputs: readonly Output[]): string {
  const names = new Set(outputs.map(({ kind }) => KINDS[kind]));
  return [...names].join(", ") || "nothing yet";
}

const KINDS: Readonly<Record<Output["kind"], string>> = {
  answer: "answer",
  table: "table",
  figure: "figure",
  field: "section",
  note: "note",
  timeline: "times",
  lesson: "what to keep",
};

/** The answers beside the text that works them out, so that one sees what a change does. */
function Given({ outputs, words }: { outputs: readonly Output[]; words: string | undefined }) {
  const answers = outputs.filter((o) => o.kind === "answer");
  if (words !== undefined) return <p class="error">{words}</p>;
  if (answers.length === 0) return null;
  return (
    <div>
      {answers.map((a, i) => (
        <AnswerLine answer={a} key={`${i}${a.label}`} />
      ))}
    </div>
  );
}

function toPlace(number: number): void {
  const place = document.getElementById(`working-${number}`);
  place?.scrollIntoView({ block: "center" });
  place?.querySelector("button")?.focus();
}

let editor: ComponentType<EditorProps> | undefined;

function LazyEditor(props: EditorProps) {
  const [View, setView] = useState<ComponentType<EditorProps> | undefined>(() => editor);
  useEffect(() => {
    if (!View)
      void import("./editor/editor.tsx").then((module) => {
        editor = module.default;
        setView(() => module.default);
      });
  }, [View]);
  if (View) return <View {...props} />;
  return <pre class="editor editor-plain">{props.text}</pre>;
}

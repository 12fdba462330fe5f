import type { FunctionComponent } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { FieldOutput, LessonOutput, Output } from "../../notebook/outputs/output.ts";
import { isTime } from "../bench/marks.ts";
import TimeIt from "../bench/time-it.tsx";
import { useSlices } from "../frame/growing.ts";
import { Answer } from "../outputs/answer.tsx";
import { Figure } from "../outputs/figure/figure.tsx";
import { Note } from "../outputs/note.tsx";
import type { Old } from "../outputs/old-word.tsx";
import { Table } from "../outputs/table.tsx";
import { Timeline } from "../outputs/timeline.tsx";
import type { OpenPage } from "./open-page.ts";

interface OutputsProps {
  readonly outputs: readonly Output[];
  readonly old: Old;
  readonly open: OpenPage;
}

/** What a working said, in its order. */
export function Outputs({ outputs, old, open }: OutputsProps) {
  const drawn = useSlices(outputs.length, AT_ONCE);
  return (
    <>
      {outputs.slice(0, drawn).map((output, i) => (
        <One key={`${i}${output.kind}`} output={output} old={old} open={open} />
      ))}
    </>
  );
}

/** Outputs that are drawn in one go. */
const AT_ONCE = 6;

function One({ output, old, open }: { output: Output; old: Old; open: OpenPage }) {
  switch (output.kind) {
    case "answer":
      return (
        <Answer output={output} old={old}>
          {isTime(output) && <TimeIt output={output} open={open} />}
        </Answer>
      );
    case "table":
      return <Table output={output} old={old} />;
    case "figure":
      return <Figure output={output} old={old} />;
    case "timeline":
      return <Timeline output={output} old={old} />;
    case "note":
      return <Note output={output} old={old} />;
    case "lesson":
      return <LazyLesson output={output} old={old} />;
    case "field":
      return <LazyField output={output} old={old} />;
  }
}

type FieldView = FunctionComponent<{ output: FieldOutput; old: Old }>;
let fieldView: FieldView | undefined;

/** The field and its contours are loaded when the first one is shown; its space is kept. */
function LazyField(props: { output: FieldOutput; old: Old }) {
  const [View, setView] = useState<FieldView | undefined>(() => fieldView);
  useEffect(() => {
    if (!View)
      void import("../outputs/field/field.tsx").then((module) => {
        fieldView = module.default;
        setView(() => module.default);
      });
  }, [View]);
  if (View) return <View {...props} />;
  const { x, y } = props.output.frames[0]!;
  const ratio = `${x.at(-1)! - x[0]!} / ${y.at(-1)! - y[0]!}`;
  return (
    <div class="field-plate" style={{ aspectRatio: ratio, maxHeight: "70vh" }} aria-busy="true" />
  );
}

type LessonView = FunctionComponent<{ output: LessonOutput; old: Old }>;

/** Few sheets have one: what writes it into a job is loaded with it. */
function LazyLesson(props: { output: LessonOutput; old: Old }) {
  const [View, setView] = useState<LessonView | undefined>();
  useEffect(() => {
    void import("../outputs/lesson.tsx").then((module) => setView(() => module.default));
  }, []);
  return View ? <View {...props} /> : null;
}

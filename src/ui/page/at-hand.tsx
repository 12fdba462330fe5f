import type { Passage } from "../../notebook/page/types.ts";
import { AnswerLine } from "../outputs/answer-line.tsx";
import { oldOf } from "./old.ts";
import type { OpenPage } from "./open-page.ts";

/**
 * On a wide sheet the answers stand again below what is set, small, with leaders: whoever reads further down and turns a
 * dial sees at once what it does. On a narrow one there is no room; and read aloud they would be said twice.
 */
export function AtHand({ open, passages }: { open: OpenPage; passages: readonly Passage[] }) {
  const { outputs } = open.run.value;
  const answers = passages
    .flatMap((p) => (p.kind === "working" ? [p.number] : []))
    .flatMap((number) =>
      (outputs[number] ?? [])
        .filter((o) => o.kind === "answer")
        .map((answer) => ({ answer, old: oldOf(open, number) !== undefined })),
    )
    .slice(0, MOST);
  if (answers.length === 0) return null;
  return (
    <div class="at-hand no-print" aria-hidden="true">
      {answers.map(({ answer, old }, i) => (
        <AnswerLine answer={answer} old={old} key={`${i}${answer.label}`} />
      ))}
    </div>
  );
}

const MOST = 6;

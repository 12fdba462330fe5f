import type { Working } from "../../notebook/page/types.ts";
import type { RunProblem } from "../../notebook/run/types.ts";
import { ErrorList } from "../reading/error-list.tsx";
import { refusedWords, runWords } from "../reading/problem-words.ts";

/** Letter of the detail in which a working is drawn out: A to Z, then AA. */
export function detailLetter(number: number): string {
  const last = String.fromCharCode(65 + (number % 26));
  return number < 26 ? last : detailLetter(Math.floor(number / 26) - 1) + last;
}

export const detailId = (number: number) => `detail-${number}`;

/** Leaves the place where a figure stands for the detail at the foot of the sheet that says how it is worked out. */
function toDetail(number: number): void {
  const detail = document.getElementById(detailId(number));
  if (!(detail instanceof HTMLDetailsElement)) return;
  detail.open = true;
  detail.scrollIntoView({ block: "start" });
  detail.querySelector("summary")?.focus();
}

/** Below what a working gave: what went wrong in it, and the letter of its detail, as on an assembly drawing. */
export function WorkingMark({
  working,
  problem,
}: {
  working: Working;
  problem: RunProblem | undefined;
}) {
  const { name, number } = working;
  const words = problem && runWords(problem, name);
  return (
    <div class="working no-print" id={`working-${number}`}>
      {words && (
        <div class="run-problem" role="alert">
          <p class="error">{words}</p>
          {problem.problems && <ErrorList words={refusedWords(problem)} />}
        </div>
      )}
      <button
        type="button"
        class="to-detail"
        aria-label={`How it is worked out: ${name || "this step"}, detail ${detailLetter(number)}`}
        onClick={() => toDetail(number)}
      >
        <span class="leader" aria-hidden="true" />
        <span aria-hidden="true">detail</span>
        <span class="balloon" aria-hidden="true">
          {detailLetter(number)}
        </span>
      </button>
    </div>
  );
}

import type { AnswerOutput } from "../../notebook/outputs/output.ts";
import { unitSystem } from "../reading/preferences.ts";
import { answerShown } from "../reading/shown.ts";

/** An answer in one line, with a leader from its name to its figure, and its range below. */
export function AnswerLine({ answer, old = false }: { answer: AnswerOutput; old?: boolean }) {
  const { label, low, high, instead } = answer;
  const reading = answerShown(answer, unitSystem.value);
  const figure = reading?.parts.map((p) => `${p.figure} ${p.unit}`.trim()).join(" ");
  // "between 4:50 and 6:10, most likely 5:20": the figure is said already
  const range = low === high ? "" : (reading?.range.split(", most")[0] ?? "");
  return (
    <div class="answer-line">
      <div class="entry-line">
        <span class="entry-label">{label}</span>
        <b>{old ? "\u2026" : (figure ?? instead ?? "none")}</b>
      </div>
      {range && !old && <p>{range}</p>}
    </div>
  );
}

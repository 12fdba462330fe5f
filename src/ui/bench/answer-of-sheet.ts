/** One answer of a sheet, worked out again with another temperature of the mold. */
import { kindOf } from "../../notebook/dials/quantity-dial.ts";
import type { Dial } from "../../notebook/dials/types.ts";
import type { AnswerOutput } from "../../notebook/outputs/output.ts";
import { readPage } from "../../notebook/page/page.ts";
import { withDial } from "../../notebook/page/set-dial.ts";
import { PageRunner } from "../../notebook/run/runner-browser.ts";
import { withJobValue } from "../job/edit.ts";
import { refusedWords, runWords } from "../reading/problem-words.ts";
import type { TimedAnswer } from "./timer.ts";

const MOLD = "mold.temperature";

/** A dial for that key of the job, or one of the sheet's own that is named after the mold: `moldNow`. */
const isMold = (dial: Dial): boolean =>
  dial.job === MOLD ||
  (/^mold/.test(dial.name) && dial.kind === "quantity" && kindOf(dial) === "temperature");

export async function answerOfSheet(
  { page: text, label }: TimedAnswer,
  jobText: string,
  mold: string,
): Promise<{ answer: AnswerOutput } | { wrong: readonly string[] }> {
  let page = readPage(text);
  // a dial of the sheet that stands for the mold would win over the job
  for (const dial of page.dials)
    if (isMold(dial) && dial.value !== undefined) page = readPage(withDial(page, dial.name, mold));
  const runner = new PageRunner();
  // as it was read, whatever it was preheated to
  const cold = withJobValue(jobText, ["run", "preheat"], undefined);
  const given = { page, jobText: withJobValue(cold, MOLD.split("."), mold) };
  try {
    return await new Promise((resolve) => {
      runner.subscribe(({ phase, outputs, problem }) => {
        if (phase === "failed" && problem) {
          resolve({
            wrong: [runWords(problem, ""), ...refusedWords(problem)],
          });
        }
        if (phase !== "done") return;
        const answers = outputs.flat().filter((o) => o.kind === "answer");
        const answer = answers.find((o) => o.label === label && o.value !== null);
        resolve(answer ? { answer } : { wrong: ["With this mold the sheet has no such time."] });
      });
      runner.run(given);
    });
  } finally {
    runner.close();
  }
}

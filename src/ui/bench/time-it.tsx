import { useState } from "preact/hooks";
import type { AnswerOutput } from "../../notebook/outputs/output.ts";
import { withJobValue } from "../job/edit.ts";
import { job } from "../job/job-store.ts";
import type { OpenPage } from "../page/open-page.ts";
import { holdScreen, readySound } from "./alarm.ts";
import { answerMarks } from "./marks.ts";
import { timedJob } from "./timed-job.ts";
import { PLACES, startTimer } from "./timer.ts";
import { placeTimer, timers } from "./timer-store.ts";

/** Starts the timer of this very answer: its marks, its job with the sheet's dials, its sheet. */
export default function TimeIt({ output, open }: { output: AnswerOutput; open: OpenPage }) {
  const [said, setSaid] = useState("");

  function start(): void {
    readySound();
    void holdScreen();
    const { marks, foretold } = answerMarks(output);
    const what = {
      name: PLACES[timers.value.indexOf(null)] ?? "",
      kind: "answer" as const,
      jobName: job.value.name,
      shot: 1,
      from: `as on the sheet \u201c${open.page.value.title}\u201d`,
      job: { ...timedJob(), text: jobWithDials(open) },
      answer: { page: open.page.value.text, label: output.label },
      ...(foretold && { foretold }),
    };
    const isPlaced = placeTimer(startTimer(what, marks, Date.now()));
    setSaid(isPlaced ? "" : "All timers are running: stop one first.");
  }

  return (
    <div class="no-print time-this">
      <button type="button" aria-label={`Start the timer: ${output.label}`} onClick={start}>
        Start the timer
      </button>
      {said && (
        <p class="error" role="alert">
          {said}
        </p>
      )}
    </div>
  );
}

/** What the sheet's dials set in the job is part of the job that is timed. */
function jobWithDials(open: OpenPage): string {
  return open.page.value.dials.reduce(
    (text, { job: path, value }) =>
      path === undefined || value === undefined ? text : withJobValue(text, path.split("."), value),
    job.value.text,
  );
}

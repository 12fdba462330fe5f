import { useState } from "preact/hooks";
import { deviatesText } from "../../../lib/job/fitted.ts";
import { withFitted } from "../../../lib/job/fitted-text.ts";
import type { FittedInput } from "../../../lib/job/input-names.ts";
import type { LessonOutput } from "../../notebook/outputs/output.ts";
import { editJob, job } from "../job/job-store.ts";
import type { Old } from "./old-word.tsx";

/** What a log teaches, kept in the job when the reader says so: from then on every question answers from it. */
export default function Lesson({ output, old }: { output: LessonOutput; old: Old }) {
  const [before, setBefore] = useState<string | undefined>();
  const { fitted } = output;
  const { name, text, open } = job.value;
  if (fitted === null)
    return (
      <p class="note info">
        The log does not fit the job {name}: nothing of it can be kept. Is it of this bait, in this
        mold?
      </p>
    );
  if (open === undefined) return null;
  const inUse = sameInputs(open.reading.job.fitted, fitted);

  function keep(next: string): void {
    setBefore(text);
    editJob(next);
  }
  return (
    <div class="no-print lesson">
      {inUse ? (
        <p role="status">
          <strong>In use.</strong> Every question about {name} answers from this log.
        </p>
      ) : (
        <button
          type="button"
          disabled={old !== undefined}
          onClick={() => keep(withFitted(text, fitted))}
        >
          Use this from now on
        </button>
      )}
      {inUse ? (
        <button
          type="button"
          class="plain"
          onClick={() => (before === undefined ? keep(withFitted(text, null)) : editJob(before))}
        >
          {before === undefined ? "Forget it" : "Take it back"}
        </button>
      ) : (
        <p>
          It is kept in the job {name} as its own: every question about it answers from this log
          then.
        </p>
      )}
    </div>
  );
}

function sameInputs(one: readonly FittedInput[], other: readonly FittedInput[]): boolean {
  const words = (inputs: readonly FittedInput[]) =>
    inputs.map((input) => `${input.name} ${deviatesText(input)}`).join("\n");
  return words(one) === words(other);
}

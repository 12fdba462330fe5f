import { useState } from "preact/hooks";
import { isProblem, readQuantity } from "../../../lib/units/quantity.ts";
import { ask } from "../asking/ask.ts";
import type { Settings } from "../asking/asked.ts";
import { ErrorList } from "../reading/error-list.tsx";
import { unitSystem } from "../reading/preferences.ts";
import { placedWords, problemWords } from "../reading/problem-words.ts";
import { withReaderUnit } from "../reading/typed.ts";
import { answerMarks, foretoldOf, marksOf } from "./marks.ts";
import { MoldReading, moldReading } from "./mold-reading.tsx";
import { ShotStepper } from "./shot-stepper.tsx";
import { timedJob } from "./timed-job.ts";
import { type BenchTimer, corrected, type TimerMark } from "./timer.ts";
import { changeTimer } from "./timer-store.ts";

type Asked =
  | { readonly marks: readonly TimerMark[]; readonly foretold?: BenchTimer["foretold"] }
  | { readonly wrong: readonly string[] };

/** The library is asked again, with the job that the timer was started with. */
async function askBench(timer: BenchTimer, settings: Settings, shot: number): Promise<Asked> {
  const what = { jobText: (timer.job ?? timedJob()).text, settings, shot };
  const reply =
    timer.kind === "open"
      ? await ask({ ...what, ask: "opening" })
      : await ask({ ...what, ask: "window" });
  if (!("answer" in reply))
    return { wrong: "problems" in reply ? reply.problems.map(placedWords) : [reply.fault] };
  const foretold = foretoldOf(reply.answer);
  return { marks: marksOf(timer.kind, reply.answer), ...(foretold && { foretold }) };
}

/** An answer of a sheet is answered by the same sheet. */
async function askSheet(timer: BenchTimer, mold: string): Promise<Asked> {
  if (!timer.answer) return { wrong: ["This timer does not know its sheet any more."] };
  const { answerOfSheet } = await import("./answer-of-sheet.ts");
  const jobText = (timer.job ?? timedJob()).text;
  const found = await answerOfSheet(timer.answer, jobText, mold);
  if ("wrong" in found) return found;
  return answerMarks(found.answer);
}

/** A reading of the mold, or another shot number: the same job is asked again, and only what is left changes. */
export function Correct({ timer, place }: { timer: BenchTimer; place: number }) {
  const [mold, setMold] = useState("");
  const [busy, setBusy] = useState(false);
  const [wrong, setWrong] = useState<readonly string[]>([]);

  async function correct(
    asking: Promise<Asked>,
    what: Pick<BenchTimer, "from" | "shot">,
    read?: string,
  ) {
    setBusy(true);
    setWrong([]);
    const asked = await asking;
    setBusy(false);
    if ("wrong" in asked) {
      setWrong(asked.wrong);
      return;
    }
    const { marks, foretold } = asked;
    changeTimer(place, (t) => {
      if (!t) return t;
      const more = {
        ...what,
        ...(foretold && { foretold }),
        ...(read !== undefined && { job: { ...(t.job ?? timedJob()), mold: read } }),
        corrections: [...(t.corrections ?? []), what.from],
      };
      return corrected(t, marks, more, Date.now());
    });
  }

  function takeReading(): void {
    const reading = withReaderUnit(mold, "temperature", unitSystem.value);
    const read = readQuantity(reading, "temperature");
    if (isProblem(read)) {
      setWrong([problemWords(read)]);
      return;
    }
    const what = { from: `for a mold at ${reading}, as read`, shot: timer.shot };
    const asking =
      timer.kind === "answer"
        ? askSheet(timer, reading)
        : // what was read is the mold of this very shot: it is the first one from there
          askBench(timer, moldReading(reading), 1);
    void correct(asking, what, reading);
  }

  return (
    <details class="closer">
      <summary>Correct it</summary>
      <div class="place-form">
        {timer.kind === "open" && (
          <ShotStepper
            shot={timer.shot}
            onChange={(shot) =>
              void correct(askBench(timer, {}, shot), { from: `for shot ${shot}, corrected`, shot })
            }
          />
        )}
        <MoldReading value={mold} onChange={setMold} />
        <button type="button" disabled={busy || mold.trim() === ""} onClick={takeReading}>
          {busy ? "Working it out \u2026" : "Use this reading"}
        </button>
        {wrong.length > 0 && <ErrorList words={wrong} />}
      </div>
    </details>
  );
}

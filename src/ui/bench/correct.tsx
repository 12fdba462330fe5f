import { useState } from "preact/hooks";
import { ask } from "../asking/ask.ts";
import type { Settings } from "../asking/asked.ts";
import { job } from "../job/job-store.ts";
import { problemWords } from "../reading/problem-words.ts";
import { foretoldOf, marksOf } from "./marks.ts";
import { ShotStepper } from "./shot-stepper.tsx";
import { type BenchTimer, corrected } from "./timer.ts";
import { changeTimer } from "./timer-store.ts";

/** A reading of the mold, or another shot number: the library is asked again, and only what is left changes. */
export function Correct({ timer, place }: { timer: BenchTimer; place: number }) {
  const [mold, setMold] = useState("");
  const [busy, setBusy] = useState(false);
  const [wrong, setWrong] = useState<readonly string[]>([]);

  async function correct(settings: Settings, shot: number, from: string): Promise<void> {
    setBusy(true);
    setWrong([]);
    const what = { jobText: job.value.text, settings, shot };
    const reply =
      timer.kind === "open"
        ? await ask({ ...what, ask: "opening" })
        : await ask({ ...what, ask: "window" });
    setBusy(false);
    if ("answer" in reply) {
      const marks = marksOf(timer.kind, reply.answer);
      const foretold = foretoldOf(reply.answer);
      const what = { from, shot, ...(foretold && { foretold }) };
      changeTimer(place, (t) => t && corrected(t, marks, what, Date.now()));
    } else setWrong("problems" in reply ? reply.problems.map(problemWords) : [reply.fault]);
  }

  return (
    <details class="closer">
      <summary>Correct it</summary>
      <div class="place-form">
        {timer.kind === "open" && (
          <ShotStepper
            shot={timer.shot}
            onChange={(shot) => void correct({}, shot, `for shot ${shot}, corrected`)}
          />
        )}
        <label>
          <span class="dial-label">Infrared reading of the empty mold face, at the start</span>
          <input value={mold} placeholder="104 F" onInput={(e) => setMold(e.currentTarget.value)} />
        </label>
        <p class="small">
          Read it on matt tape or a black marker dot; bare metal reads far too cold.
        </p>
        <button
          type="button"
          disabled={busy || mold.trim() === ""}
          onClick={() =>
            void correct(
              { "mold.temperature": mold.trim() },
              1,
              `for a mold at ${mold.trim()}, as read`,
            )
          }
        >
          {busy ? "Working it out \u2026" : "Use this reading"}
        </button>
        {wrong.map((w) => (
          <p class="error" key={w}>
            {w}
          </p>
        ))}
      </div>
    </details>
  );
}

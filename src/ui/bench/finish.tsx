import { useState } from "preact/hooks";
import { job } from "../job/job-store.ts";
import { VERDICTS } from "../log/entries.ts";
import { addEntry } from "../log/log-store.ts";
import { clockWords } from "../reading/clock.ts";
import type { BenchTimer } from "./timer.ts";
import { changeTimer } from "./timer-store.ts";

export function Finish({
  timer,
  place,
  elapsed,
}: {
  timer: BenchTimer;
  place: number;
  elapsed: number;
}) {
  const [ending, setEnding] = useState<number | undefined>();
  function clear(): void {
    changeTimer(place, () => null);
  }
  if (ending === undefined)
    return (
      <button type="button" class="strong" onClick={() => setEnding(elapsed)}>
        {timer.kind === "open" ? "Opened: stop" : "Second color is in: stop"}
      </button>
    );
  function log(verdict: (typeof VERDICTS)[number]): void {
    addEntry({
      id: crypto.randomUUID(),
      at: new Date().toISOString(),
      job: timer.jobName,
      ...job.value.measured,
      shot: timer.shot,
      seconds: Math.round(ending ?? 0),
      weight: "",
      verdict,
      note: timer.kind === "open" ? timer.name : `${timer.name}, second color`,
      ...(timer.foretold && { foretold: timer.foretold }),
    });
    clear();
  }
  return (
    <fieldset class="verdicts">
      <legend>
        Opened after <b>{clockWords(ending)}</b>. How was it?
      </legend>
      <div class="row">
        {VERDICTS.map((v) => (
          <button type="button" key={v} onClick={() => log(v)}>
            {v}
          </button>
        ))}
        <button type="button" class="plain" onClick={clear}>
          Do not log
        </button>
        <button type="button" class="plain" onClick={() => setEnding(undefined)}>
          Still closed: go on
        </button>
      </div>
    </fieldset>
  );
}

import { useState } from "preact/hooks";
import { type ShopVerdict, shopVerdicts } from "../../../lib/questions/fit/shop-verdicts.ts";
import { addEntry } from "../log/log-store.ts";
import { clockWords } from "../reading/clock.ts";
import type { BenchTimer } from "./timer.ts";
import { changeTimer } from "./timer-store.ts";

const STOP = {
  open: "Opened: stop",
  "second color": "Second color is in: stop",
  answer: "Done: stop",
} as const;

/** What was timed, and what was read or changed on the way. */
function noteOf({ name, kind, answer, corrections = [] }: BenchTimer): string {
  const what = {
    open: name,
    "second color": `${name}, second color`,
    answer: `${name}, ${answer?.label ?? ""}`,
  };
  return [what[kind], ...corrections].join("; ").slice(0, 300);
}

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
        {STOP[timer.kind]}
      </button>
    );
  function log(verdict: ShopVerdict): void {
    addEntry({
      id: crypto.randomUUID(),
      at: new Date().toISOString(),
      job: timer.jobName,
      room: timer.job?.room ?? "",
      mold: timer.job?.mold ?? "",
      plastisol: timer.job?.plastisol ?? "",
      shot: timer.shot,
      seconds: Math.round(ending ?? 0),
      weight: "",
      verdict,
      note: noteOf(timer),
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
        {shopVerdicts.map((v) => (
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

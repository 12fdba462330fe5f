import { timeText } from "../../../lib/units/format.ts";
import type { TimelineOutput } from "../../notebook/outputs/output.ts";
import { type Old, OldWord } from "./old-word.tsx";
import { Tape } from "./tape.tsx";

const SIGNS = { wait: "\u25A8", good: "\u25A0", late: "\u25A7" } as const;

/** When what may be done, as a tape and as a list in words. Times are in s whatever `unit` says of their size. */
export function Timeline({ output, old }: { output: TimelineOutput; old: Old }) {
  return (
    <figure class={old ? "is-old" : ""}>
      <figcaption>
        {output.label} <OldWord old={old} />
      </figcaption>
      <div class="hatched">
        <Tape from={output.from} until={output.until} spans={output.spans} marks={output.marks} />
      </div>
      <ul class="keys">
        {output.spans.map((s) => (
          <li key={s.label}>
            <span aria-hidden="true">{SIGNS[s.tone]}</span>
            <span>
              <b>{s.label}</b>: {s.from <= 0 ? "0 s" : timeText(s.from)} to {timeText(s.to)}
            </span>
          </li>
        ))}
        {output.marks.map((m) => (
          <li key={m.label}>
            <span aria-hidden="true">|</span>
            <span>
              <b>{m.label}</b>: {timeText(m.at)}
            </span>
          </li>
        ))}
      </ul>
    </figure>
  );
}

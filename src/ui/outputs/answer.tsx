import { type ComponentChildren, Fragment } from "preact";
import type { AnswerOutput } from "../../notebook/outputs/output.ts";
import { unitSystem } from "../reading/preferences.ts";
import { answerShown, type Shown } from "../reading/shown.ts";
import { type Old, OldWord } from "./old-word.tsx";
import { Tape } from "./tape.tsx";

/** One answer. `old` while a newer one is being worked out: said in words and drawn as a hatch. */
export function Answer(props: { output: AnswerOutput; old: Old; children?: ComponentChildren }) {
  const { output, old } = props;
  const { low, high, unit } = output;
  const reading = answerShown(output, unitSystem.value);
  return (
    <section class={`answer ${output.main ? "main" : ""} ${old ? "is-old" : ""}`}>
      <p class="answer-label">
        {output.label} <OldWord old={old} />
      </p>
      <div class="hatched">
        {reading === undefined ? (
          <p class="instead">{output.instead ?? "No answer for these inputs."}</p>
        ) : (
          <BigFigure reading={reading} />
        )}
      </div>
      {reading && low !== high && (
        <InWords words={reading.range || "No range is known for this figure."} />
      )}
      {unit === "s" && output.main && <MainTime output={output} />}
      {output.decidedBy && <p class="decided">Decided by {output.decidedBy}.</p>}
      {output.main && (
        <p class="out-of-sight" role="status">
          {old || !reading ? "" : `${output.label}: ${reading.spoken}`}
        </p>
      )}
      {props.children}
    </section>
  );
}

/** A main answer that is a time: on the tape. */
function MainTime({ output: { value, low, high } }: { output: AnswerOutput }) {
  if (value === null) return null;
  return (
    <>
      {low !== null && high !== null && (
        <Tape
          from={0}
          until={high * 1.18}
          spans={[{ from: low, to: high, tone: "good" }]}
          at={value}
        />
      )}
    </>
  );
}

/** The range breaks between its three figures only. */
function InWords({ words }: { words: string }) {
  return (
    <p class="in-words">
      {words.split(/ (?=and |most )/).map((piece, i) => (
        <Fragment key={piece}>
          {i > 0 && " "}
          <span class="part">{piece}</span>
        </Fragment>
      ))}
    </p>
  );
}

/** Widths of the big figure in its own type size, to set it no larger than its line. */
function letters(reading: Shown): number {
  return reading.parts.reduce((n, p) => n + p.figure.length + 0.3 + p.unit.length * 0.55, 0);
}

function BigFigure({ reading }: { reading: Shown }) {
  return (
    <p class="figure-big" style={{ "--letters": letters(reading).toFixed(1) }}>
      <span aria-hidden="true">
        {reading.parts.map((p) => (
          <span class="part" key={p.unit}>
            {p.figure}
            <span class="unit">{p.unit}</span>
          </span>
        ))}
      </span>
      <span class="out-of-sight">{reading.spoken}</span>
      {reading.other && <span class="other-system">{reading.other}</span>}
    </p>
  );
}

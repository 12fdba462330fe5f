import { useMemo } from "preact/hooks";
import { proseHtml } from "../../notebook/prose.ts";
import type { PageProblem, Passage } from "../../notebook/types.ts";
import { dialWords, pageProblemWords } from "../reading/problem-words.ts";
import { DialField } from "./dial.tsx";
import { FormulaFold } from "./formula.tsx";
import type { OpenPage } from "./open-page.ts";
import { Outputs } from "./outputs.tsx";
import { spreadsOf } from "./spreads.ts";
import { WorkingFold } from "./working.tsx";

/** A page as a set sheet: what is set on the left, what it gives on the right. */
export function PageView({ open }: { open: OpenPage }) {
  const page = open.page.value;
  const spreads = spreadsOf(page.passages);
  const run = open.run.value;
  const problems = page.problems;
  return (
    <>
      {problems.length > 0 && (
        <ul class="error-list" role="alert">
          {problems.map((p) => (
            <li class="error" key={`${p.line}${p.code}`}>
              {pageProblemWords(p)}
            </li>
          ))}
        </ul>
      )}
      {spreads.map((spread, i) => (
        <div class={`spread ${spread.dials ? "has-dials" : ""}`} key={i}>
          {spread.dials && <Dials open={open} names={spread.dials.dials.map((d) => d.name)} />}
          <div class="reading">
            {spread.passages.map((p) => (
              <PassageView key={keyOf(p)} passage={p} open={open} />
            ))}
          </div>
        </div>
      ))}
      <Progress open={open} running={run.phase === "running"} />
    </>
  );
}

function keyOf(p: Passage): string {
  return p.kind === "working" ? `w${p.number}` : `${p.kind}${p.from}`;
}

function Dials({ open, names }: { open: OpenPage; names: readonly string[] }) {
  const { readings, problems } = open.dials.value;
  const untouched = open.untouched.value;
  return (
    <section class="dials" aria-label="What you set">
      {readings
        .filter((r) => names.includes(r.dial.name))
        .map((reading) => (
          <DialField
            key={reading.dial.name}
            reading={reading}
            wrong={wordsFor(reading.dial.name, problems)}
            untouched={untouched.has(reading.dial.name)}
            onChange={open.setDial}
          />
        ))}
    </section>
  );
}

function wordsFor(name: string, problems: readonly PageProblem[]): string | undefined {
  const found = problems.find((p) => p.name === name);
  return found && dialWords(found);
}

function PassageView({ passage, open }: { passage: Passage; open: OpenPage }) {
  switch (passage.kind) {
    case "prose":
      return <ProseView text={passage.text} />;
    case "formula":
      return <FormulaFold formula={passage} />;
    case "dials":
      return null;
    case "working": {
      const run = open.run.value;
      const blocked = open.dials.value.problems.length > 0 || open.page.value.problems.length > 0;
      const outputs = run.outputs[passage.number] ?? [];
      const old = blocked || (run.staleFrom !== undefined && passage.number >= run.staleFrom);
      const problem = run.problem?.working === passage.number ? run.problem : undefined;
      return (
        <>
          {outputs.length === 0 && run.outputs.length <= passage.number && !blocked && (
            <Waiting first={passage.number === 0} />
          )}
          <Outputs outputs={outputs} old={old} />
          <WorkingFold
            working={passage}
            problem={problem}
            onChange={(body) => open.setWorking(passage.number, body)}
          />
        </>
      );
    }
  }
}

/** Keeps the place of a first answer, so that nothing jumps when it arrives. */
function Waiting({ first }: { first: boolean }) {
  return (
    <div class={first ? "waiting" : "waiting further"} aria-hidden="true">
      Working it out {"\u2026"}
    </div>
  );
}

function ProseView({ text }: { text: string }) {
  const html = useMemo(() => proseHtml(text), [text]);
  return <div class="prose" dangerouslySetInnerHTML={{ __html: html }} />;
}

function Progress({ open, running }: { open: OpenPage; running: boolean }) {
  const run = open.run.value;
  const working = run.working === undefined ? undefined : open.page.value.workings[run.working];
  return (
    <div class="progress-strip no-print" hidden={!running} aria-live="polite">
      <p>
        <b>Working it out:</b> {working?.name || "this sheet"}
        {working ? `, step ${working.number + 1} of ${open.page.value.workings.length}` : ""}
      </p>
      <button type="button" onClick={open.stop}>
        Stop
      </button>
    </div>
  );
}

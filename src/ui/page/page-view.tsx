import { type ComponentChildren, Fragment } from "preact";
import { useEffect, useMemo, useState } from "preact/hooks";
import type { PageProblem } from "../../notebook/dials/types.ts";
import type { Output } from "../../notebook/outputs/output.ts";
import { proseHtml, prosePieces } from "../../notebook/page/prose.ts";
import type { Formula, Passage, Working } from "../../notebook/page/types.ts";
import { useSlices } from "../frame/growing.ts";
import { nextTurn } from "../frame/next-turn.ts";
import { useWide } from "../frame/use-wide.ts";
import { ErrorList } from "../reading/error-list.tsx";
import { dialWords, pageProblemWords, refusedWords, runWords } from "../reading/problem-words.ts";
import { AtHand } from "./at-hand.tsx";
import { Details } from "./details.tsx";
import { DialField } from "./dial.tsx";
import { DialStrip } from "./dial-strip.tsx";
import { FormulaFold } from "./formula.tsx";
import { isBlocked, oldOf } from "./old.ts";
import type { OpenPage } from "./open-page.ts";
import { Outputs } from "./outputs.tsx";
import { spreadsOf, wideSpreadsOf } from "./spreads.ts";
import { WorkingMark } from "./working.tsx";

/** A page as a set sheet: what is set on the left, what it gives on the right. `children` follow once all of it stands. */
export function PageView(props: {
  open: OpenPage;
  /** Stands below the title and its lead. */
  top?: ComponentChildren;
  children?: ComponentChildren;
}) {
  const { open } = props;
  const page = open.page.value;
  const fresh = isFresh(open);
  const known = useKnown(open);
  const shown = useGrowing(known, upToFirstWorking(page.passages) + 1, page.passages.length);
  const drawn = page.passages.slice(0, shown);
  const spreads = useWide() ? wideSpreadsOf(page.passages, drawn) : spreadsOf(drawn);
  const firstSet = spreads.findIndex(({ dials }) => dials);
  const problems = page.problems;
  return (
    <>
      {problems.length > 0 && <ErrorList words={firstOf(problems)} />}
      {spreads.map((spread, i) => (
        <div class={`spread ${spread.dials ? "has-dials" : ""}`} key={i}>
          {spread.dials && (
            <div class="setting">
              <Dials open={open} names={spread.dials} />
              <AtHand open={open} passages={spread.passages} />
            </div>
          )}
          <div class="reading">
            {i === firstSet && <Stuck open={open} />}
            {spread.passages.map((p) => (
              <Fragment key={keyOf(p)}>
                <PassageView passage={p} open={open} />
                {p === page.passages[0] && props.top}
              </Fragment>
            ))}
            {fresh && i === spreads.length - 1 && (
              <p class="waiting" aria-hidden="true">
                Working it out {"\u2026"}
              </p>
            )}
          </div>
        </div>
      ))}
      <Progress open={open} />
      <DialStrip open={open} />
      {shown >= page.passages.length && (
        <>
          <Details open={open} />
          {props.children}
        </>
      )}
    </>
  );
}

/** Nothing can be worked out, and nothing was: what is wrong, and the way back. */
function Stuck({ open }: { open: OpenPage }) {
  const { readings, problems } = open.dials.value;
  if (problems.length === 0 || open.run.value.outputs.length > 0) return null;
  const label = (name?: string) => readings.find((r) => r.dial.name === name)?.dial.label;
  return (
    <div class="no-print">
      <ErrorList words={problems.map((p) => `${label(p.name) ?? p.name}: ${dialWords(p)}`)} />
      {open.putBackWrong && (
        <button type="button" onClick={open.putBackWrong}>
          Put back as it came
        </button>
      )}
    </div>
  );
}

/** Nothing was worked out yet, and it is under way. */
function isFresh(open: OpenPage): boolean {
  const { phase, outputs } = open.run.value;
  const underWay = phase === "idle" || phase === "running";
  return outputs.length === 0 && underWay && !isBlocked(open);
}

/** Passages before the first that is worked out; all where there is none. */
function upToFirstWorking(passages: readonly Passage[]): number {
  const first = passages.findIndex((p) => p.kind === "working");
  return first < 0 ? passages.length : first;
}

/**
 * Passages up to the first whose figures are still to come when the page is worked out for the first time: what comes
 * after them would only be pushed about.
 */
function useKnown(open: OpenPage): number {
  const { passages } = open.page.value;
  const { phase, outputs } = open.run.value;
  const underWay = phase === "idle" || phase === "running";
  // what has been shown once stays: a reader who mends a dial or the text must not lose the field under the hand
  const isWhole = !underWay || isBlocked(open);
  const [settled, setSettled] = useState(false);
  useEffect(() => {
    if (isWhole) setSettled(true);
  }, [isWhole]);
  if (settled || isWhole) return passages.length;
  const first = passages.findIndex(
    (p) => p.kind === "working" && (outputs[p.number]?.length ?? 0) === 0,
  );
  return first < 0 ? passages.length : first;
}

/**
 * Grows to `all`, from `first` at once by a few with each turn of the browser, so that it listens and paints in between.
 * Once the `whole` page stood, what is added stands at once: else the end of the page, with the text that is being
 * typed there, would be away for a turn.
 */
function useGrowing(all: number, first: number, whole: number): number {
  const [grown, setGrown] = useState(first);
  useEffect(() => {
    if (grown >= whole) setGrown(Number.POSITIVE_INFINITY);
    if (grown >= all) return;
    let left = false;
    void nextTurn().then(() => {
      if (!left) setGrown(Math.min(all, grown + AT_ONCE));
    });
    return () => {
      left = true;
    };
  }, [grown, all, whole]);
  return Math.min(all, grown);
}

/** Passages that are drawn in one go. */
const AT_ONCE = 2;

function keyOf(p: Passage): string {
  return p.kind === "working" ? `w${p.number}` : `${p.kind}${p.from}`;
}

/** A page may hold thousands of mistakes; more than this nobody reads, and they would hold the sheet up. */
const MOST_PROBLEMS = 30;

function firstOf(problems: readonly PageProblem[]): string[] {
  const words = problems.slice(0, MOST_PROBLEMS).map(pageProblemWords);
  const left = problems.length - words.length;
  return left > 0 ? [...words, `${left} more mistakes like these`] : words;
}

function Dials({ open, names }: { open: OpenPage; names: readonly string[] }) {
  const { readings, problems } = open.dials.value;
  const untouched = open.untouched.value;
  const here = readings.filter((r) => names.includes(r.dial.name));
  return (
    <section class="dials" aria-label={`What you set: ${here.map((r) => r.dial.label).join(", ")}`}>
      {here.map((reading) => (
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
      return <FormulaView formula={passage} />;
    case "dials":
      return null;
    case "working":
      return <WorkingView working={passage} open={open} />;
  }
}

/** The same elements again are not looked through: a turned dial changes one passage of many. */
function FormulaView({ formula }: { formula: Formula }) {
  return useMemo(() => <FormulaFold formula={formula} />, [formula.text]);
}

function WorkingView({ working, open }: { working: Working; open: OpenPage }) {
  const run = open.run.value;
  const { number } = working;
  const outputs = run.outputs[number] ?? NOTHING;
  const old = oldOf(open, number);
  const problem = run.problem?.working === number ? run.problem : undefined;
  const shown = useMemo(
    () => <Outputs outputs={outputs} old={old} open={open} />,
    [outputs, old, open],
  );
  return (
    <>
      {shown}
      <WorkingMark working={working} problem={problem} />
    </>
  );
}

const NOTHING: readonly Output[] = [];

function ProseView({ text }: { text: string }) {
  const pieces = useMemo(() => prosePieces(text), [text]);
  const drawn = useSlices(pieces.length, 1);
  return (
    <>
      {pieces.slice(0, drawn).map((piece, i) => (
        <ProsePiece key={i} text={piece} />
      ))}
    </>
  );
}

function ProsePiece({ text }: { text: string }) {
  const html = useMemo(() => proseHtml(text), [text]);
  return <div class="prose" dangerouslySetInnerHTML={{ __html: html }} />;
}

/** What is being worked out, when it takes long enough to be asked; and that it was stopped. */
function Progress({ open }: { open: OpenPage }) {
  const { phase, working, problem } = open.run.value;
  const { workings } = open.page.value;
  const stage = isBlocked(open) ? "blocked" : phase;
  const now = working === undefined ? undefined : workings[working];
  if (phase === "stopped")
    return (
      <div class="progress-strip no-print" role="status" data-stage={stage}>
        <p>Stopped. Old figures are marked as such.</p>
        <button type="button" onClick={open.runAgain}>
          Work it out again
        </button>
      </div>
    );
  if (phase === "failed" && problem && problem.working === undefined)
    return (
      <div class="progress-strip no-print" role="alert" data-stage={stage}>
        <p class="error">{runWords(problem, "")}</p>
        {problem.problems && <ErrorList words={refusedWords(problem)} />}
        <button type="button" onClick={open.runAgain}>
          Try again
        </button>
      </div>
    );
  return (
    <div
      class="progress-strip no-print"
      hidden={phase !== "running" || !now}
      role="status"
      data-stage={stage}
    >
      <p>
        <b>Working it out:</b> {now?.name || "this step"}
        {now && workings.length > 1 ? `, step ${now.number + 1} of ${workings.length}` : ""}
      </p>
      <button type="button" onClick={open.stop}>
        Stop
      </button>
    </div>
  );
}

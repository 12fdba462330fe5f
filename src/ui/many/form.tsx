/** What is asked of many jobs: kept while other sheets are read. */
import { signal } from "@preact/signals";
import { useEffect, useRef, useState } from "preact/hooks";
import { countingPath } from "../../../lib/models/start.ts";
import { ALL_SENTENCES } from "../../messages/all-problems.ts";
import type { OpenJob } from "../../notebook/dials/dials.ts";
import type { QuestionName } from "../../sweep/askable.ts";
import { byWholeNumbers, problemsAtEnds, type Varied } from "../../sweep/varied.ts";
import { job } from "../job/job-store.ts";
import { ErrorList } from "../reading/error-list.tsx";
import { unitSystem } from "../reading/preferences.ts";
import { placedIn } from "../reading/problem-words.ts";
import { Between, type Row } from "./between.tsx";
import { endsAlone, endsAround, type NumberKey, numberKeys, variedOf } from "./keys.ts";
import { questionWords } from "./question-words.ts";
import { beginRun } from "./the-run.ts";

/** More are for the command, which keeps them in a file. */
const MOST_JOBS = 100_000;
const MOST_KEYS = 6;
/** What most likely changes, first and besides. */
const USUAL = ["mold.temperature", "shot.temperature", "room.temperature", "mold.wall"];
/** Before these, where a mold's temperature changes nothing. */
const FIRST_OF: Readonly<Partial<Record<QuestionName, readonly string[]>>> = {
  pour: ["room.temperature", "pour.depth", "pour.stock"],
  walls: ["room.temperature"],
  budget: ["shot.temperature", "cup.mass"],
  mix: ["pour.depth"],
  shrink: ["bait.length"],
  swim: ["bait.thickness", "bait.length"],
};

/** Those of them that this job has, as they count in it: a preheat takes the place of the mold's own temperature. */
function usualKeys(question: QuestionName, { reading }: OpenJob, keys: readonly NumberKey[]) {
  const paths = [...(FIRST_OF[question] ?? []), ...USUAL];
  return paths
    .map((path) => countingPath(path, reading.job))
    .filter((path) => keys.some((key) => key.path === path));
}

interface Filled {
  readonly question: QuestionName;
  readonly rows: readonly Row[];
  readonly members: string;
  readonly quick: boolean;
  /** The job whose values the ends began with. */
  readonly of: string;
}

const filled = signal<Filled>({
  question: "demold",
  rows: [],
  members: "256",
  quick: false,
  of: "",
});

function rowOf(keys: readonly NumberKey[], path: string): Row {
  const key = keys.find((k) => k.path === path);
  return { path, ...(key ? endsAround(key, unitSystem.value) : { from: "", to: "" }) };
}

export function Form() {
  const { key: chosen, open } = job.value;
  const keys = open ? numberKeys(open) : [];
  const [wrong, setWrong] = useState<readonly string[]>([]);
  const oneMore = useRef<HTMLButtonElement>(null);
  const now = filled.value;
  const change = (next: Partial<Filled>) => {
    filled.value = { ...filled.value, ...next };
  };
  // another job: its own values to begin with
  useEffect(() => {
    if (!open || now.of === chosen) return;
    const before = now.rows.map(({ path }) => countingPath(path, open.reading.job));
    const paths =
      before.length > 0 ? new Set(before) : usualKeys(now.question, open, keys).slice(0, 1);
    change({ of: chosen, rows: [...paths].map((path) => rowOf(keys, path)) });
  }, [chosen, open]);
  if (!open) return <p>The job on the bench has to be mended first.</p>;

  const { rows } = now;
  const isFree = (path: string) => rows.every((row) => row.path !== path);
  const next =
    usualKeys(now.question, open, keys).find(isFree) ?? keys.find(({ path }) => isFree(path))?.path;
  const takeOut = (i: number) => {
    change({ rows: rows.filter((_, k) => k !== i) });
    // the button that had it is gone, and this one may only now be free
    requestAnimationFrame(() => oneMore.current?.focus());
  };
  const askFor = (question: QuestionName) => {
    const [from, to] = [now.question, question].map((q) => usualKeys(q, open, keys)[0]);
    // one that nobody chose goes with the question
    const began = rows.length === 1 && rows[0]!.path === from && to !== undefined && to !== from;
    change({ question, ...(began && { rows: [rowOf(keys, to)] }) });
  };
  const place = (i: number, row: Row) =>
    change({ rows: rows.map((other, k) => (k === i ? row : other)) });
  return (
    <>
      <Question value={now.question} onChange={askFor} />
      {rows.map((row, i) => (
        <Between
          key={i}
          row={row}
          keys={keys}
          hasStations={open.reading.job.bait.even === null}
          onChange={(changed) => place(i, changed)}
          onKey={(path) => place(i, rowOf(keys, path))}
          onRemove={rows.length > 1 ? () => takeOut(i) : undefined}
        />
      ))}
      <div class="row">
        <button
          type="button"
          ref={oneMore}
          disabled={rows.length >= MOST_KEYS || next === undefined}
          onClick={() => next && change({ rows: [...rows, rowOf(keys, next)] })}
        >
          Change one more thing
        </button>
      </div>
      <div class="dial">
        <label class="dial-label" for="many-count">
          How many jobs
        </label>
        <input
          id="many-count"
          inputMode="numeric"
          value={now.members}
          onInput={(e) => change({ members: e.currentTarget.value })}
        />
      </div>
      <label class="tick">
        <input
          type="checkbox"
          checked={now.quick}
          onChange={(e) => change({ quick: e.currentTarget.checked })}
        />
        Quick looks: rougher, and faster
      </label>
      {wrong.length > 0 && <ErrorList words={wrong} />}
      <div class="row">
        <button type="button" class="strong" onClick={() => setWrong(begin(now, keys))}>
          Work them out
        </button>
      </div>
    </>
  );
}

function Question(props: { value: QuestionName; onChange: (name: QuestionName) => void }) {
  return (
    <div class="dial">
      <label class="dial-label" for="many-question">
        The question
      </label>
      <select
        id="many-question"
        value={props.value}
        onChange={(e) => props.onChange(e.currentTarget.value as QuestionName)}
      >
        {Object.entries(questionWords).map(([name, words]) => (
          <option key={name} value={name}>
            {words}
          </option>
        ))}
      </select>
    </div>
  );
}

/** Begins the run, or says all that is wrong with it. */
function begin(
  { question, rows, members, quick }: Filled,
  keys: readonly NumberKey[],
): readonly string[] {
  const { open, name } = job.value;
  const labels = new Map(keys.map(({ path, label }) => [path, label]));
  const count = Number(members);
  const wrong: string[] = [];
  if (!(Number.isInteger(count) && count >= 1 && count <= MOST_JOBS))
    wrong.push(`How many jobs: a whole number from 1 to ${MOST_JOBS}, not \u201c${members}\u201d.`);
  const varied: Varied[] = [];
  const alone: Varied[] = [];
  for (const { path, from, to } of rows) {
    const key = keys.find((k) => k.path === path);
    if (!key) {
      wrong.push(`This job has no ${path}: take it out.`);
      continue;
    }
    const read = variedOf(key, from, to, unitSystem.value);
    if (Array.isArray(read)) {
      wrong.push(...read);
      alone.push(...endsAlone(key, from, to, unitSystem.value));
    } else if (varied.some((other) => other.path === path))
      wrong.push(`${key.label} changes twice: take one of them out.`);
    else varied.push(read as Varied);
  }
  const raw = (open?.raw ?? {}) as Record<string, unknown>;
  wrong.push(
    ...new Set(
      problemsAtEnds(raw, [...varied, ...alone]).map((problem) => placedIn(problem, ALL_SENTENCES)),
    ),
  );
  if (wrong.length > 0) return wrong;
  void beginRun({
    sweep: { question, raw, varied: byWholeNumbers(raw, varied), quick },
    of: name,
    labels,
    members: count,
    kindOf: (path) => keys.find((k) => k.path === path)?.kind,
  });
  return [];
}

import { useEffect, useState } from "preact/hooks";
import type { QuestionName } from "../../sweep/asked.ts";
import { type NoRange, problemsAtEnds, type Varied, variedBetween } from "../../sweep/varied.ts";
import { job } from "../job/job-store.ts";
import { ErrorList } from "../reading/error-list.tsx";
import { unitSystem } from "../reading/preferences.ts";
import { problemWords } from "../reading/problem-words.ts";
import { Between, type Row } from "./between.tsx";
import { endsAround, type NumberKey, numberKeys } from "./keys.ts";
import { questionWords } from "./question-words.ts";
import { Results } from "./results-view.tsx";
import { beginRun, run } from "./the-run.ts";

/** More are for the command, which keeps them in a file. */
const MOST_JOBS = 100_000;
const MOST_KEYS = 6;

/** One question over many jobs like the one on the bench. */
export default function ManySheet() {
  const { open, name } = job.value;
  const keys = open ? numberKeys(open) : [];
  const labelOf = (path: string) => keys.find((k) => k.path === path)?.label ?? path;
  return (
    <>
      <h1>Many jobs at once</h1>
      <p class="lead">
        One question over many jobs like {name}, spread evenly between the ends that you set: what
        an answer does when several things change together.
      </p>
      <div class="spread has-dials">
        <section class="dials" aria-label="What changes">
          <Form keys={keys} />
        </section>
        <div class="reading many">
          {run.value ? (
            <Results run={run.value} labelOf={labelOf} />
          ) : (
            <p>
              Each job is asked for its likely answer, without a range: the spread between the jobs
              takes its place. The same jobs come out whatever the number of cores, here and with
              the command <code>castclock sweep</code>, which also takes millions.
            </p>
          )}
        </div>
      </div>
    </>
  );
}

/** What most likely changes, first and besides. */
const USUAL = ["mold.temperature", "shot.temperature", "room.temperature", "mold.wall"];

function Form({ keys }: { keys: readonly NumberKey[] }) {
  const { key: chosen, open } = job.value;
  const rowOf = (path: string): Row => {
    const key = keys.find((k) => k.path === path);
    return { path, ...(key ? endsAround(key, unitSystem.value) : { from: "", to: "" }) };
  };
  const [question, setQuestion] = useState<QuestionName>("demold");
  const [rows, setRows] = useState<readonly Row[]>([rowOf(USUAL[0]!)]);
  const [members, setMembers] = useState("256");
  const [quick, setQuick] = useState(false);
  const [wrong, setWrong] = useState<readonly string[]>([]);
  // another job: its own values to begin with
  useEffect(() => setRows((all) => all.map(({ path }) => rowOf(path))), [chosen]);

  const next = USUAL.find((path) => rows.every((row) => row.path !== path)) ?? USUAL[0]!;
  return (
    <>
      <Question value={question} onChange={setQuestion} />
      {rows.map((row, i) => (
        <Between
          key={i}
          row={row}
          keys={keys}
          onChange={(changed) => setRows(rows.map((r, k) => (k === i ? changed : r)))}
          onKey={(path) => setRows(rows.map((r, k) => (k === i ? rowOf(path) : r)))}
          onRemove={rows.length > 1 ? () => setRows(rows.filter((_, k) => k !== i)) : undefined}
        />
      ))}
      <div class="row">
        <button
          type="button"
          disabled={rows.length >= MOST_KEYS}
          onClick={() => setRows([...rows, rowOf(next)])}
        >
          One more that changes
        </button>
      </div>
      <div class="dial">
        <label class="dial-label" for="many-count">
          How many jobs
        </label>
        <input
          id="many-count"
          inputMode="numeric"
          value={members}
          onInput={(e) => setMembers(e.currentTarget.value)}
        />
      </div>
      <label class="tick">
        <input
          type="checkbox"
          checked={quick}
          onChange={(e) => setQuick(e.currentTarget.checked)}
        />
        Quick looks: rougher, and faster
      </label>
      {wrong.length > 0 && <ErrorList words={wrong} />}
      <div class="row">
        <button
          type="button"
          class="strong"
          disabled={!open}
          onClick={() => setWrong(begin({ question, rows, members, quick }, keys))}
        >
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

interface Asked {
  readonly question: QuestionName;
  readonly rows: readonly Row[];
  readonly members: string;
  readonly quick: boolean;
}

const WHY: Readonly<Record<NoRange, string>> = {
  "no number": "needs a number at either end",
  "two units": "needs both ends in one unit",
  "wrong way round": "goes from the lower to the higher end",
};

/** A degree sign is printed; typed is `degF`, or `F`. */
const plain = (typed: string) => typed.replace(/\u00b0\s*/, "deg");

/** Begins the run, or says all that is wrong with it. */
function begin({ question, rows, members, quick }: Asked, keys: readonly NumberKey[]): string[] {
  const { open, name } = job.value;
  const keyAt = (path: string) => keys.find((k) => k.path === path);
  const count = Number(members);
  const wrong: string[] = [];
  if (!(Number.isInteger(count) && count >= 1 && count <= MOST_JOBS))
    wrong.push(`How many jobs: a whole number from 1 to ${MOST_JOBS}.`);
  const varied: Varied[] = [];
  for (const { path, from, to } of rows) {
    const read = variedBetween(path, plain(from), plain(to));
    const label = keyAt(path)?.label ?? path;
    if (typeof read === "string") wrong.push(`${label} ${WHY[read]}, such as 8 mm and 24 mm.`);
    else if (varied.some((other) => other.path === path))
      wrong.push(`${label} changes twice: take one of them out.`);
    else varied.push(read);
  }
  const raw = (open?.raw ?? {}) as Record<string, unknown>;
  wrong.push(...new Set(problemsAtEnds(raw, varied).map(problemWords)));
  if (wrong.length > 0) return wrong;
  void beginRun({
    sweep: { question, raw, varied, quick },
    of: name,
    members: count,
    kindOf: (path) => keyAt(path)?.kind,
  });
  return [];
}

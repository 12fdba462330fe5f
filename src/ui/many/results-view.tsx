/** The run as it stands: how far it is, its table and its figure. */
import { useMemo, useState } from "preact/hooks";
import { formatDuration } from "../../../lib/units/format.ts";
import { figureName } from "../../messages/answer-figures.ts";
import { Figure } from "../outputs/figure/figure.tsx";
import { fileName, saveFile } from "../outputs/save.ts";
import { Table } from "../outputs/table.tsx";
import { ErrorList } from "../reading/error-list.tsx";
import { unitSystem } from "../reading/preferences.ts";
import { problemWords } from "../reading/problem-words.ts";
import type { Gathered } from "./gathered.ts";
import { questionWords } from "./question-words.ts";
import { dots, spreadTable, tellingColumns } from "./results.ts";
import { goOn, type Run, stopRun } from "./the-run.ts";

const STATES = { running: "Working them out.", stopped: "Stopped.", done: "All worked out." };

export function Results({ run }: { run: Run }) {
  const { gathered, members, done, state, left, problems, fault, sweep } = run;
  return (
    <>
      <h2>
        {questionWords[sweep.question]}, {run.of}
      </h2>
      <p role="status" class="out-of-sight">
        {problems.length > 0 ? "Refused." : STATES[state]}
      </p>
      <p class="how-far">
        {done} of {members} jobs
        {state === "running" && left !== undefined && `, ${formatDuration(left)} left`}
        {state === "stopped" && ", stopped"}
        {gathered && gathered.refused > 0 && `, ${gathered.refused} of them refused`}.
      </p>
      <progress value={done} max={members} aria-label="Jobs worked out" />
      {problems.length > 0 && (
        <ErrorList words={problems.map((problem) => problemWords(problem))} />
      )}
      {fault !== undefined && (
        <p class="error" role="alert">
          {fault === "not loaded"
            ? "The part that works them out could not be loaded: load this sheet again."
            : `It stopped by itself: ${fault}`}
        </p>
      )}
      <div class="row">
        {(state === "running" || (state === "stopped" && gathered)) && (
          <button type="button" onClick={() => (state === "running" ? stopRun() : void goOn())}>
            {state === "running" ? "Stop" : "Go on"}
          </button>
        )}
        {gathered && done > 0 && (
          <button
            type="button"
            onClick={() =>
              saveFile(fileName(`${run.of} ${sweep.question}`, "csv"), gathered.file())
            }
          >
            Keep all jobs (CSV)
          </button>
        )}
      </div>
      {gathered && gathered.refused > 0 && <Refused gathered={gathered} />}
      {gathered && done > gathered.refused && <Spread run={run} gathered={gathered} />}
    </>
  );
}

const MOST_REASONS = 5;

/** Why jobs are refused, the commonest reason first. */
function Refused({ gathered: { reasons } }: { gathered: Gathered }) {
  const common = [...reasons].sort((a, b) => b[1] - a[1]).slice(0, MOST_REASONS);
  return (
    <ul class="error-list">
      {common.map(([why, count]) => (
        <li key={why}>
          {count} refused: {wordsOfReason(why)}
        </li>
      ))}
    </ul>
  );
}

/** `bait.thickness too_big; mold.wall too_small`, as the file has it, in sentences. */
function wordsOfReason(why: string): string {
  return why
    .split("; ")
    .map((one) => {
      const [code = "", path = ""] = one.split(" ").reverse();
      return problemWords({ code, path } as Parameters<typeof problemWords>[0]);
    })
    .join(" ");
}

function Spread({ run, gathered }: { run: Run; gathered: Gathered }) {
  const [over, setOver] = useState("");
  const [shown, setShown] = useState("");
  const system = unitSystem.value;
  const columns = useMemo(() => tellingColumns(gathered, system), [gathered, run.done, system]);
  const labelOf = (path: string) => run.labels.get(path) ?? path;
  const y = columns.find(({ key }) => key === shown) ?? columns[0];
  const x = gathered.varied.find(({ key }) => key === over) ?? gathered.varied[0];
  const table = useMemo(
    () => spreadTable(columns, gathered.count - gathered.refused),
    [columns, gathered],
  );
  if (!x || !y) return <p>All these jobs are answered alike.</p>;
  return (
    <>
      <Table output={table} old={undefined} />
      <div class="row">
        <Choice
          label="Up"
          value={y.key}
          choices={columns.map(({ key }) => [key, figureName(key)])}
          onChange={setShown}
        />
        <Choice
          label="Across"
          value={x.key}
          choices={gathered.varied.map(({ key }) => [key, labelOf(key)])}
          onChange={setOver}
        />
      </div>
      <Figure output={dots(x, y, labelOf(x.key))} old={undefined} />
    </>
  );
}

interface ChoiceProps {
  readonly label: string;
  readonly value: string;
  readonly choices: readonly (readonly [string, string])[];
  readonly onChange: (value: string) => void;
}

function Choice({ label, value, choices, onChange }: ChoiceProps) {
  return (
    <label>
      <span class="dial-label">{label}</span>
      <select value={value} onChange={(e) => onChange(e.currentTarget.value)}>
        {choices.map(([key, words]) => (
          <option key={key} value={key}>
            {words}
          </option>
        ))}
      </select>
    </label>
  );
}

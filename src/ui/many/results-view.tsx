/** The run as it stands: how far it is, its table and its figure. */
import { useState } from "preact/hooks";
import { formatDuration } from "../../../lib/units/format.ts";
import { Figure } from "../outputs/figure/figure.tsx";
import { fileName, saveFile } from "../outputs/save.ts";
import { Table } from "../outputs/table.tsx";
import { ErrorList } from "../reading/error-list.tsx";
import { problemWords } from "../reading/problem-words.ts";
import type { Gathered } from "./gathered.ts";
import { questionWords } from "./question-words.ts";
import { dots, spreadTable, tellingColumns, wordsOf } from "./results.ts";
import { goOn, type Run, stopRun } from "./the-run.ts";

type LabelOf = (path: string) => string;

export function Results({ run, labelOf }: { run: Run; labelOf: LabelOf }) {
  const { gathered, members, done, state, left, problems, fault, sweep } = run;
  return (
    <>
      <p role="status">
        {questionWords[sweep.question]}, {run.of}: {done} of {members} jobs
        {state === "running" && left !== undefined && `, ${formatDuration(left)} left`}
        {state === "stopped" && ", stopped"}
        {gathered && gathered.refused > 0 && `, ${gathered.refused} of them refused`}.
      </p>
      <progress value={done} max={members} aria-label="Jobs worked out" />
      {problems.length > 0 && <ErrorList words={problems.map(problemWords)} />}
      {fault !== undefined && <p class="error">It stopped by itself: {fault}</p>}
      <div class="row">
        {state === "running" && (
          <button type="button" onClick={stopRun}>
            Stop
          </button>
        )}
        {state === "stopped" && gathered && (
          <button type="button" onClick={() => void goOn()}>
            Go on
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
      {gathered && done > 0 && <Spread gathered={gathered} labelOf={labelOf} />}
    </>
  );
}

function Spread({ gathered, labelOf }: { gathered: Gathered; labelOf: LabelOf }) {
  const [over, setOver] = useState("");
  const [shown, setShown] = useState("");
  const columns = tellingColumns(gathered);
  const y = columns.find(({ key }) => key === shown) ?? columns[0];
  const x = gathered.varied.find(({ key }) => key === over) ?? gathered.varied[0];
  if (!x || !y) return <p>No figure of this answer differs between these jobs.</p>;
  return (
    <>
      <Table output={spreadTable(columns)} old={undefined} />
      <div class="row">
        <Choice
          label="Up"
          value={y.key}
          choices={columns.map(({ key }) => [key, wordsOf(key)])}
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

import { Scroll } from "../frame/scroll.tsx";
import { asPrinted } from "../page/dial-help.ts";
import { clockWords } from "../reading/clock.ts";
import { against, type LogEntry } from "./entries.ts";

const AGAINST = { early: "before it", inside: "inside it", late: "after it" } as const;

export function LogTable(props: { all: readonly LogEntry[]; onTakeOut: (id: string) => void }) {
  const { all, onTakeOut } = props;
  return (
    <Scroll label="Log">
      <table class="log">
        <caption>
          {all.length} {all.length === 1 ? "shot" : "shots"}, newest first
        </caption>
        <thead>
          <tr>
            <th scope="col" class="figures">
              Shot
            </th>
            <th scope="col" class="figures">
              Opened
            </th>
            <th scope="col">Verdict</th>
            <th scope="col">Foretold</th>
            <th scope="col">Mold</th>
            <th scope="col">Plastisol</th>
            <th scope="col">Room</th>
            <th scope="col">Weight</th>
            <th scope="col">Job</th>
            <th scope="col">Time</th>
            <th scope="col">
              <span class="out-of-sight">Take out</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {all.toReversed().map((e) => (
            <Line key={e.id} entry={e} onTakeOut={() => onTakeOut(e.id)} />
          ))}
        </tbody>
      </table>
    </Scroll>
  );
}

function Line({ entry: e, onTakeOut }: { entry: LogEntry; onTakeOut: () => void }) {
  return (
    <tr>
      <td class="figures" data-head="Shot">
        {e.shot}
      </td>
      <td class="figures" data-head="Opened">
        {clockWords(e.seconds)}
      </td>
      <td data-head="Verdict">
        <b>{e.verdict}</b>
      </td>
      <td data-head="Foretold">
        <Foretold entry={e} />
      </td>
      <td data-head="Mold">{asPrinted(e.mold)}</td>
      <td data-head="Plastisol">{asPrinted(e.plastisol)}</td>
      <td data-head="Room">{asPrinted(e.room)}</td>
      <td data-head="Weight">{e.weight}</td>
      <td data-head="Job">{e.job}</td>
      <td data-head="Time">
        {new Date(e.at).toLocaleString([], {
          dateStyle: "short",
          timeStyle: "short",
        })}
      </td>
      <td>
        <button
          type="button"
          class="plain"
          aria-label={`Take out shot ${e.shot} of ${e.at}`}
          onClick={onTakeOut}
        >
          Take out
        </button>
      </td>
    </tr>
  );
}

function Foretold({ entry }: { entry: LogEntry }) {
  const side = against(entry);
  if (!entry.foretold || !side) return <>{"\u2013"}</>;
  const { low, high } = entry.foretold;
  return (
    <>
      {clockWords(low)} to {clockWords(high)}
      <span class="band">{AGAINST[side]}</span>
    </>
  );
}

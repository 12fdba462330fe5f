import { useState } from "preact/hooks";
import { isProblem, readQuantity } from "../../../lib/units/quantity.ts";
import { Scroll } from "../frame/scroll.tsx";
import { job } from "../job/job-store.ts";
import { saveFile } from "../outputs/save.ts";
import { asPrinted } from "../page/dial-help.ts";
import { clockWords } from "../reading/clock.ts";
import { problemWords } from "../reading/problem-words.ts";
import { against, type LogEntry, logCsv, logJson, readEntries, VERDICTS } from "./entries.ts";
import {
  addEntry,
  entries,
  mergeEntries,
  noteSaved,
  REMIND_AFTER,
  removeEntry,
  savedCount,
} from "./log-store.ts";

const AGAINST = { early: "before it", inside: "inside it", late: "after it" } as const;

export default function LogSheet() {
  const all = entries.value;
  const unsaved = all.length - savedCount.value;
  const [gone, setGone] = useState<LogEntry | undefined>();
  const [said, setSaid] = useState("");

  function save(kind: "csv" | "json"): void {
    const content = kind === "csv" ? logCsv(all) : logJson(all);
    saveFile(`castclock-log.${kind}`, content, kind === "csv" ? "text/csv" : "application/json");
    noteSaved();
  }
  async function read(file: File | undefined): Promise<void> {
    if (!file) return;
    const read = readEntries(await file.text());
    const added = mergeEntries(read);
    setSaid(
      read.length === 0 ? "No lines of a log were found in that file." : `${added} lines added.`,
    );
  }

  return (
    <>
      <h1>Log</h1>
      <p class="lead">
        One line for each shot. A light bait has a void, a late one cost you nothing but time:
        written down, the next evening starts where this one ended.
      </p>
      <NewEntry />
      {all.length > 0 && (
        <>
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
                  <tr key={e.id}>
                    <td class="figures">{e.shot}</td>
                    <td class="figures">{clockWords(e.seconds)}</td>
                    <td>
                      <b>{e.verdict}</b>
                    </td>
                    <td>
                      <Foretold entry={e} />
                    </td>
                    <td>{asPrinted(e.mold)}</td>
                    <td>{asPrinted(e.plastisol)}</td>
                    <td>{asPrinted(e.room)}</td>
                    <td>{e.weight}</td>
                    <td>{e.job}</td>
                    <td>
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
                        onClick={() => setGone(removeEntry(e.id))}
                      >
                        Take out
                      </button>
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </Scroll>
          {unsaved >= REMIND_AFTER && (
            <p class="note">
              {unsaved} lines are only in this browser. Clearing its data would lose them: save them
              to a file.
            </p>
          )}
        </>
      )}
      <div class="row no-print">
        <button type="button" disabled={all.length === 0} onClick={() => save("csv")}>
          Save as CSV
        </button>
        <button type="button" disabled={all.length === 0} onClick={() => save("json")}>
          Save as JSON
        </button>
        <label class="button">
          Read a JSON file
          <input
            class="out-of-sight"
            type="file"
            accept=".json"
            onChange={(e) => void read(e.currentTarget.files?.[0])}
          />
        </label>
      </div>
      <p role="status">
        {said}
        {gone && (
          <>
            Taken out.{" "}
            <button
              type="button"
              onClick={() => {
                mergeEntries([gone]);
                setGone(undefined);
              }}
            >
              Put it back
            </button>
          </>
        )}
      </p>
    </>
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

/** A line by hand, for those who time with their own clock. */
function NewEntry() {
  const { measured, name } = job.value;
  const next = (entries.value.findLast((e) => e.job === name)?.shot ?? 0) + 1;
  const [typed, setTyped] = useState<Record<string, string>>({});
  const [wrong, setWrong] = useState<Record<string, string>>({});
  const value = (key: string, initial: string) => typed[key] ?? initial;
  const field = (key: string, label: string, initial: string, placeholder: string) => (
    <div>
      <label>
        <span class="dial-label">{label}</span>
        <input
          value={value(key, asPrinted(initial))}
          placeholder={placeholder}
          aria-invalid={wrong[key] !== undefined}
          onInput={(e) => setTyped({ ...typed, [key]: e.currentTarget.value })}
        />
      </label>
      {wrong[key] && (
        <p class="error" role="alert">
          {wrong[key]}
        </p>
      )}
    </div>
  );

  function add(verdict: (typeof VERDICTS)[number]): void {
    const problems: Record<string, string> = {};
    const check = (key: string, initial: string, kind: "temperature" | "mass" | "duration") => {
      const text = value(key, initial).trim();
      if (text === "" && kind !== "duration") return text;
      const read = readQuantity(text, kind, key);
      if (isProblem(read))
        problems[key] = kind === "duration" ? "A time, like 5:20 or 320 s." : problemWords(read);
      return text;
    };
    const room = check("room", measured.room, "temperature");
    const mold = check("mold", measured.mold, "temperature");
    const plastisol = check("plastisol", measured.plastisol, "temperature");
    const weight = check("weight", "", "mass");
    const opened = check("opened", "", "duration");
    const shot = Number(value("shot", String(next)));
    if (!(Number.isInteger(shot) && shot > 0)) problems["shot"] = "A whole number from 1.";
    setWrong(problems);
    const time = readQuantity(opened, "duration");
    if (Object.keys(problems).length > 0 || isProblem(time)) return;
    addEntry({
      id: crypto.randomUUID(),
      at: new Date().toISOString(),
      job: name,
      room,
      mold,
      plastisol,
      shot,
      seconds: Math.round(time.value),
      weight,
      verdict,
      note: value("note", "").slice(0, 200),
    });
    setTyped({ ...typed, opened: "", weight: "", note: "", shot: String(shot + 1) });
  }

  return (
    <details class="closer no-print" open={entries.value.length === 0}>
      <summary>A new line by hand, for {name}</summary>
      <div class="log-form">
        {field("shot", "Shot number", String(next), "3")}
        {field("opened", "Opened after", "", "5:20 or 320 s")}
        {field("room", "Room", measured.room, "68 F")}
        {field("mold", "Mold, before the shot", measured.mold, "95 F")}
        {field("plastisol", "Plastisol", measured.plastisol, "340 F")}
        {field("weight", "Weight of the bait", "", "21 g")}
        {field("note", "Note", "", "fan on from here")}
      </div>
      <fieldset class="verdicts">
        <legend>How was it? Tapping a word writes the line.</legend>
        <div class="row">
          {VERDICTS.map((v) => (
            <button type="button" key={v} onClick={() => add(v)}>
              {v}
            </button>
          ))}
        </div>
      </fieldset>
    </details>
  );
}

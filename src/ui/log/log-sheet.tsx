import { useState } from "preact/hooks";
import { job } from "../job/job-store.ts";
import { saveFile } from "../outputs/save.ts";
import { ErrorList } from "../reading/error-list.tsx";
import { type LogEntry, logCsv, logJson, readEntries } from "./entries.ts";
import { tonight } from "./evening.ts";
import {
  entries,
  mergeEntries,
  noteSaved,
  REMIND_AFTER,
  removeEntry,
  savedCount,
} from "./log-store.ts";
import { LogTable } from "./log-table.tsx";
import { NewEntry } from "./new-entry.tsx";
import { Pasted, WhatTheyTeach } from "./teaching.tsx";

function saveLog(all: readonly LogEntry[], kind: "csv" | "json"): void {
  const content = kind === "csv" ? logCsv(all) : logJson(all);
  saveFile(`castclock-log.${kind}`, content, kind === "csv" ? "text/csv" : "application/json");
  noteSaved();
}

export default function LogSheet() {
  const all = entries.value;
  const unsaved = all.length - savedCount.value;
  const [gone, setGone] = useState<LogEntry | undefined>();
  const [said, setSaid] = useState("");
  const [wrong, setWrong] = useState<readonly string[]>([]);

  async function read(file: File | undefined): Promise<void> {
    if (!file) return;
    const read = readEntries(await file.text());
    const added = mergeEntries(read);
    setSaid(
      read.length === 0 ? "No lines of a log were found in that file." : `${added} lines added.`,
    );
  }

  async function readLog(name: string, text: string): Promise<void> {
    const { sheetOfLog } = await import("./log-file.ts");
    const made = await sheetOfLog(name, text);
    if ("address" in made) location.hash = made.address;
    else setWrong(made.wrong);
  }
  const readCsv = async (file: File | undefined) =>
    file && readLog(file.name.replace(/\.\w+$/, ""), await file.text());

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
          <LogTable all={all} onTakeOut={(id) => setGone(removeEntry(id))} />
          {unsaved >= REMIND_AFTER && (
            <p class="note">
              {unsaved} lines are only in this browser. Clearing its data would lose them: save them
              to a file.
            </p>
          )}
        </>
      )}
      <RestOfEvening all={all} />
      <WhatTheyTeach all={all} />
      <div class="row no-print">
        <SaveButtons all={all} />
        <label class="button">
          Read a JSON file
          <input
            class="out-of-sight"
            type="file"
            accept=".json"
            onChange={(e) => void read(e.currentTarget.files?.[0])}
          />
        </label>
        <label class="button">
          Read a log (CSV)
          <input
            class="out-of-sight"
            type="file"
            accept=".csv,.tsv,.txt"
            onChange={(e) => void readCsv(e.currentTarget.files?.[0])}
          />
        </label>
      </div>
      <Pasted onRead={(text) => void readLog("pasted", text)} />
      {wrong.length > 0 && <ErrorList words={wrong} />}
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

function SaveButtons({ all }: { all: readonly LogEntry[] }) {
  return (
    <>
      <button type="button" disabled={all.length === 0} onClick={() => saveLog(all, "csv")}>
        Save as CSV
      </button>
      <button type="button" disabled={all.length === 0} onClick={() => saveLog(all, "json")}>
        Save as JSON
      </button>
    </>
  );
}

/** The way from tonight's lines to a plan of what is left. */
function RestOfEvening({ all }: { all: readonly LogEntry[] }) {
  const { name, molds, pause } = job.value;
  const evening = tonight(all, name);
  if (evening.length === 0) return null;
  async function planRest(): Promise<void> {
    const { sheetOfRest } = await import("./rest-of-evening.ts");
    location.hash = await sheetOfRest(evening, molds, pause);
  }
  return (
    <p class="no-print">
      <button type="button" onClick={() => void planRest()}>
        Plan the rest of the evening
      </button>{" "}
      from the last {evening.length === 1 ? "line" : `${evening.length} lines`} of {name}.
    </p>
  );
}

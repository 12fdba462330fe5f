/** From a log to what it teaches about its job. */
import { useState } from "preact/hooks";
import { job } from "../job/job-store.ts";
import type { LogEntry } from "./entries.ts";
import { shotsOf } from "./evening.ts";

/** The way from this job's lines to what they teach about it. */
export function WhatTheyTeach({ all }: { all: readonly LogEntry[] }) {
  const { name } = job.value;
  const lines = shotsOf(all, name);
  if (lines.filter(({ verdict }) => verdict === "good" || verdict === "soft").length < 2)
    return null;
  async function teach(): Promise<void> {
    const { sheetOfShots } = await import("./log-file.ts");
    location.hash = await sheetOfShots(`of ${name}`, lines);
  }
  return (
    <p class="no-print">
      <button type="button" onClick={() => void teach()}>
        What these shots teach
      </button>{" "}
      about {name}, from its {lines.length} lines: how long it really takes here.
    </p>
  );
}

/** For a log that stands in a table or a message: copied there, pasted here. */
export function Pasted({ onRead }: { onRead: (text: string) => void }) {
  const [text, setText] = useState("");
  return (
    <details class="closer no-print">
      <summary>Paste a log</summary>
      <p>
        Of a probe, with a heading such as time, temp (degF); or of shots: mold (degF), plastic
        (degF), seconds, verdict, or injected, opened in place of seconds.
      </p>
      <textarea
        class="editor-plain"
        aria-label="The log as text"
        spellcheck={false}
        rows={6}
        value={text}
        onInput={(e) => setText(e.currentTarget.value)}
      />
      <button type="button" disabled={text.trim() === ""} onClick={() => onRead(text)}>
        Read it
      </button>
    </details>
  );
}

import { useState } from "preact/hooks";
import { isProblem, readQuantity } from "../../../lib/units/quantity.ts";
import { job } from "../job/job-store.ts";
import { asPrinted } from "../page/dial-help.ts";
import { problemWords } from "../reading/problem-words.ts";
import { VERDICTS } from "./entries.ts";
import { addEntry, entries } from "./log-store.ts";

/** A line by hand, for those who time with their own clock. */
export function NewEntry() {
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

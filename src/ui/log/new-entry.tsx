import { useState } from "preact/hooks";
import { type ShopVerdict, shopVerdicts } from "../../../lib/questions/fit/shop-verdicts.ts";
import { isProblem, readQuantity } from "../../../lib/units/quantity.ts";
import { job } from "../job/job-store.ts";
import { asPrinted } from "../page/dial-help.ts";
import { unitSystem } from "../reading/preferences.ts";
import { problemWords } from "../reading/problem-words.ts";
import { withReaderUnit } from "../reading/typed.ts";
import { beyond } from "./limits.ts";
import { addEntry, entries } from "./log-store.ts";

/** A line by hand, for those who time with their own clock. */
export function NewEntry() {
  const { measured, name } = job.value;
  const system = unitSystem.value;
  const [warm, sign] = system === "metric" ? ["20", "\u00b0C"] : ["68", "\u00b0F"];
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

  function add(verdict: ShopVerdict): void {
    const problems: Record<string, string> = {};
    const check = (key: string, initial: string, kind: "temperature" | "mass" | "duration") => {
      const typed = value(key, initial).trim();
      if (typed === "" && kind !== "duration") return typed;
      const text = kind === "duration" ? typed : withReaderUnit(typed, kind, system);
      const read = readQuantity(text, kind, key);
      if (isProblem(read))
        problems[key] = kind === "duration" ? "A time, like 5:20 or 320 s." : problemWords(read);
      else problems[key] = beyond(read.value, kind, system) ?? "";
      if (problems[key] === "") delete problems[key];
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
        {field("room", "Room", measured.room, `${warm}, in ${sign}`)}
        {field(
          "mold",
          "Mold, before the shot",
          measured.mold,
          `${system === "metric" ? 35 : 95}, in ${sign}`,
        )}
        {field(
          "plastisol",
          "Plastisol",
          measured.plastisol,
          `${system === "metric" ? 171 : 340}, in ${sign}`,
        )}
        {field(
          "weight",
          "Weight of the bait",
          "",
          `${system === "metric" ? "21, in g" : "0.75, in oz"}`,
        )}
        {field("note", "Note", "", "fan on from here")}
      </div>
      <fieldset class="verdicts">
        <legend>How was it? Tapping a word writes the line.</legend>
        <div class="row">
          {shopVerdicts.map((v) => (
            <button type="button" key={v} onClick={() => add(v)}>
              {v}
            </button>
          ))}
        </div>
      </fieldset>
    </details>
  );
}

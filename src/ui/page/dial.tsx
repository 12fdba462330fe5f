import type { ComponentChildren } from "preact";
import { useEffect, useId, useRef, useState } from "preact/hooks";
import { stepDial } from "../../notebook/dials/step-dial.ts";
import type { DialReading } from "../../notebook/dials/types.ts";
import { unitSystem } from "../reading/preferences.ts";
import { asPrinted, dialHelp } from "./dial-help.ts";

type DialChange = (name: string, value: string | boolean | undefined) => void;

interface DialProps {
  readonly reading: DialReading;
  /** What is wrong with it, in words. */
  readonly wrong: string | undefined;
  /** True when neither the page's reader nor their job has set it. */
  readonly untouched: boolean;
  /** Stands in an empty field: where its value is taken from. */
  readonly placeholder?: string;
  /** Instead of "default, not yours" and "yours", where a whole form is about that. */
  readonly mark?: string;
  /** Stands at the end of the line below: a way back. */
  readonly children?: ComponentChildren;
  readonly onChange: DialChange;
}

export function DialField(props: DialProps) {
  const { dial } = props.reading;
  if (dial.kind === "flag") return <Flag {...props} />;
  if (dial.kind === "choice") return <Choice {...props} />;
  return <Quantity {...props} />;
}

/** Typed text with steppers. What is typed stays as it is typed; a mistake is said below, nothing moves. */
function Quantity(props: DialProps) {
  const { reading, wrong, untouched, placeholder, mark, onChange } = props;
  const { dial } = reading;
  const id = useId();
  const [typing, setTyping] = useState<string | undefined>();
  const field = useRef<HTMLInputElement>(null);
  const label = dial.label;
  const shown = typing ?? asPrinted(reading.text);
  const steps = dial.kind === "number" || (dial.kind === "quantity" && dial.quantity !== "text");

  // what was typed belongs to the page at once; while the field has the focus it is not written back into it
  useEffect(() => {
    if (document.activeElement !== field.current) setTyping(undefined);
  }, [reading.text]);

  function step(direction: 1 | -1): void {
    setTyping(undefined);
    onChange(dial.name, stepDial(reading, direction));
  }
  function onKey(e: KeyboardEvent): void {
    if (e.key !== "ArrowUp" && e.key !== "ArrowDown") return;
    e.preventDefault();
    step(e.key === "ArrowUp" ? 1 : -1);
  }

  return (
    <div class="dial">
      <div class="dial-head">
        <label class="dial-label" for={id}>
          {label}
        </label>
        <Mark from={reading.from} untouched={untouched} mark={mark} />
      </div>
      <div class={`dial-row ${steps ? "" : "whole"}`}>
        <input
          id={id}
          ref={field}
          value={shown}
          class={shown.length > LONG ? "long" : ""}
          {...(placeholder !== undefined && { placeholder })}
          autocomplete="off"
          autocapitalize="off"
          spellcheck={false}
          enterkeyhint="done"
          aria-invalid={wrong !== undefined}
          aria-describedby={`${id}n`}
          onInput={(e) => {
            setTyping(e.currentTarget.value);
            onChange(dial.name, e.currentTarget.value);
          }}
          onBlur={() => setTyping(undefined)}
          onKeyDown={onKey}
        />
        {steps && (
          <>
            <button
              type="button"
              class="step"
              aria-label={`${label}: less`}
              onClick={() => step(-1)}
            >
              {"\u2212"}
            </button>
            <button
              type="button"
              class="step"
              aria-label={`${label}: more`}
              onClick={() => step(1)}
            >
              +
            </button>
          </>
        )}
      </div>
      <DialNote id={`${id}n`} {...{ reading, wrong }}>
        {props.children}
      </DialNote>
    </div>
  );
}

/** Characters that a field holds in its large type on a phone. */
const LONG = 10;

function DialNote(
  props: Pick<DialProps, "reading" | "wrong"> & { id: string; children: ComponentChildren },
) {
  const { reading, wrong, id, children } = props;
  const line = wrong ? (
    <p class="dial-note error" id={id} role="alert">
      {wrong}
    </p>
  ) : (
    <p class="dial-note" id={id}>
      {dialHelp(reading, unitSystem.value)}
    </p>
  );
  if (!children) return line;
  return (
    <div class="dial-foot">
      {line}
      {children}
    </div>
  );
}

/** Whose value it is: never by the sign alone. */
function Mark(props: { from: DialReading["from"]; untouched: boolean; mark: string | undefined }) {
  const { from, untouched, mark } = props;
  if (untouched)
    return (
      <span class="not-yours">
        {mark ?? (from === "job" ? "example, not yours" : "default, not yours")}
      </span>
    );
  return <span class="yours">{mark ?? (from === "page" ? "yours" : "from your job")}</span>;
}

const FEW = 4;

function Choice(props: DialProps) {
  const { reading, wrong, untouched, mark, onChange } = props;
  const { dial } = reading;
  const id = useId();
  if (dial.kind !== "choice") return null;
  const note = (
    <DialNote id={`${id}n`} {...{ reading, wrong }}>
      {props.children}
    </DialNote>
  );
  if (dial.choices.length > FEW)
    return (
      <div class="dial">
        <div class="dial-head">
          <label class="dial-label" for={id}>
            {dial.label}
          </label>
          <Mark from={reading.from} untouched={untouched} mark={mark} />
        </div>
        <select
          id={id}
          value={reading.text}
          aria-describedby={`${id}n`}
          onChange={(e) => onChange(dial.name, e.currentTarget.value)}
        >
          {dial.choices.map((c) => (
            <option key={c}>{c}</option>
          ))}
        </select>
        {note}
      </div>
    );
  return (
    <fieldset class="dial" aria-describedby={`${id}n`}>
      <legend class="dial-label dial-head">
        {dial.label} <Mark from={reading.from} untouched={untouched} mark={mark} />
      </legend>
      <div class="choices">
        {dial.choices.map((c) => (
          <label class="tick" key={c}>
            <input
              type="radio"
              name={id}
              checked={c === reading.text}
              onChange={() => onChange(dial.name, c)}
            />
            {c}
          </label>
        ))}
      </div>
      {note}
    </fieldset>
  );
}

function Flag(props: DialProps) {
  const { reading, wrong, untouched, mark, onChange } = props;
  const id = useId();
  const { dial } = reading;
  return (
    <div class="dial">
      <div class="dial-head">
        <label class="tick dial-label">
          <input
            type="checkbox"
            checked={reading.value === true}
            aria-describedby={`${id}n`}
            onChange={(e) => onChange(dial.name, e.currentTarget.checked)}
          />
          {dial.label}
        </label>
        <Mark from={reading.from} untouched={untouched} mark={mark} />
      </div>
      <DialNote id={`${id}n`} {...{ reading, wrong }}>
        {props.children}
      </DialNote>
    </div>
  );
}

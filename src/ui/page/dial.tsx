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

/** Characters of a dial's text: past this nothing is a size any more, and the page keeps what it had. */
const MOST_TYPED = 60;

/** Typed text with steppers. What is typed stays as it is typed; a mistake is said below, nothing moves. */
function Quantity(props: DialProps) {
  const { reading, wrong, untouched, placeholder, mark, onChange } = props;
  const { dial } = reading;
  const id = useId();
  const typed = useTyped(reading, onChange);
  const label = dial.label;
  const shown = typed.text ?? asPrinted(reading.text);
  const isText = dial.kind === "quantity" && dial.quantity === "text";
  const hand = useHand(!isText);

  function step(direction: 1 | -1): void {
    typed.drop();
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
      <div class={`dial-row ${isText ? "whole" : ""}`}>
        <input
          id={id}
          ref={typed.field}
          value={shown}
          class={shown.length > LONG ? "long" : ""}
          {...(placeholder !== undefined && { placeholder })}
          {...hand.props}
          autocomplete="off"
          autocapitalize="off"
          spellcheck={false}
          enterkeyhint="done"
          aria-invalid={wrong !== undefined || typed.isLong}
          aria-describedby={`${id}n`}
          onInput={(e) => typed.change(e.currentTarget.value)}
          onBlur={() => {
            typed.drop();
            hand.left();
          }}
          onKeyDown={onKey}
        />
        {!isText && (
          <>
            <StepButton label={`${label}: less`} sign={"\u2212"} onStep={() => step(-1)} />
            <StepButton label={`${label}: more`} sign="+" onStep={() => step(1)} />
          </>
        )}
      </div>
      <DialNote
        id={`${id}n`}
        reading={reading}
        wrong={typed.isLong ? `At most ${MOST_TYPED} characters; the value before stays.` : wrong}
      >
        {props.children}
      </DialNote>
    </div>
  );
}

/** What is being typed, as long as it is this field's own; what comes from elsewhere takes its place. */
function useTyped(reading: DialReading, onChange: DialChange) {
  const [text, setText] = useState<string | undefined>();
  const field = useRef<HTMLInputElement>(null);
  /** Told to the page, newest last: what comes back may lag behind. */
  const sent = useRef<string[]>([]);
  const most =
    reading.dial.kind === "quantity" && reading.dial.quantity === "text" ? 300 : MOST_TYPED;

  useEffect(() => {
    const echo = sent.current.lastIndexOf(reading.text);
    if (echo >= 0) sent.current.splice(0, echo);
    // an emptied field stays empty under the hand, whatever its default
    const isMine = echo >= 0 || sent.current.at(-1) === "";
    if (document.activeElement !== field.current || !isMine) setText(undefined);
  }, [reading.text]);

  return {
    text,
    field,
    isLong: text !== undefined && text.length > most,
    change(next: string) {
      setText(next);
      if (next.length > most) return;
      sent.current.push(next.trim());
      onChange(reading.dial.name, next);
    },
    drop() {
      sent.current = [];
      setText(undefined);
    },
  };
}

/**
 * The first tap marks the number and shows the digits: what is typed takes its place, the unit stays. A second tap marks
 * all and shows the letters.
 */
function useHand(isNumber: boolean) {
  const [letters, setLetters] = useState(false);
  const taps = useRef(0);
  if (!isNumber) return { props: {}, left: () => {} };
  return {
    props: {
      inputmode: letters ? ("text" as const) : ("decimal" as const),
      onClick: (e: MouseEvent) => {
        const field = e.currentTarget as HTMLInputElement;
        taps.current++;
        if (taps.current === 1) {
          const number = /^\s*[\d.,/ +-]*\d/.exec(field.value)?.[0].length ?? field.value.length;
          field.setSelectionRange(0, number);
        } else if (taps.current === 2) {
          setLetters(true);
          field.select();
        }
      },
    },
    left() {
      taps.current = 0;
      setLetters(false);
    },
  };
}

/** Held down this long, a step is repeated, this often. ms */
const HOLD_MS = 450;
const REPEAT_MS = 110;

function StepButton(props: { label: string; sign: string; onStep: () => void }) {
  const { label, sign } = props;
  const step = useRef(props.onStep);
  step.current = props.onStep;
  const holding = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const repeated = useRef(false);

  function repeat(): void {
    repeated.current = true;
    step.current();
    holding.current = setTimeout(repeat, REPEAT_MS);
  }
  function stop(): void {
    clearTimeout(holding.current);
  }
  useEffect(() => stop, []);
  return (
    <button
      type="button"
      class="step"
      aria-label={label}
      onPointerDown={() => {
        repeated.current = false;
        stop();
        holding.current = setTimeout(repeat, HOLD_MS);
      }}
      onPointerUp={stop}
      onPointerLeave={stop}
      onPointerCancel={stop}
      onContextMenu={(e) => e.preventDefault()}
      onClick={() => {
        // the click that ends a hold is no further step
        if (!repeated.current) step.current();
        repeated.current = false;
      }}
    >
      {sign}
    </button>
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
          {!dial.choices.includes(reading.text) && (
            <option value={reading.text}>{reading.text}</option>
          )}
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

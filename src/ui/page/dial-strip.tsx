import { useEffect, useState } from "preact/hooks";
import type { AnswerOutput } from "../../notebook/outputs/output.ts";
import { type Old, OldWord } from "../outputs/old-word.tsx";
import { unitSystem } from "../reading/preferences.ts";
import { shown } from "../reading/shown.ts";
import { asPrinted } from "./dial-help.ts";
import { oldOf } from "./old.ts";
import type { OpenPage } from "./open-page.ts";

/** After a turn the way back stays in reach for this long. ms */
const REACH_MS = 8000;

/**
 * While a dial is in hand: the main answer, above the keyboard of a phone, and the way back. It lies over the sheet, so
 * that nothing moves.
 */
export function DialStrip({ open }: { open: OpenPage }) {
  const isTyping = useDialFocus();
  const turned = open.turned.value;
  const isRecent = useRecent(turned);
  const bottom = useKeyboardTop();
  const { answer, old } = mainAnswer(open);
  if (!isTyping && !isRecent) return null;
  const { value, low, high, unit, label } = answer ?? {};
  const reading =
    value === null || value === undefined || unit === undefined
      ? undefined
      : shown({ value, low: low ?? null, high: high ?? null }, unit, unitSystem.value);
  return (
    <aside
      class="dial-strip no-print"
      style={{ bottom: `${bottom}px` }}
      aria-label="While a dial is set"
    >
      {reading && (
        <p aria-hidden="true" class={old ? "is-old" : ""}>
          {label} <b>{reading.parts.map((p) => `${p.figure} ${p.unit}`.trim()).join(" ")}</b>
          <OldWord old={old} />
        </p>
      )}
      {turned && (
        <button
          type="button"
          aria-label={`Undo: ${turned.label} back to ${asPrinted(turned.text)}`}
          // the field keeps the focus, and a phone its keyboard
          onPointerDown={(e) => e.preventDefault()}
          onClick={open.undoDial}
        >
          Undo: {asPrinted(turned.text) || "empty"}
        </button>
      )}
    </aside>
  );
}

/** The page's main answer, and why it is old where it is. */
function mainAnswer(open: OpenPage): { answer?: AnswerOutput; old?: Old } {
  for (const [working, list] of open.run.value.outputs.entries())
    for (const output of list)
      if (output.kind === "answer" && output.main)
        return { answer: output, old: oldOf(open, working) };
  return {};
}

/** Whether a dial of the sheet has the focus; Ctrl+Z in it takes back a turn. */
function useDialFocus(): boolean {
  const [has, setHas] = useState(false);
  useEffect(() => {
    const look = () => {
      const { activeElement } = document;
      setHas(activeElement?.matches(".reading-page .dials input, .spread .dials input") ?? false);
    };
    document.addEventListener("focusin", look);
    document.addEventListener("focusout", look);
    return () => {
      document.removeEventListener("focusin", look);
      document.removeEventListener("focusout", look);
    };
  }, []);
  return has;
}

function useRecent(thing: unknown): boolean {
  const [recent, setRecent] = useState<unknown>();
  useEffect(() => {
    if (thing === undefined) {
      setRecent(undefined);
      return;
    }
    setRecent(thing);
    const timer = setTimeout(() => setRecent(undefined), REACH_MS);
    return () => clearTimeout(timer);
  }, [thing]);
  return recent !== undefined && recent === thing;
}

/** CSS pixels of the window that a keyboard covers. */
function useKeyboardTop(): number {
  const [covered, setCovered] = useState(0);
  useEffect(() => {
    const view = window.visualViewport;
    if (!view) return;
    const look = () => setCovered(Math.max(0, innerHeight - view.height - view.offsetTop));
    look();
    view.addEventListener("resize", look);
    view.addEventListener("scroll", look);
    return () => {
      view.removeEventListener("resize", look);
      view.removeEventListener("scroll", look);
    };
  }, []);
  return covered;
}

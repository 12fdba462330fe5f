import type { NoteOutput } from "../../notebook/outputs/output.ts";
import { useLabels } from "../reading/labels.ts";
import { type Old, OldWord } from "./old-word.tsx";

/** Words of a working. A caution holds for what is set now, too: it is marked, and never faint. */
export function Note({ output, old }: { output: NoteOutput; old: Old }) {
  const texts = useLabels(output.text.split("\n"));
  const lines = texts.map((line, i) => (
    <p key={line}>
      {line}
      {old !== undefined && i === texts.length - 1 && (
        <>
          {" "}
          <OldWord old={old} />
        </>
      )}
    </p>
  ));
  if (output.fold !== undefined && output.tone !== "caution")
    return (
      <details class="closer note-fold">
        <summary>{output.fold}</summary>
        {lines}
      </details>
    );
  return (
    <div
      role="note"
      class={`note ${output.tone} ${old ? "is-old" : ""}`}
      aria-label={output.tone === "caution" ? "Caution" : "Note"}
    >
      {output.tone === "caution" && <strong>Caution</strong>}
      {lines}
    </div>
  );
}

import type { NoteOutput } from "../../notebook/outputs/output.ts";
import { useLabels } from "../reading/labels.ts";

export function Note({ output }: { output: NoteOutput }) {
  const lines = useLabels(output.text.split("\n")).map((line) => <p key={line}>{line}</p>);
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
      class={`note ${output.tone}`}
      aria-label={output.tone === "caution" ? "Caution" : "Note"}
    >
      {output.tone === "caution" && <strong>Caution</strong>}
      {lines}
    </div>
  );
}

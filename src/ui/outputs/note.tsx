import type { NoteOutput } from "../../notebook/output.ts";

export function Note({ output }: { output: NoteOutput }) {
  return (
    <div
      role="note"
      class={`note ${output.tone}`}
      aria-label={output.tone === "caution" ? "Caution" : "Note"}
    >
      {output.tone === "caution" && <strong>Caution</strong>}
      {output.text.split("\n").map((line) => (
        <p key={line}>{line}</p>
      ))}
    </div>
  );
}

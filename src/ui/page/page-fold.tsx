import { useState } from "preact/hooks";
import type { Draft } from "../../notebook/shelf/draft.ts";
import type { ShelfEntry } from "../../notebook/shelf/entry.ts";
import { pageAddress } from "../frame/route.ts";
import { job } from "../job/job-store.ts";
import { fileName, saveFile } from "../outputs/save.ts";
import { theShelf, undoable } from "../shelf/the-shelf.ts";
import type { OpenPage } from "./open-page.ts";

/** The text with its first heading anew. */
function withTitle(text: string, title: string): string {
  return /^#\s+.+$/m.test(text)
    ? text.replace(/^#\s+.+$/m, () => `# ${title}`)
    : `# ${title}\n\n${text}`;
}

/** What can be done with a sheet as a whole: folded at its foot. */
export function PageFold(props: { open: OpenPage; entry: ShelfEntry; draft: Draft }) {
  const { open, entry, draft } = props;
  const { text } = open.page.value;
  const changed =
    entry.shipped && [...open.untouched.value].length < open.dials.value.readings.length;
  const [name, setName] = useState(entry.name);
  const [wrong, setWrong] = useState("");

  async function duplicate(): Promise<void> {
    await draft.flush();
    const copy = await (await theShelf).duplicate("page", entry.name);
    if (copy) location.hash = pageAddress(copy.name);
  }
  /** The heading and the name on the shelf are one thing to a reader. */
  async function rename(): Promise<void> {
    await draft.flush();
    const shelf = await theShelf;
    const wanted = name.trim();
    const renamed = await shelf.rename("page", entry.name, wanted);
    setWrong(renamed ? "" : "That name is taken, or has signs that a file name cannot have.");
    if (!renamed) return;
    const titled = withTitle(renamed.text, wanted);
    await shelf.save("page", renamed.name, titled, renamed.revision);
    location.hash = pageAddress(renamed.name);
  }
  /** The sheet and the job that it reads as one file, which the list of sheets reads. */
  async function share(): Promise<void> {
    const { archiveOf } = await import("../../notebook/shelf/archive.ts");
    const bytes = archiveOf([
      { kind: "page", name: entry.name, text },
      { kind: "job", name: job.value.key || "job", text: job.value.text },
    ]);
    const blob = new Blob([new Uint8Array(bytes)], { type: "application/zip" });
    saveFile(fileName(`${entry.name} with its job`, "zip"), blob);
  }
  async function reset(): Promise<void> {
    await draft.flush();
    const undo = await (await theShelf).reset("page", entry.name);
    undoable.value = { words: `\u201c${entry.name}\u201d is as it came again.`, undo };
  }
  async function remove(): Promise<void> {
    await draft.flush();
    const undo = await (await theShelf).remove("page", entry.name);
    undoable.value = {
      words: `\u201c${open.page.value.title}\u201d was taken off the shelf.`,
      undo,
    };
    location.hash = "#/index";
  }
  return (
    <details class="closer page-fold no-print">
      <summary>This sheet: copy, save, change its text{changed ? ", put back" : ""}</summary>
      <div class="row">
        <button type="button" onClick={() => void duplicate()}>
          Copy it
        </button>
        {entry.shipped && (
          <button type="button" onClick={() => void reset()}>
            As it came
          </button>
        )}
        <button type="button" onClick={() => void remove()}>
          Remove
        </button>
        <button
          type="button"
          onClick={() => saveFile(fileName(entry.name, "md"), text, "text/markdown")}
        >
          Save to a file (.md)
        </button>
        <button type="button" onClick={() => void share()}>
          Save with its job (.zip)
        </button>
        <button type="button" onClick={() => print()}>
          Print
        </button>
      </div>
      <Rename name={name} was={entry.name} wrong={wrong} onName={setName} onRename={rename} />
      <label>
        <span class="dial-label">The whole sheet as text</span>
        <textarea
          class="editor-plain"
          spellcheck={false}
          rows={Math.min(40, text.split("\n").length + 1)}
          value={text}
          onInput={(e) => open.setText(e.currentTarget.value)}
        />
      </label>
    </details>
  );
}

function Rename(props: {
  name: string;
  was: string;
  wrong: string;
  onName: (name: string) => void;
  onRename: () => Promise<void>;
}) {
  const { name, was, wrong } = props;
  return (
    <>
      <form
        class="row rename"
        onSubmit={(e) => {
          e.preventDefault();
          void props.onRename();
        }}
      >
        <label>
          <span class="dial-label">Name on the shelf</span>
          <input value={name} onInput={(e) => props.onName(e.currentTarget.value)} />
        </label>
        <button type="submit" disabled={name.trim() === "" || name === was}>
          Rename
        </button>
      </form>
      {wrong && (
        <p class="error" role="alert">
          {wrong}
        </p>
      )}
    </>
  );
}

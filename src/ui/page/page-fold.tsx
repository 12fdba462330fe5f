import { useState } from "preact/hooks";
import type { Draft } from "../../notebook/shelf/draft.ts";
import type { ShelfEntry } from "../../notebook/shelf/entry.ts";
import { pageAddress } from "../frame/route.ts";
import { fileName, saveFile } from "../outputs/save.ts";
import { theShelf, undoable } from "../shelf/the-shelf.ts";
import type { OpenPage } from "./open-page.ts";

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
  async function rename(): Promise<void> {
    await draft.flush();
    const renamed = await (await theShelf).rename("page", entry.name, name);
    setWrong(renamed ? "" : "That name is taken, or has signs that a file name cannot have.");
    if (renamed) location.hash = pageAddress(renamed.name);
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
        <button type="button" onClick={() => print()}>
          Print
        </button>
      </div>
      <form
        class="row rename"
        onSubmit={(e) => {
          e.preventDefault();
          void rename();
        }}
      >
        <label>
          <span class="dial-label">Name on the shelf</span>
          <input value={name} onInput={(e) => setName(e.currentTarget.value)} />
        </label>
        <button type="submit" disabled={name.trim() === "" || name === entry.name}>
          Rename
        </button>
      </form>
      {wrong && (
        <p class="error" role="alert">
          {wrong}
        </p>
      )}
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

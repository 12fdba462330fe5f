import { useEffect, useState } from "preact/hooks";
import { pageAddress } from "../frame/route.ts";
import {
  gistOf,
  inBenchOrder,
  listPages,
  pages,
  removedPages,
  theShelf,
  titleOf,
} from "./the-shelf.ts";

const NEW_PAGE = `# New sheet

What it answers, in a sentence.

\`\`\`dials
thickness:
  label: Thickest part
  value: 16 mm
  min: 2 mm
  max: 60 mm
\`\`\`

\`\`\`ts A first step
show.answer({ label: "Thickest part", value: thickness, low: thickness, high: thickness, unit: "mm", main: true });
\`\`\`
`;

/** A table of contents, as on the first sheet of a set of drawings. */
export default function IndexSheet() {
  const [said, setSaid] = useState("");
  useEffect(() => void listPages(), []);
  async function add(): Promise<void> {
    const shelf = await theShelf;
    const entry = await shelf.add("page", "New sheet", NEW_PAGE);
    location.hash = pageAddress(entry.name);
  }
  async function read(files: FileList | null): Promise<void> {
    const shelf = await theShelf;
    const { importFile, restoreShelf } = await import("../../notebook/shelf/archive.ts");
    const words: string[] = [];
    for (const file of files ?? []) {
      if (/\.zip$/i.test(file.name)) {
        try {
          const result = await restoreShelf(shelf, new Uint8Array(await file.arrayBuffer()));
          const { added, same, second, refused } = result;
          words.push(
            `${file.name}: ${added.length} added, ${same.length} already here, ${second.length} kept beside yours under a new name, ${refused.length} refused.`,
          );
          const log = result.more["log.json"];
          if (log !== undefined) {
            const { mergeEntries } = await import("../log/log-store.ts");
            const { readEntries } = await import("../log/entries.ts");
            words.push(`${mergeEntries(readEntries(log))} lines added to the log.`);
          }
        } catch {
          words.push(`${file.name} is no archive of this shelf.`);
        }
        continue;
      }
      const entry = await importFile(shelf, file.name, await file.text());
      words.push(
        entry ? `${entry.name} is on the shelf.` : `${file.name} is neither a sheet nor a job.`,
      );
    }
    setSaid(words.join(" "));
  }
  async function archive(): Promise<void> {
    const { archiveShelf } = await import("../../notebook/shelf/archive.ts");
    const { logJson } = await import("../log/entries.ts");
    const { entries } = await import("../log/log-store.ts");
    const { saveFile } = await import("../outputs/save.ts");
    const bytes = await archiveShelf(await theShelf, { "log.json": logJson(entries.value) });
    saveFile("castclock-shelf.zip", new Blob([new Uint8Array(bytes)], { type: "application/zip" }));
  }
  return (
    <>
      <h1>Sheets</h1>
      <ol class="index">
        {inBenchOrder(pages.value).map((entry) => (
          <li key={entry.name}>
            <a class="entry" href={pageAddress(entry.name)}>
              <b>{titleOf(entry)}</b>
              <span class="leader" aria-hidden="true" />
              <span class="gist">
                {entry.own && (
                  <span class="yours">{entry.shipped ? "changed by you" : "yours"}, </span>
                )}
                {gistOf(entry)}
              </span>
            </a>
          </li>
        ))}
      </ol>
      {removedPages.value.length > 0 && <Removed />}
      <div class="row">
        <button type="button" onClick={() => void add()}>
          New sheet
        </button>
        <label class="button">
          Read a file (.md, .yaml, .zip)
          <input
            class="out-of-sight"
            type="file"
            multiple
            accept=".md,.markdown,.yaml,.yml,.json,.zip"
            onChange={(e) => void read(e.currentTarget.files)}
          />
        </label>
        <button type="button" onClick={() => void archive()}>
          Keep the whole shelf in a file
        </button>
      </div>
      <p role="status">{said}</p>
    </>
  );
}

/** Shipped sheets that were taken off: each can be put back. */
function Removed() {
  return (
    <details class="closer">
      <summary>Taken off the shelf: {removedPages.value.length}</summary>
      <div class="row">
        {removedPages.value.map(({ name }) => (
          <button
            type="button"
            key={name}
            onClick={() => void theShelf.then((shelf) => shelf.bringBack("page", name))}
          >
            Put back {name}
          </button>
        ))}
      </div>
    </details>
  );
}

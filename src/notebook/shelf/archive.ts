/** The whole shelf as one file, and back. */
import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import type { ShelfEntry } from "./entry.ts";
import { isName, nameFrom } from "./names.ts";
import { MOST_TEXT, type Shelf } from "./shelf.ts";
import type { DocumentKind } from "./store.ts";

const FOLDERS: Readonly<Record<DocumentKind, string>> = { page: "pages", job: "jobs" };
const ENDINGS: Readonly<Record<DocumentKind, string>> = { page: "md", job: "yaml" };
const KINDS: readonly DocumentKind[] = ["page", "job"];

const MOST_FILES = 2000;
const MOST_BYTES = 64_000_000;

/** A zip of all pages and jobs; `more` are further files by their path, the log say. */
export async function archiveShelf(
  shelf: Shelf,
  more: Readonly<Record<string, string>> = {},
): Promise<Uint8Array> {
  const all = await Promise.all(KINDS.map((kind) => shelf.list(kind)));
  return archiveOf(all.flat(), more);
}

/** A zip of these documents: a sheet with its job, say. */
export function archiveOf(
  documents: readonly Pick<ShelfEntry, "kind" | "name" | "text">[],
  more: Readonly<Record<string, string>> = {},
): Uint8Array {
  const files: Record<string, Uint8Array> = {};
  for (const { kind, name, text } of documents) {
    files[`${FOLDERS[kind]}/${name}.${ENDINGS[kind]}`] = strToU8(text);
  }
  for (const [path, text] of Object.entries(more)) files[path] = strToU8(text);
  // one date for all: the same shelf gives the same file
  return zipSync(files, { level: 6, mtime: new Date(1980, 0, 1) });
}

export interface Restored {
  readonly added: readonly string[];
  /** Were there already, to the letter. */
  readonly same: readonly string[];
  /** Another text stood under that name: the archive's is beside it under a new one. */
  readonly second: readonly string[];
  /** Files that are neither page nor job, or too large. */
  readonly refused: readonly string[];
  /** Other text files of the archive by their path, for whoever put them there. */
  readonly more: Readonly<Record<string, string>>;
}

/** Puts an archive's pages and jobs on the shelf. Overwrites nothing. Throws when the file is no archive. */
export async function restoreShelf(shelf: Shelf, bytes: Uint8Array): Promise<Restored> {
  const refused: string[] = [];
  let files = 0;
  let size = 0;
  const unzipped = unzipSync(bytes, {
    filter: ({ name, originalSize }) => {
      if (name.endsWith("/")) return false;
      files++;
      size += originalSize;
      const fits = originalSize <= 4 * MOST_TEXT && files <= MOST_FILES && size <= MOST_BYTES;
      if (!fits) refused.push(name);
      return fits;
    },
  });
  const added: string[] = [];
  const same: string[] = [];
  const second: string[] = [];
  const more: Record<string, string> = {};
  for (const [path, content] of Object.entries(unzipped)) {
    const text = strFromU8(content);
    const place = placeOf(path);
    if (place === undefined) {
      if (/^[\w.-]+\.(?:json|csv)$/.test(path)) more[path] = text;
      else refused.push(path);
      continue;
    }
    if (text.length > MOST_TEXT) {
      refused.push(path);
      continue;
    }
    const now = await shelf.read(place.kind, place.name);
    if (now?.text === text) same.push(place.name);
    else {
      const entry = await shelf.add(place.kind, place.name, text);
      (entry.name === place.name ? added : second).push(entry.name);
    }
  }
  return { added, same, second, refused, more };
}

function placeOf(path: string): { kind: DocumentKind; name: string } | undefined {
  for (const kind of KINDS) {
    const [folder, file, ...rest] = path.split("/");
    if (folder !== FOLDERS[kind] || file === undefined || rest.length > 0) continue;
    const ending = `.${ENDINGS[kind]}`;
    if (!file.endsWith(ending)) continue;
    const name = file.slice(0, -ending.length);
    return { kind, name: isName(name) ? name : nameFrom(name) };
  }
  return undefined;
}

/** Puts one file, a page or a job, on the shelf under a free name. */
export async function importFile(shelf: Shelf, fileName: string, text: string) {
  if (text.length > MOST_TEXT) return undefined;
  const kind: DocumentKind | undefined = /\.(?:md|markdown)$/i.test(fileName)
    ? "page"
    : /\.(?:ya?ml|json)$/i.test(fileName)
      ? "job"
      : undefined;
  if (kind === undefined) return undefined;
  return await shelf.add(kind, nameFrom(fileName.replace(/\.[^.]+$/, "")), text);
}

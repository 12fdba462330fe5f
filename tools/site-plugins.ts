// What only the site needs: the names of the library with their docstrings, for the editor's completion, and a
// service worker that keeps every file of the site, so that it opens without a network from the second visit on.
import { createHash } from "node:crypto";
import { existsSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Plugin } from "vite";

const root = fileURLToPath(new URL("..", import.meta.url));

export interface LibraryWord {
  readonly name: string;
  readonly kind: "function" | "constant" | "class";
  readonly doc: string;
}

/** The public names that a working may use, each with its docstring as plain text. Types are left out. */
export function readLibraryWords(index = join(root, "lib/index.ts")): {
  words: LibraryWord[];
  files: string[];
} {
  const words: LibraryWord[] = [];
  const files = [index];
  if (!existsSync(index)) return { words, files };
  const text = readFileSync(index, "utf8");
  for (const [, isType, names, from] of text.matchAll(
    /export\s+(type\s+)?\{([^}]*)\}\s*from\s*"([^"]+)"/g,
  )) {
    if (isType || names === undefined || from === undefined) continue;
    const file = join(dirname(index), from);
    const source = readFileSync(file, "utf8");
    files.push(file);
    for (const item of names.split(",")) {
      const name = item.trim();
      if (name === "" || name.startsWith("type ")) continue;
      const word = wordOf(name.split(/\s+as\s+/)[0]!, source);
      if (word) words.push({ ...word, name: name.split(/\s+as\s+/).at(-1)! });
    }
  }
  return { words: words.toSorted((a, b) => a.name.localeCompare(b.name)), files };
}

function wordOf(name: string, source: string): LibraryWord | undefined {
  const found = new RegExp(
    `(/\\*\\*(?:(?!\\*/)[\\s\\S])*\\*/\\s*)?export (async function|function|const|class) ${name}\\b`,
  ).exec(source);
  if (!found) return undefined;
  const kind = found[2] === "class" ? "class" : found[2] === "const" ? "constant" : "function";
  return { name, kind, doc: plainDoc(found[1] ?? "") };
}

function plainDoc(comment: string): string {
  return comment
    .replace(/^\s*\/\*\*\s?|\s*\*\/\s*$/g, "")
    .split("\n")
    .map((line) => line.replace(/^\s*\* ?/, ""))
    .join("\n")
    .replace(/\{@link (\w+)\}/g, "$1")
    .trim();
}

/** `import { libraryWords } from "virtual:library-words"`. */
export function libraryWords(): Plugin {
  const id = "virtual:library-words";
  return {
    name: "castclock-library-words",
    resolveId: (source) => (source === id ? `\0${id}` : undefined),
    load(source) {
      if (source !== `\0${id}`) return;
      const { words, files } = readLibraryWords();
      for (const file of files) this.addWatchFile(file);
      return `export const libraryWords = ${JSON.stringify(words)};`;
    },
  };
}

/** Writes `offline.js` beside index.html: the list of the built files, and src/ui/offline.js that works with it. */
export function offline(): Plugin {
  return {
    name: "castclock-offline",
    apply: "build",
    enforce: "post",
    generateBundle(_options, bundle) {
      const built = Object.keys(bundle).filter((file) => !/\.(map|md)$/.test(file));
      const shipped = ["icon.svg", "icon-192.png", "icon-512.png", "manifest.webmanifest"];
      const files = ["./", ...built.filter((f) => f !== "index.html"), ...shipped];
      const content = createHash("sha256");
      for (const file of built.toSorted()) {
        const part = bundle[file]!;
        content.update(file);
        content.update(part.type === "chunk" ? part.code : part.source);
      }
      const version = content.digest("hex").slice(0, 12);
      const worker = readFileSync(join(root, "src/ui/offline.js"), "utf8");
      this.emitFile({
        type: "asset",
        fileName: "offline.js",
        source: `const VERSION = ${JSON.stringify(version)};\nconst FILES = ${JSON.stringify(files)};\n${worker}`,
      });
    },
  };
}

/** KaTeX lists each face three times; every browser that runs the site takes woff2. */
export function onlyWoff2(): Plugin {
  return {
    name: "castclock-only-woff2",
    enforce: "pre",
    transform(code, id) {
      if (!id.includes("katex") || !/\.css(\?|$)/.test(id)) return;
      return code.replace(/,\s*url\([^)]*\.(?:woff|ttf)\)\s*format\("(?:woff|truetype)"\)/g, "");
    },
  };
}

const NO_AUTOLINKS = "\0no-autolinks";

/** What finds addresses in plain text: pages write their links as such, and their parser is never asked to look for others. */
export function withoutAutolinks(): Plugin {
  return {
    name: "castclock-without-autolinks",
    enforce: "pre",
    resolveId: (id) => (id === "linkify-it" ? NO_AUTOLINKS : null),
    load: (id) => (id === NO_AUTOLINKS ? "export class LinkifyIt {}" : null),
  };
}

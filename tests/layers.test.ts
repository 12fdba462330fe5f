import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, posix, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";

const root = fileURLToPath(new URL("..", import.meta.url));

/** A room may import from itself and from rooms of a lower rank. */
const RANK: Record<string, number> = {
  "lib/units": -1, // even numerics reports what is wrong in its words
  "lib/numerics": 0,
  "lib/materials": 1,
  "lib/shape": 1,
  "lib/formulas": 1, // closed formulas stand beside the engine, they know nothing of it
  "lib/heat": 2,
  "lib/cure": 2,
  "lib/job": 2,
  "lib/confidence": 3,
  "lib/solve": 3, // the bare engine knows no job
  "lib/answers": 4,
  "lib/models": 5, // from a job to a heat problem
  "lib/proof": 5,
  "lib/questions": 6,
  "lib/index.ts": 7,
  "src/messages": 8,
  "src/sweep": 9, // one question over many jobs
  "src/notebook": 9,
  "src/cli": 10,
  "src/ui": 10,
};

interface Import {
  file: string;
  line: number;
  target: string;
}

function sources(folder: string): string[] {
  return readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name))
    .map((entry) => relative(root, join(entry.parentPath, entry.name)))
    .sort();
}

function importsOf(file: string): Import[] {
  const text = readFileSync(join(root, file), "utf8");
  const found = text.matchAll(/\bfrom\s+["']([^"']+)["']|\bimport\s*\(?\s*["']([^"']+)["']/g);
  return [...found].map((match) => ({
    file,
    line: text.slice(0, match.index).split("\n").length,
    target: match[1] ?? match[2]!,
  }));
}

function roomOf(file: string): string {
  const parts = file.split("/");
  return parts.length === 2 ? file : `${parts[0]}/${parts[1]}`;
}

const lib = sources("lib");
const all = [...lib, ...sources("src")];
const show = ({ file, line, target }: Import) => `${file}:${line} imports ${target}`;

/** Comments and texts removed, so that only code is judged; line numbers stay. */
function codeOf(file: string): string {
  const blank = (match: string) => match.replace(/[^\n]/g, " ");
  return readFileSync(join(root, file), "utf8")
    .replace(/\/\*[\s\S]*?\*\//g, blank)
    .replace(/(^|[^:"'`])\/\/.*$/gm, blank)
    .replace(/"(?:[^"\\\n]|\\.)*"|'(?:[^'\\\n]|\\.)*'/g, blank);
}

test("imports point down", () => {
  const upward = all.flatMap(importsOf).filter(({ file, target }) => {
    if (!target.startsWith(".")) return false;
    const from = roomOf(file);
    const to = roomOf(posix.join(dirname(file), target));
    if (
      from === to ||
      to.startsWith("data/") ||
      target.endsWith(".css") ||
      target.endsWith("/package.json")
    )
      return false;
    return !(RANK[to]! < RANK[from]!);
  });
  expect(upward.map(show)).toEqual([]);
});

/** `lib/questions/pour/verdict.ts` is of the question "pour"; what all questions share lies beside their folders. */
const questionOf = (file: string) => /^lib\/questions\/([^/]+)\//.exec(file)?.[1];

test("a question may ask another one, but knows nothing of its insides", () => {
  const prying = lib.flatMap(importsOf).filter(({ file, target }) => {
    if (!target.startsWith(".") || file === "lib/index.ts") return false;
    const asked = posix.join(dirname(file), target);
    const to = questionOf(asked);
    return to !== undefined && to !== questionOf(file) && asked !== `lib/questions/${to}/${to}.ts`;
  });
  expect(prying.map(show)).toEqual([]);
});

/** Inside the notebook the same holds for folders. */
const NOTEBOOK_RANK: Readonly<Record<string, number>> = {
  outputs: 0, // what a page can show
  sandbox: 0, // what runs where it reaches nothing
  files: 0, // what is read from a file of another kind
  shelf: 0, // where documents are kept, whatever they say
  dials: 1,
  page: 2, // a page holds dials
  run: 3,
};

const notebookFolder = (file: string) => /^src\/notebook\/([^/]+)\//.exec(file)?.[1];

test("folders of the notebook import down", () => {
  const inside = all.filter((file) => file.startsWith("src/notebook/"));
  const upward = inside.flatMap(importsOf).filter(({ file, target }) => {
    const from = notebookFolder(file);
    const to = target.startsWith(".")
      ? notebookFolder(posix.join(dirname(file), target))
      : undefined;
    if (from === undefined || to === undefined || from === to) return false;
    return !(NOTEBOOK_RANK[to]! < NOTEBOOK_RANK[from]!);
  });
  expect(upward.map(show)).toEqual([]);
  const folders = new Set(inside.map(notebookFolder).filter((f) => f !== undefined));
  expect([...folders].filter((f) => NOTEBOOK_RANK[f] === undefined)).toEqual([]);
});

test("no two files import each other, types included", () => {
  const targets = new Map(
    all.map((file) => [
      file,
      importsOf(file)
        .filter(({ target }) => target.startsWith("."))
        .map(({ target }) => posix.join(dirname(file), target)),
    ]),
  );
  const circles = [...targets].flatMap(([file, to]) =>
    to
      .filter((other) => file < other && targets.get(other)?.includes(file))
      .map((other) => `${file} and ${other}`),
  );
  expect(circles).toEqual([]);
});

test("every room has its place in the order", () => {
  const rooms = new Set(all.map(roomOf));
  expect([...rooms].filter((room) => RANK[room] === undefined)).toEqual([]);
});

/** What the package has in itself: `tools/library.js` makes one file of it. */
const BUNDLED = new Set(["mathjs"]);

test("lib imports no package but those that are installed for its users", () => {
  const { dependencies } = JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as {
    dependencies: Record<string, string>;
  };
  const foreign = lib.flatMap(importsOf).filter(({ target }) => {
    if (target.startsWith(".")) return false;
    const name = target
      .split("/")
      .slice(0, target.startsWith("@") ? 2 : 1)
      .join("/");
    return dependencies[name] === undefined && !BUNDLED.has(name);
  });
  expect(foreign.map(show)).toEqual([]);
});

// the compiler guards the rest: lib has no DOM types, and a window is also a span of time here
const FORBIDDEN = [
  /\bconsole\b/,
  /\bMath\.random\b/,
  /\bDate\b/,
  /\bperformance\b/,
  /\bprocess\./,
  /\b(?:document|globalThis|navigator)\b\s*[.[]/,
  /\b(?:fetch|setTimeout|setInterval|require)\s*\(/,
  /\bexport\s+default\b/,
  /\bexport\s+\*/,
];

test("lib knows no page, no file system, no clock, no chance, no default export", () => {
  const found = lib.flatMap((file) =>
    codeOf(file)
      .split("\n")
      .flatMap((line, i) =>
        FORBIDDEN.filter((pattern) => pattern.test(line)).map((p) => `${file}:${i + 1} ${p}`),
      ),
  );
  expect(found).toEqual([]);
});

test("the checks of this file catch what they are for", () => {
  expect(FORBIDDEN.some((p) => p.test("const t = Date.now();"))).toBe(true);
  expect(FORBIDDEN.some((p) => p.test("export * from './heat.ts'"))).toBe(true);
  expect(FORBIDDEN.some((p) => p.test("document.title"))).toBe(true);
  expect(FORBIDDEN.some((p) => p.test("const window = opens.until;"))).toBe(false);
  expect(RANK[roomOf("lib/heat/simulate.ts")]).toBeGreaterThan(RANK[roomOf("lib/materials/x.ts")]!);
});

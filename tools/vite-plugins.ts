// What the site and the command need besides plain bundling: policies, the sandboxed frame with the library as
// one script, the shipped pages and jobs, and the service worker.
import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { transform } from "sucrase";
import { build, type Plugin } from "vite";
import { readPage } from "../src/notebook/page/page.ts";
import { FIRST_JOB, FIRST_PAGE } from "../src/notebook/run/first-job.ts";
import { openJob } from "../src/notebook/run/open-job.ts";
import type { Prelude } from "../src/notebook/run/program.ts";
import { TRANSPILING } from "../src/notebook/run/transpile.ts";

const root = fileURLToPath(new URL("..", import.meta.url));
const BOOT = readFileSync(join(root, "src/notebook/sandbox/boot.js"), "utf8").trim();

const hash = (text: string) => `'sha256-${createHash("sha256").update(text).digest("base64")}'`;

/**
 * The page: no eval, nothing inline but styles (Plot and CodeMirror insert <style>) and the frame's boot
 * script, no foreign host. A srcdoc frame inherits this policy, so the script's hash must be here too.
 */
export const PAGE_POLICY = [
  "default-src 'none'",
  `script-src 'self' ${hash(BOOT)}`,
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "media-src 'self' data: blob:",
  "connect-src 'self'",
  "worker-src 'self' blob:",
  "frame-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
].join("; ");

/** The frame's own, tighter policy. Its worker comes from a blob: address and inherits it. */
const FRAME_POLICY = `default-src 'none'; script-src ${hash(BOOT)}; worker-src blob:; frame-src 'none'; base-uri 'none'; form-action 'none'`;
const FRAME_HTML = `<!doctype html><meta http-equiv="Content-Security-Policy" content="${FRAME_POLICY}"><script>${BOOT}</script>`;

/** Constructors of memory blocks: the library keeps the plain ones, the page gets counted ones. */
const BLOCKS = [
  ...["ArrayBuffer", "Int8Array", "Uint8Array", "Uint8ClampedArray", "Int16Array", "Uint16Array"],
  ...["Int32Array", "Uint32Array", "Float32Array", "Float64Array"],
].join(", ");

/** What the first sheet and pages like it need: the smallest script. */
const FIRST: ReadonlySet<string> = new Set([
  ...["demold", "layer", "withThickness", "simulate", "InputError", "NoConvergence", "words"],
]);

/** Names that bring a parser of texts or expressions with them; whatever else there is needs none. */
const PARSING: ReadonlySet<string> = new Set([
  ...["solve", "readSolveProblem", "proof", "proofCases", "fit", "compileExpression"],
  ...["readJob", "checkJob", "withSetting", "jobSchema", "jobJsonSchema"],
  ...["parseQuantity", "readQuantity", "valueIn", "catalog", "findMaterial", "materialNamed"],
]);

/** Three scripts, so that a page loads no more of the library than it names. */
export type PreludeSize = "first" | "shop" | "full";

function belongs(name: string, size: PreludeSize): boolean {
  if (size === "full") return true;
  return size === "shop" ? !PARSING.has(name) : FIRST.has(name);
}

interface MadePrelude extends Prelude {
  /** Sources, to be watched. */
  readonly files: readonly string[];
}

const made = new Map<PreludeSize, Promise<MadePrelude>>();

/** The library, or a part of it, and the trusted part of a worker as one expression; its value is `start`. */
export function buildPrelude(size: PreludeSize = "full"): Promise<MadePrelude> {
  const before = made.get(size);
  if (before !== undefined) return before;
  const making = makePrelude(size);
  made.set(size, making);
  return making;
}

let libraryNames: Promise<string[]> | undefined;

function namesOfLibrary(): Promise<string[]> {
  libraryNames ??= bundled(join(root, "lib/index.ts"), "es").then(({ exports }) =>
    exports.filter((name) => name !== "default").sort(),
  );
  return libraryNames;
}

/** What a working writes that uses one of the words beside the first sheet's, as a pattern: `words\.timer`. */
export function furtherWordNames(): string[] {
  const source = readFileSync(join(root, "src/notebook/sandbox/further-words.ts"), "utf8");
  const [, body = ""] = source.split("export const furtherWords = {");
  return [...body.matchAll(/^ {2}(\w+)[:,]/gm)].map(([, name]) => `words\\.${name}`);
}

async function makePrelude(size: PreludeSize): Promise<MadePrelude> {
  const index = join(root, "lib/index.ts");
  const names = (await namesOfLibrary()).filter((name) => belongs(name, size));
  const furtherWords = JSON.stringify(join(root, "src/notebook/sandbox/further-words.ts"));
  const more =
    size === "first"
      ? "export const furtherWords = {};"
      : `export { furtherWords } from ${furtherWords};`;
  const library = `export { ${names.join(", ")} } from ${JSON.stringify(index)};\n${more}`;
  const script = await bundled(join(root, "src/notebook/sandbox/prelude.ts"), "iife", library);
  const prelude = `((${BLOCKS}) => { ${script.code.trim()}\nreturn castclock.start; })(${BLOCKS})`;
  const version = createHash("sha256").update(prelude).digest("hex").slice(0, 16);
  return { prelude, names: [...names, "words"], version, files: script.files };
}

async function bundled(entry: string, format: "iife" | "es", library = "") {
  const result = await build({
    root,
    configFile: false,
    publicDir: false,
    logLevel: "error",
    plugins: [textModule("virtual:library", () => library)],
    build: {
      write: false,
      target: "es2022",
      minify: true,
      lib: { entry, formats: [format], name: "castclock", fileName: "script" },
    },
  });
  const [first] = Array.isArray(result) ? result : [result];
  const chunk = first && "output" in first ? first.output[0] : undefined;
  if (chunk?.type !== "chunk") throw new Error(`no script came of ${entry}`);
  return { code: chunk.code, exports: chunk.exports, files: chunk.moduleIds };
}

/** A module that exists only while building. */
function textModule(
  id: string,
  text: (watch: (file: string) => void) => string | Promise<string>,
): Plugin {
  return {
    name: `castclock-${id.replace("virtual:", "")}`,
    resolveId: (source) => (source === id ? `\0${id}` : undefined),
    async load(source) {
      if (source === `\0${id}`) return await text((file) => this.addWatchFile(file));
    },
  };
}

function constants(values: object): string {
  return Object.entries(values)
    .map(([name, value]) => `export const ${name} = ${JSON.stringify(value)};`)
    .join("\n");
}

/**
 * `virtual:sandbox`: the frame's document, the smallest prelude, and which names need a larger one;
 * `virtual:sandbox-shop` and `virtual:sandbox-full`: those.
 */
export function sandbox(): Plugin[] {
  const prelude = async (size: PreludeSize, watch: (file: string) => void) => {
    made.delete(size);
    libraryNames = undefined;
    const { files, ...rest } = await buildPrelude(size);
    for (const file of files) if (!file.startsWith("\0")) watch(file);
    return rest;
  };
  return [
    textModule("virtual:sandbox", async (watch) => {
      const all = await namesOfLibrary();
      const shopNames = [
        ...all.filter((n) => belongs(n, "shop") && !belongs(n, "first")),
        ...furtherWordNames(),
      ];
      const fullNames = all.filter((n) => !belongs(n, "shop"));
      return constants({
        frameHtml: FRAME_HTML,
        shopNames,
        fullNames,
        ...(await prelude("first", watch)),
      });
    }),
    textModule("virtual:sandbox-shop", async (watch) => constants(await prelude("shop", watch))),
    textModule("virtual:sandbox-full", async (watch) => constants(await prelude("full", watch))),
  ];
}

function texts(folder: string, ending: RegExp): { name: string; text: string; file: string }[] {
  return readdirSync(join(root, folder))
    .filter((file) => ending.test(file))
    .sort()
    .map((file) => ({
      name: basename(file).replace(ending, ""),
      text: readFileSync(join(root, folder, file), "utf8"),
      file: join(root, folder, file),
    }));
}

/** Workings as JavaScript: for these no compiler is loaded. */
function transpiledOf(pages: readonly { text: string }[]): Record<string, string> {
  const bodies = pages.flatMap(({ text }) => readPage(text).workings.map(({ body }) => body));
  return Object.fromEntries(bodies.map((body) => [body, transform(body, TRANSPILING).code]));
}

/**
 * The first page and all jobs as text; that page's workings as JavaScript, and the job that a new reader starts from
 * as it was read: the first answer then waits for no compiler and no checker. `virtual:pages`, `virtual:workings`: the
 * texts and the workings of the other pages.
 */
export function notebooks(): Plugin[] {
  const plain = (all: { name: string; text: string }[]) =>
    all.map(({ name, text }) => ({ name, text }));
  const pages = () => texts("notebooks", /\.md$/);
  const isFirst = ({ name }: { name: string }) => name === FIRST_PAGE;
  return [
    textModule("virtual:notebooks", (watch) => {
      const jobs = texts("data/jobs", /\.ya?ml$/);
      for (const { file } of [...pages(), ...jobs]) watch(file);
      const first = jobs.find(({ name }) => name === FIRST_JOB)?.text;
      const jobReadings = first === undefined ? [] : [{ text: first, read: openJob(first) }];
      return constants({
        firstPages: plain(pages().filter(isFirst)),
        shippedJobs: plain(jobs),
        transpiled: transpiledOf(pages().filter(isFirst)),
        jobReadings,
      });
    }),
    textModule("virtual:pages", (watch) => {
      for (const { file } of pages()) watch(file);
      return constants({ otherPages: plain(pages().filter((p) => !isFirst(p))) });
    }),
    textModule("virtual:workings", (watch) => {
      for (const { file } of pages()) watch(file);
      return constants({ transpiled: transpiledOf(pages().filter((p) => !isFirst(p))) });
    }),
  ];
}

/** The page's policy as <meta> in every built document: works on any static host. Not in development, where updates are inline. */
export function pagePolicy(): Plugin {
  return {
    name: "castclock-policy",
    apply: "build",
    transformIndexHtml: () => [
      {
        tag: "meta",
        attrs: { "http-equiv": "Content-Security-Policy", content: PAGE_POLICY },
        injectTo: "head-prepend",
      },
    ],
  };
}

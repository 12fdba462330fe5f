// What the site and the command need besides plain bundling: policies, the sandboxed frame with the library as
// one script, the shipped pages and jobs, and the service worker.
import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { transform } from "sucrase";
import { build, type Plugin } from "vite";
import { readPage } from "../src/notebook/page.ts";
import type { Prelude } from "../src/notebook/program.ts";
import { TRANSPILING } from "../src/notebook/transpile.ts";

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

/**
 * Names that bring a parser of texts or expressions with them. A page that uses none of them runs on a script
 * a third the size.
 */
export const HEAVY: ReadonlySet<string> = new Set([
  ...["solve", "readSolveProblem", "proof", "fit", "compileExpression"],
  ...["readJob", "checkJob", "withSetting", "jobSchema", "jobJsonSchema", "loadEveryUnit"],
  ...["parseQuantity", "readQuantity", "valueIn", "catalog", "findMaterial", "materialNamed"],
]);

interface MadePrelude extends Prelude {
  /** Sources, to be watched. */
  readonly files: readonly string[];
}

const made = new Map<"light" | "full", Promise<MadePrelude>>();

/**
 * The library and the trusted part of a worker as one expression; its value is `start`. `light` leaves out the
 * heavy names.
 */
export function buildPrelude(weight: "light" | "full" = "full"): Promise<MadePrelude> {
  const before = made.get(weight);
  if (before !== undefined) return before;
  const making = makePrelude(weight);
  made.set(weight, making);
  return making;
}

async function makePrelude(weight: "light" | "full"): Promise<MadePrelude> {
  const index = join(root, "lib/index.ts");
  const all = (await bundled(index, "es")).exports.filter((name) => name !== "default").sort();
  const names = weight === "full" ? all : all.filter((name) => !HEAVY.has(name));
  const library = `export { ${names.join(", ")} } from ${JSON.stringify(index)};`;
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
 * `virtual:sandbox`: the frame's document and the light prelude; `virtual:sandbox-full`: the whole library, for
 * pages that name one of `heavyNames`.
 */
export function sandbox(): Plugin[] {
  const prelude = async (weight: "light" | "full", watch: (file: string) => void) => {
    made.delete(weight);
    const { files, ...rest } = await buildPrelude(weight);
    for (const file of files) if (!file.startsWith("\0")) watch(file);
    return rest;
  };
  return [
    textModule("virtual:sandbox", async (watch) =>
      constants({
        frameHtml: FRAME_HTML,
        heavyNames: [...HEAVY],
        ...(await prelude("light", watch)),
      }),
    ),
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

/** Shipped pages and jobs as text, and the pages' workings as JavaScript so that no compiler is loaded for them. */
export function notebooks(): Plugin {
  return textModule("virtual:notebooks", (watch) => {
    const pages = texts("notebooks", /\.md$/);
    const jobs = texts("data/jobs", /\.ya?ml$/);
    for (const { file } of [...pages, ...jobs]) watch(file);
    const transpiled: Record<string, string> = {};
    for (const { body } of pages.flatMap(({ text }) => readPage(text).workings)) {
      transpiled[body] = transform(body, TRANSPILING).code;
    }
    const plain = (all: { name: string; text: string }[]) =>
      all.map(({ name, text }) => ({ name, text }));
    return constants({ shippedPages: plain(pages), shippedJobs: plain(jobs), transpiled });
  });
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

/** What a host should send as headers; `vite preview` does. */
export function previewHeaders(): Plugin {
  return {
    name: "castclock-headers",
    configurePreviewServer(server) {
      server.middlewares.use((_request, response, next) => {
        response.setHeader("Content-Security-Policy", PAGE_POLICY);
        response.setHeader("X-Content-Type-Options", "nosniff");
        response.setHeader("Referrer-Policy", "no-referrer");
        response.setHeader("Cache-Control", "no-cache");
        next();
      });
    },
  };
}

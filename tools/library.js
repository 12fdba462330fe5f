// Builds the library for those who install it (dist/lib): a JavaScript file and its types for each source, doorways to the
// rooms, and one file for what it takes of mathjs.
import { spawnSync } from "node:child_process";
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import { execPath } from "node:process";
import { fileURLToPath } from "node:url";
import ts from "typescript";

const root = fileURLToPath(new URL("..", import.meta.url));
const out = join(root, "dist/lib");
const TYPES = join(root, "dist/types/lib/lib");

/** Rooms with a doorway of their own: `castclock/heat` loads the engine and nothing above it. */
export const DOORWAYS = [
  ...["units", "materials", "shape", "formulas", "heat", "cure", "job", "solve", "models", "proof"],
  "questions",
];

function filesIn(folder, ending) {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith(ending))
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)));
}

function write(path, text) {
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, text);
}

/** `mathjs` is thousands of files, a second and more to load one by one: what is used of it is one file of ours. */
async function writeMath() {
  const { build } = await import("vite");
  const source = `export { create, parseDependencies } from "mathjs";`;
  await build({
    root,
    configFile: false,
    publicDir: false,
    logLevel: "error",
    plugins: [
      {
        name: "castclock-math",
        resolveId: (id) => (id === "math-used" ? "\0math-used" : undefined),
        load: (id) => (id === "\0math-used" ? source : undefined),
      },
    ],
    build: {
      ssr: true,
      outDir: join(out, "vendor"),
      emptyOutDir: true,
      minify: "oxc",
      license: { fileName: "math-licenses.md" },
      rolldownOptions: { input: { math: "math-used" }, output: { entryFileNames: "[name].js" } },
    },
    ssr: { noExternal: true, target: "node" },
  });
}

/** Data as a module: JSON modules are an experiment in Node 20, and say so on every start. */
function writeData() {
  const folder = join(root, "data");
  for (const file of filesIn(folder, ".json"))
    write(
      join(out, "data", file.replace(/\.json$/, ".js")),
      `export default ${readFileSync(join(folder, file), "utf8").trim()};\n`,
    );
}

function writeSources() {
  const folder = join(root, "lib");
  for (const file of filesIn(folder, ".ts")) {
    const depth = file.split("/").length - 1;
    const toTop = depth === 0 ? "./" : "../".repeat(depth);
    const { outputText } = ts.transpileModule(readFileSync(join(folder, file), "utf8"), {
      fileName: file,
      compilerOptions: {
        target: ts.ScriptTarget.ES2023,
        module: ts.ModuleKind.ESNext,
        verbatimModuleSyntax: true,
        rewriteRelativeImportExtensions: true,
      },
    });
    const text = outputText
      .replaceAll(
        /from "(?:\.\.\/)+(data\/[^"]+)\.json" with \{ type: "json" \}/g,
        (_, path) => `from "${toTop}${path}.js"`,
      )
      .replaceAll(/(from |import\()"mathjs"/g, (_, word) => `${word}"${toTop}vendor/math.js"`);
    write(join(out, file.replace(/\.ts$/, ".js")), text);
  }
}

/** Types as the compiler wrote them, less the endings that only the sources have. */
function writeTypes() {
  for (const file of filesIn(TYPES, ".d.ts"))
    write(
      join(out, file),
      readFileSync(join(TYPES, file), "utf8").replaceAll(
        /((?:from |import\()"\.[^"]*)\.ts"/g,
        '$1.js"',
      ),
    );
}

/** Each room's lines of the whole API, as a module. */
function writeDoorways() {
  for (const ending of [".js", ".d.ts"]) {
    const index = readFileSync(join(out, `index${ending}`), "utf8");
    const lines = [...index.matchAll(/^export (?:type )?\{[^}]*\} from "\.\/(\w+)\/[^"]*";$/gm)];
    for (const room of DOORWAYS) {
      const own = lines.filter(([, from]) => from === room).map(([line]) => line);
      write(join(out, `${room}${ending}`), `${own.join("\n")}\n`);
    }
  }
}

export async function buildLibrary() {
  const { status, stdout } = spawnSync(
    execPath,
    [join(root, "node_modules/typescript/bin/tsc"), "-b", "lib"],
    { cwd: root, encoding: "utf8" },
  );
  if (status !== 0) throw new Error(`the library does not compile:\n${stdout}`);
  rmSync(out, { recursive: true, force: true });
  await writeMath();
  writeData();
  writeSources();
  writeTypes();
  writeDoorways();
}

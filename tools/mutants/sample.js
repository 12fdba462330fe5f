/**
 * The mutation score of a random sample, in minutes: `node tools/mutants/sample.js --sample 400 --seed 7 [--tests REGEX]`.
 *
 * Mutants are made and placed by the tool of `npm run mutate`; only the drawn ones are placed, so that code runs about as fast as
 * it is, and all tests stay loaded in one process, where each mutant in turn is switched on and meets the tests that reach it, the
 * quickest first. A mutant of code that runs at import alone is left out, as the tool's `ignoreStatic` does. Tests that the
 * `--budget` of seconds leaves untried are said, and their mutants count as survivors: the score is never too high.
 */
import { spawn } from "node:child_process";
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { parseArgs } from "node:util";

const root = fileURLToPath(new URL("../..", import.meta.url));
const FOLDERS = ["lib/heat", "lib/cure", "lib/models"];
const OPTIONS = { excludedMutations: [], ignorers: [], plugins: null, noHeader: true };
/** Without a word from the tests for so long, s, and this many times what the test under way takes, a mutant has made them endless. */
const SILENCE = 20;
const TIMES_AS_LONG = 20;

const { values } = parseArgs({
  options: {
    sample: { type: "string", default: "400" },
    seed: { type: "string", default: "1" },
    tests: { type: "string", default: "." },
    budget: { type: "string", default: "60" },
    only: { type: "string" },
    /** All mutants of the files whose names end so, in place of a sample: with the tests of the file alone a minute or two. */
    files: { type: "string" },
    /** Goes on where the same sample was stopped; no test may have changed since. */
    resume: { type: "boolean", default: false },
    out: { type: "string", default: join(root, ".stryker/sample") },
  },
});

/** The tool's switches as reads of an array: its own cost inner loops several times what they do. */
const HEADER = "const { mutantHits: $hits, mutantOn: $on, mutantMet: $met } = globalThis;";
const quickly = (code) =>
  HEADER +
  code.replace(/stryMutAct_9fa48\("(\d+)"\)/g, "($on[$1] === 1 && $met())").replace(
    /stryCov_9fa48\(("\d+"(?:, "\d+")*)\)/g,
    (_, ids) =>
      `(${ids
        .replaceAll('"', "")
        .split(", ")
        .map((id) => `$hits[${id}]++`)
        .join(", ")})`,
  );

const files = FOLDERS.flatMap((folder) =>
  readdirSync(join(root, folder), { recursive: true })
    .filter((name) => String(name).endsWith(".ts"))
    .map((name) => `${folder}/${name}`)
    .sort(),
).map((name) => ({ name, mutate: true, content: readFileSync(join(root, name), "utf8") }));

/** Instruments all files; of the mutants those that are chosen are placed. Both calls number them alike. */
async function instrumented(chosen) {
  const tool = createRequire(createRequire(import.meta.url).resolve("@stryker-mutator/core"));
  const { Instrumenter, createInstrumenter } = await import(
    pathToFileURL(tool.resolve("@stryker-mutator/instrumenter")).href
  );
  const { createInjector } = await import(pathToFileURL(tool.resolve("typed-inject")).href);
  const quiet = () => {};
  const logger = {
    debug: quiet,
    info: quiet,
    warn: quiet,
    error: quiet,
    isDebugEnabled: () => false,
  };
  const made = createInjector().provideValue("logger", logger).injectFunction(createInstrumenter);
  if (!(made instanceof Instrumenter))
    throw new Error("not the instrumenter that this was written for");
  const place = made._transform;
  made._transform = (ast, collector, context) => {
    if (!Object.hasOwn(collector, "collect")) {
      const collect = collector.collect.bind(collector);
      collector.collect = (file, node, mutable, offset) => {
        const skipped =
          mutable.ignoreReason ?? (chosen(collector.mutants.length) ? undefined : "not drawn");
        return collect(file, node, { ...mutable, ignoreReason: skipped }, offset);
      };
    }
    place(ast, collector, context);
  };
  return made.instrument(files, OPTIONS);
}

/** Even numbers in [0, 1) from a seed. */
function randomFrom(seed) {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** The interval that holds the score of all mutants in 80 of 100 samples. @source Wilson, J. Am. Stat. Assoc. 22 (1927) 209 */
function interval(hits, n) {
  const z = 1.2816;
  const p = hits / n;
  const middle = (p + (z * z) / (2 * n)) / (1 + (z * z) / n);
  const half = (z / (1 + (z * z) / n)) * Math.sqrt((p * (1 - p)) / n + (z * z) / (4 * n * n));
  return [middle - half, middle + half];
}

const percent = (share) => `${(100 * share).toFixed(1)} %`;
const at = ({ fileName, location }) =>
  `${fileName}:${location.start.line + 1}:${location.start.column + 1}`;

/** Runs the tests until all drawn mutants have a verdict; a process that hangs is ended, its mutant counts as noticed. */
async function run(work) {
  let before = "";
  for (;;) {
    const child = spawn(
      process.execPath,
      [
        join(root, "node_modules/vitest/vitest.mjs"),
        "run",
        "--config",
        join(root, "tools/mutants/vitest.config.ts"),
      ],
      {
        cwd: root,
        env: { ...process.env, MUTANTS: work },
        stdio: ["ignore", "pipe", "pipe"],
        detached: true,
      },
    );
    let said = "";
    for (const stream of [child.stdout, child.stderr])
      stream.on("data", (data) => {
        said += data;
      });
    const ended = new Promise((done) => child.on("exit", done));
    const watch = setInterval(() => {
      const now = join(work, "now.json");
      if (!existsSync(now)) return;
      const { mutant, test, usual } = JSON.parse(readFileSync(now, "utf8") || "{}");
      if (mutant === undefined) return;
      const silent = (Date.now() - statSync(now).mtimeMs) / 1000;
      if (silent < SILENCE + TIMES_AS_LONG * usual) return;
      writeFileSync(
        join(work, `verdict-${mutant}.json`),
        JSON.stringify({ mutant, status: "timeout", by: test }),
      );
      // with the worker that it has started
      process.kill(-child.pid, "SIGKILL");
    }, 2000);
    await ended;
    clearInterval(watch);
    rmSync(join(work, "now.json"), { force: true });
    if (existsSync(join(work, "done"))) return;
    const known = readdirSync(work)
      .filter((name) => /^verdict-/.test(name))
      .map((name) => readFileSync(join(work, name), "utf8"))
      .join();
    if (known === before)
      throw new Error(`the tests ended without a verdict:\n${said.slice(-3000)}`);
    before = known;
  }
}

function report(mutants, drawn, work) {
  const verdicts = drawn.map((id) =>
    JSON.parse(readFileSync(join(work, `verdict-${id}.json`), "utf8")),
  );
  const counted = verdicts.filter(({ status }) => status !== "static");
  const noticed = counted.filter(({ status }) => status === "killed" || status === "timeout");
  for (const { mutant, status, tried, reaching } of counted)
    if (status === "survived" || status === "unreached")
      console.log(
        `${at(mutants[mutant])} ${mutants[mutant].mutatorName} (${mutant}) ${status}, ${tried ?? 0} of ${reaching ?? 0} tests\n    -> ${mutants[mutant].replacement.replaceAll("\n", " ").slice(0, 110)}`,
      );
  const [low, high] = interval(noticed.length, counted.length);
  console.log(
    `${mutants.length} mutants in all; drawn ${drawn.length}, of them at import alone ${drawn.length - counted.length};\n` +
      `noticed ${noticed.length} of ${counted.length}: ${percent(noticed.length / counted.length)} (80 %: ${percent(low)} to ${percent(high)})`,
  );
}

const { mutants } = await instrumented(() => false);
const random = randomFrom(Number(values.seed));
const order = mutants
  .map(({ id }) => ({ id: Number(id), place: random() }))
  .sort((a, b) => a.place - b.place);
const inFiles = (ends) =>
  mutants
    .filter(({ fileName }) => ends.split(",").some((end) => fileName.endsWith(end)))
    .map(({ id }) => Number(id));
const drawn = values.only
  ? values.only.split(",").map(Number)
  : values.files
    ? inFiles(values.files)
    : order.slice(0, Number(values.sample)).map(({ id }) => id);
if (drawn.length === 0) throw new Error("no mutant of that name");
const chosen = new Set(drawn);
const placed = await instrumented((id) => chosen.has(id));
const work = `${values.out}-${values.only ? "only" : values.files ? "files" : values.seed}`;
if (!values.resume) rmSync(work, { recursive: true, force: true });
mkdirSync(work, { recursive: true });
for (const { name, content } of placed.files) {
  const file = join(work, "code", name);
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, quickly(content));
}
writeFileSync(
  join(work, "plan.json"),
  JSON.stringify({
    drawn,
    files: drawn.map((id) => mutants[id].fileName),
    tests: values.tests,
    budget: Number(values.budget),
  }),
);
await run(work);
report(mutants, drawn, work);

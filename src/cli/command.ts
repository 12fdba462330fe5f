/** One run of the command: words in, text out, an exit code. */
import { parseArgs } from "node:util";
import type { Answer } from "../../lib/answers/answer.ts";
import { checkJob, withSetting } from "../../lib/job/job.ts";
import { jobJsonSchema } from "../../lib/job/schema.ts";
import { parseJobText } from "../../lib/job/text.ts";
import type { Job } from "../../lib/job/types.ts";
import { proof } from "../../lib/proof/proof.ts";
import { solve } from "../../lib/solve/solve.ts";
import type { UnitSystem } from "../../lib/units/display.ts";
import { nearest } from "../../lib/units/nearest.ts";
import { InputError, NoConvergence, type Problem } from "../../lib/units/problem.ts";
import { problemLine } from "../messages/problems.ts";
import { readLog } from "../notebook/files/log-file.ts";
import { readBenchLog } from "./bench-log.ts";
import { requireFolder, textOf, type World } from "./files.ts";
import { helpText, questionHelp } from "./help.ts";
import { jsonOf, jsonText } from "./json.ts";
import { materialsText } from "./materials.ts";
import { proofText } from "./proof.ts";
import { fitQuestion } from "./questions/fit.ts";
import { planQuestion } from "./questions/plan.ts";
import { shapeQuestion } from "./questions/shape.ts";
import { forgetful, type Question, questions } from "./questions.ts";
import { reportText } from "./report.ts";
import { shapeGiven, writeJob } from "./shape-file.ts";
import { VERSION } from "./version.ts";
import { wholeJobText } from "./whole-job.ts";
import { writeFitted } from "./write-fitted.ts";

const OPTIONS = {
  json: { type: "boolean" },
  set: { type: "string", multiple: true },
  svg: { type: "string" },
  problem: { type: "string" },
  units: { type: "string" },
  quick: { type: "boolean" },
  write: { type: "string" },
  help: { type: "boolean", short: "h" },
  version: { type: "boolean" },
} as const;

interface Words {
  readonly command: string;
  readonly rest: readonly string[];
  readonly json: boolean;
  readonly set: readonly string[];
  readonly svg: string | undefined;
  /** Folder for the bare problems. */
  readonly problem: string | undefined;
  readonly units: UnitSystem | undefined;
  readonly quick: boolean;
  readonly write: string | undefined;
}

const COMMANDS = ["job", "schema", "materials", "solve", "proof", "page", "fit"] as const;

/** Options that a command has a use for, where that is not all of them. An option without effect is refused: it was meant. */
const TAKEN: ReadonlyMap<string, readonly (keyof typeof OPTIONS)[]> = new Map([
  ["schema", []],
  ["materials", []],
  ["job", ["set"]],
  ["solve", ["json"]],
  ["proof", ["json"]],
]);

/** Wrong use of the command itself: not a file's problem, but answered like one. */
class Misuse extends Error {}

/** Runs the command. @returns exit code: 0 answered, 2 bad input with nothing on `print`, 1 a fault of ours */
export async function runCommand(words: readonly string[], world: World): Promise<0 | 1 | 2> {
  let files: readonly string[] = [];
  try {
    const { values, positionals } = parsedWords(words);
    files = positionals.slice(1);
    if (values.version) {
      world.print(`castclock ${VERSION}\n`);
      return 0;
    }
    const [command, ...rest] = positionals;
    if (values.help || command === undefined || command === "help") {
      if (command === undefined && !values.help) {
        world.complain(helpText(VERSION));
        return 2;
      }
      const question = questions.find(
        ({ name }) => name === (command === "help" ? rest[0] : command),
      );
      world.print(question ? questionHelp(question) : helpText(VERSION));
      return 0;
    }
    refuseIdle(command, Object.keys(values));
    return await answer(
      {
        command,
        rest,
        json: values.json ?? false,
        set: values.set ?? [],
        svg: values.svg,
        problem: values.problem,
        units: systemNamed(values.units),
        quick: values.quick ?? false,
        write: values.write,
      },
      world,
    );
  } catch (error) {
    return failed(error, world, files);
  }
}

function refuseIdle(command: string, given: readonly string[]): void {
  if (given.includes("write") && command !== "shape" && command !== "fit")
    throw new Misuse(
      `castclock ${command} has no use for --write; castclock shape and castclock fit have.`,
    );
  if (given.includes("problem") && command === "page")
    throw new Misuse("castclock page has no use for --problem; the questions have.");
  const taken: readonly string[] | undefined = TAKEN.get(command);
  const idle = given.filter((name) => taken?.includes(name) === false);
  if (taken === undefined || idle.length === 0) return;
  const named = (names: readonly string[]) => names.map((name) => `--${name}`).join(", ");
  const possible = taken.length === 0 ? "it takes no option" : `possible: ${named(taken)}`;
  throw new Misuse(`castclock ${command} has no use for ${named(idle)}; ${possible}.`);
}

function parsedWords(words: readonly string[]) {
  try {
    return parseArgs({ args: [...words], options: OPTIONS, allowPositionals: true, strict: true });
  } catch (error) {
    throw new Misuse(misuseOf(error));
  }
}

/** Node's own complaint about the options, in our words. */
function misuseOf(error: unknown): string {
  const message = error instanceof Error ? error.message : String(error);
  const option = /--?[\w-]+/.exec(message)?.[0] ?? "";
  const code = error instanceof Error && "code" in error ? error.code : undefined;
  const names = Object.keys(OPTIONS);
  if (code === "ERR_PARSE_ARGS_UNKNOWN_OPTION") {
    const close = nearest(option.replace(/^-+/, ""), names);
    const meant = close === undefined ? "" : ` Did you mean --${close}?`;
    return `There is no option "${option}".${meant} Possible: ${names.map((n) => `--${n}`).join(", ")}.`;
  }
  if (/argument (is )?(missing|ambiguous)/.test(message)) {
    const like = {
      "--set": 'bait.thickness="18 mm"',
      "--svg": "pictures",
      "--problem": "problems",
      "--units": "us",
      "--write": "job.yaml",
    }[option];
    return `${option} needs a value${like === undefined ? "" : `, such as ${option} ${like}`}.`;
  }
  if (/does not take an argument/.test(message)) return `${option} takes no value.`;
  return message.split(". ")[0] ?? message;
}

function systemNamed(word: string | undefined): UnitSystem | undefined {
  if (word === undefined) return undefined;
  if (word === "metric") return "metric";
  if (word === "us") return "shop-us";
  throw new Misuse(`--units is metric or us, not "${word}".`);
}

function failed(error: unknown, world: World, files: readonly string[]): 1 | 2 {
  if (error instanceof Misuse) {
    world.complain(`${error.message}\ncastclock --help shows what is possible.\n`);
    return 2;
  }
  if (error instanceof InputError) {
    world.complain(problemsText(error.problems, files));
    return 2;
  }
  if (error instanceof NoConvergence) {
    world.complain(
      `The computation did not settle: ${error.message}.\nPlease report this with the file.\n`,
    );
    return 1;
  }
  world.complain(
    `A fault of castclock: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`,
  );
  return 1;
}

function problemsText(problems: readonly Problem[], files: readonly string[]): string {
  const many = problems.length === 1 ? "1 problem" : `${problems.length} problems`;
  // the file itself stands in front of what is said about it as a whole
  const named = problems.some(({ path }) => files.includes(path));
  const head = named || files.length === 0 ? many : `${many} in ${files.join(" or ")}`;
  const shown = problems.slice(0, 50).map((problem) => `  ${problemLine(problem)}`);
  if (problems.length > 50) shown.push(`  and ${problems.length - 50} more`);
  return `${head}; nothing was computed.\n${shown.join("\n")}\n`;
}

async function answer(words: Words, world: World): Promise<0 | 1 | 2> {
  const { command, rest } = words;
  switch (command) {
    case "schema": {
      if (rest.length !== 1 || rest[0] !== "job")
        throw new Misuse("There is one schema, that of a job: castclock schema job");
      world.print(jsonText(jobJsonSchema()));
      return 0;
    }
    case "materials":
      world.print(materialsText());
      return 0;
    case "job": {
      const text = textOf(world, onlyFile(words, "JOB.yaml"));
      const raw = rawJobFrom(text, words.set);
      checkJob(raw);
      world.print(wholeJobText(raw));
      return 0;
    }
    case "solve":
      return solveFile(onlyFile(words, "PROBLEM.json"), world);
    case "proof": {
      const found = proof({
        ...(words.rest.length > 0 && { only: words.rest }),
        progress: (done, all, id) => world.follow(`case ${done + 1} of ${all}: ${id}`),
      });
      world.follow("");
      if (found.answer.cases.length === 0)
        throw new Misuse(`There is no case like "${words.rest.join(" ")}".`);
      world.print(words.json ? jsonText(found) : proofText(found));
      return found.answer.failed === 0 ? 0 : 1;
    }
    case "page":
      return runPage(words, world);
    case "fit": {
      const [jobPath, logPath, ...more] = rest;
      if (jobPath === undefined || logPath === undefined || more.length > 0)
        throw new Misuse("castclock fit JOB.yaml LOG.csv");
      const log = readLog(textOf(world, logPath));
      const { text, raw } = givenJob(jobPath, words, world);
      // what an earlier log has taught is put aside: this one speaks for itself
      const { fitted: _, ...plain } = raw;
      const given = { text, raw: plain };
      const question = fitQuestion(log);
      const code = await ask(forgetful(question), given, words, world);
      if (words.write !== undefined) writeFitted(words.write, question.found(), given, world);
      return code;
    }
    case "shape":
      return askShape(words, world);
    case "plan":
      return askPlan(words, world);
    default:
      return askQuestion(words, world);
  }
}

function onlyFile({ command, rest }: Words, name: string): string {
  const [path, ...more] = rest;
  if (path === undefined)
    throw new Misuse(`castclock ${command} needs a file: castclock ${command} ${name}`);
  if (more.length > 0)
    throw new Misuse(`castclock ${command} takes one file, not also "${more.join(" ")}".`);
  return path;
}

function solveFile(path: string, world: World): 0 {
  const text = textOf(world, path);
  let problem: unknown;
  try {
    problem = JSON.parse(text);
  } catch (error) {
    const given = error instanceof Error ? error.message.slice(0, 120) : "";
    throw new InputError([{ code: "not_json", path, given }]);
  }
  const start = world.now();
  const { effort, snapshots: _, ...solved } = solve(problem);
  const milliseconds = world.now() - start;
  world.print(jsonText({ ...solved, effort: { ...effort, milliseconds } }));
  return 0;
}

async function runPage(words: Words, world: World): Promise<0 | 2> {
  const [path, jobPath, ...more] = words.rest;
  if (path === undefined || more.length > 0) throw new Misuse("castclock page FILE.md [JOB.yaml]");
  const text = textOf(world, path);
  const jobText = jobPath === undefined ? undefined : textOf(world, jobPath);
  const dials: Record<string, string> = {};
  for (const setting of words.set) {
    const { path: name, typed } = settingOf(setting);
    dials[name] = typed;
  }
  if (words.svg !== undefined) requireFolder(world, words.svg);
  const { answerPage } = await import("./page.ts");
  const shown = await answerPage({
    text,
    dials,
    quick: words.quick,
    system: words.units ?? systemOf(jobText ?? text),
    ...(jobText !== undefined && { jobText }),
  });
  if (!shown.ok) {
    world.complain(shown.text);
    return 2;
  }
  if (words.svg !== undefined)
    for (const file of shown.files) world.save(words.svg, file.name, file.text);
  world.print(words.json ? jsonText(shown.json) : shown.text);
  return 0;
}

function settingOf(setting: string): { path: string; typed: string } {
  const at = setting.indexOf("=");
  if (at < 1)
    throw new Misuse(
      `--set needs path=value, such as --set bait.thickness="18 mm", not "${setting}".`,
    );
  return { path: setting.slice(0, at).trim(), typed: setting.slice(at + 1).trim() };
}

/** A job file as plain data, with the values of `--set` in their places. */
function rawJobFrom(text: string, settings: readonly string[]): Record<string, unknown> {
  let raw = parseJobText(text);
  for (const setting of settings) {
    const { path, typed } = settingOf(setting);
    raw = withSetting(raw, path, typed);
  }
  return raw;
}

/** The unit system in which most of the job is written. */
function systemOf(text: string): UnitSystem {
  const count = (pattern: RegExp) => text.match(pattern)?.length ?? 0;
  const us = count(/\d\s*(?:in\b|"|deg ?F|°\s?F|F\b|oz|lb|fl oz)/g);
  const metric = count(/\d\s*(?:mm|cm|deg ?C|°\s?C|C\b|g\b|kg|ml)/g);
  return us > metric ? "shop-us" : "metric";
}

async function askQuestion(words: Words, world: World): Promise<0> {
  const { command } = words;
  const question = questions.find(({ name }) => name === command);
  if (!question) {
    const names = [...questions.map(({ name }) => name), ...COMMANDS];
    const close = nearest(command, names);
    throw new Misuse(
      `There is no question "${command}".${close === undefined ? "" : ` Did you mean ${close}?`} Possible: ${names.join(", ")}.`,
    );
  }
  return ask(question, givenJob(onlyFile(words, "JOB.yaml"), words, world), words, world);
}

/** The bait of a job file, a drawing or a mesh; `--write` puts it into a job. */
async function askShape(words: Words, world: World): Promise<0> {
  const given = shapeGiven(onlyFile(words, "FILE"), words.set.map(settingOf), words.write, world);
  const code = await ask(forgetful(shapeQuestion(given.options)), given, words, world);
  if (words.write !== undefined) writeJob(words.write, given, world);
  return code;
}

/** The evening of a job, from a log of its shots on where there is one. */
async function askPlan(words: Words, world: World): Promise<0> {
  const [jobPath, logPath, ...more] = words.rest;
  if (jobPath === undefined || more.length > 0)
    throw new Misuse("castclock plan JOB.yaml [SHOTS.csv]");
  const log = logPath === undefined ? [] : readBenchLog(textOf(world, logPath));
  return ask(forgetful(planQuestion({ log })), givenJob(jobPath, words, world), words, world);
}

/** A job as it was typed, and as data. */
interface GivenJob {
  readonly text: string;
  readonly raw: Record<string, unknown>;
}

function givenJob(path: string, words: Words, world: World): GivenJob {
  const text = textOf(world, path);
  return { text, raw: rawJobFrom(text, words.set) };
}

async function ask(
  question: Question,
  { text, raw }: GivenJob,
  words: Words,
  world: World,
): Promise<0> {
  const { json, quick } = words;
  const { job, defaults: all } = checkJob(raw);
  const reads = typeof question.reads === "function" ? question.reads(job) : question.reads;
  const defaults = all.filter((path) =>
    reads.some(
      (part) => path === part || path.startsWith(`${part}.`) || path.startsWith(`${part}[`),
    ),
  );
  if (words.svg !== undefined) requireFolder(world, words.svg);
  checkProblems(question, words, world);
  const start = world.now();
  const system = words.units ?? systemOf(text);
  // what a person reads goes by the marks of their rule; data stay as they are
  const found = question.run(job, { quick, inches: !json && system === "shop-us" });
  const effort = { ...found.effort, milliseconds: world.now() - start };
  saveProblems(question, found, job, words, world);
  if (words.svg !== undefined) {
    const { svgFiles } = await import("./svg.ts");
    const drawings = question.drawings?.(found, job) ?? [];
    const files = question.files?.(found, job, system) ?? [];
    for (const file of [...svgFiles(drawings, system), ...files])
      world.save(words.svg, file.name, file.text);
  }
  if (json) {
    const { cautions, ignored } = found;
    const content = jsonOf(found.answer, question.kinds);
    world.print(
      jsonText({
        question: question.name,
        job: job.name,
        defaults,
        answer: content,
        cautions,
        ignored,
        effort,
      }),
    );
    return 0;
  }
  const { headline, body, levers, leversGive } = question.text(found, job, system);
  world.print(
    reportText({
      headline: [job.name, "", ...headline],
      body,
      ...(levers && { levers }),
      ...(leversGive !== undefined && { leversGive }),
      cautions: found.cautions,
      ignored: found.ignored,
      defaults,
      effort,
    }),
  );
  return 0;
}

function checkProblems(question: Question, { problem, quick }: Words, world: World): void {
  if (problem === undefined) return;
  if (question.problems === undefined)
    throw new Misuse(
      `castclock ${question.name} has no bare problem to write; possible: ${questions
        .filter(({ problems }) => problems !== undefined)
        .map(({ name }) => name)
        .join(", ")}.`,
    );
  if (quick) throw new Misuse("--problem writes what the full answer rests on: leave out --quick.");
  requireFolder(world, problem);
}

/** A file for each bare problem, and one that says which of its numbers is which of the answer. */
function saveProblems(
  question: Question,
  found: Answer<string, unknown>,
  job: Job,
  { problem: folder }: Words,
  world: World,
): void {
  if (folder === undefined) return;
  const written = (question.problems?.(found, job) ?? []).map(({ name, problem, gives }, i) => {
    const slug = name
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, "-")
      .replace(/^-|-$/g, "");
    const file = `${question.name}-${slug || i + 1}.json`;
    world.save(folder, file, jsonText(problem));
    return { file, gives };
  });
  world.save(folder, `${question.name}-problems.json`, jsonText(written));
}

/** What each command and each question does with its files. */
import type { Answer } from "../../lib/answers/answer.ts";
import { checkJob, type JobReading } from "../../lib/job/job.ts";
import { parseJobText } from "../../lib/job/text.ts";
import type { Job } from "../../lib/job/types.ts";
import { stationsScale, THICKNESS, withSetting } from "../../lib/job/with-setting.ts";
import type { UnitSystem } from "../../lib/units/display.ts";
import { nearest } from "../../lib/units/nearest.ts";
import { InputError } from "../../lib/units/problem.ts";
import { jsonOf, jsonText } from "../messages/json.ts";
import { quickLookLines } from "../messages/quick-look.ts";
import { bothRead, requireFolder, textOf, type World } from "./files.ts";
import { planFrom } from "./questions/plan.ts";
import { shapeWith } from "./questions/shape.ts";
import { forgetful, type Question, questionOf, questions } from "./questions.ts";
import { reportText } from "./report.ts";
import { VERSION } from "./version.ts";
import { wholeJobText } from "./whole-job.ts";
import { COMMANDS, Misuse, type Words } from "./words.ts";

// What a question does not need is loaded when it is called for: an answer begins the sooner.

/** What an editor can complete and check. */
const SCHEMAS = {
  job: async () => (await import("../../lib/job/schema.ts")).jobJsonSchema(),
  problem: async () => (await import("../../lib/solve/schema.ts")).solveJsonSchema(),
  page: async () => (await import("../notebook/dials/schema.ts")).pageJsonSchema(),
};

/** Answers what was asked. @returns exit code; bad input is thrown */
export async function answer(words: Words, world: World): Promise<0 | 1 | 2> {
  const { command, rest } = words;
  switch (command) {
    case "schema": {
      const [of = "", ...more] = rest;
      if (more.length > 0 || !Object.hasOwn(SCHEMAS, of))
        throw new Misuse(`castclock schema ${Object.keys(SCHEMAS).join(" | ")}`);
      world.print(jsonText(await SCHEMAS[of as keyof typeof SCHEMAS]()));
      return 0;
    }
    case "materials":
      world.print((await import("./materials.ts")).materialsText());
      return 0;
    case "job": {
      const text = textOf(world, onlyFile(words, "JOB.yaml"));
      const raw = rawJobFrom(text, words.set);
      checkJob(raw);
      world.print(wholeJobText(raw));
      return 0;
    }
    case "solve":
      return await solveFile(onlyFile(words, "PROBLEM.json"), world);
    case "proof":
      return await prove(words, world);
    case "examples": {
      const { examplesText } = await import("./examples.ts");
      world.print(examplesText(rest));
      return 0;
    }
    case "notebook": {
      if (rest.length > 0) throw new Misuse("castclock notebook [--port 8080]");
      const { serveNotebook } = await import("./notebook.ts");
      return await serveNotebook(words.port, world);
    }
    case "page":
      return runPage(words, world);
    case "fit":
      return askFit(words, world);
    case "sweep": {
      const { raw } = givenJob(onlyFile(words, "JOB.yaml"), words, world);
      const { runSweep } = await import("./sweep/sweep.ts");
      return await runSweep({ ...words, raw }, world);
    }
    case "shape":
      return askShape(words, world);
    case "plan":
      return askPlan(words, world);
    default:
      return askQuestion(words, world);
  }
}

/** What a log says of a job; without one, what is worth logging. */
async function askFit(words: Words, world: World): Promise<0> {
  const [jobPath, logPath, ...more] = words.rest;
  if (jobPath === undefined || more.length > 0)
    throw new Misuse("castclock fit JOB.yaml [LOG.csv]");
  if (logPath === undefined) {
    const { planLogQuestion } = await import("./questions/plan-log.ts");
    return ask(forgetful(planLogQuestion), givenJob(jobPath, words, world), words, world);
  }
  const { readLog } = await import("../notebook/files/log-file.ts");
  const [given, log] = bothRead(
    () => {
      const { text, raw } = givenJob(jobPath, words, world);
      // what an earlier log has taught is put aside: this one speaks for itself
      const { fitted: _, ...plain } = raw;
      checkJob(plain);
      return { text, raw: plain };
    },
    () => readLog(textOf(world, logPath)),
  );
  const { fitQuestion } = await import("./questions/fit.ts");
  const question = fitQuestion(log);
  const code = await ask(forgetful(question), given, words, world);
  if (words.write !== undefined) {
    const { writeFitted } = await import("./write-fitted.ts");
    writeFitted(words.write, question.found(), given, world);
  }
  return code;
}

async function prove(words: Words, world: World): Promise<0 | 1> {
  if (words.json && words.markdown)
    throw new Misuse("castclock proof takes one of --json and --markdown.");
  const { proof } = await import("../../lib/proof/proof.ts");
  const found = proof({
    ...(words.rest.length > 0 && { only: words.rest }),
    progress: (done, all, id) => world.follow(`case ${done + 1} of ${all}: ${id}`),
  });
  if (found.answer.cases.length === 0)
    throw new Misuse(`There is no case like "${words.rest.join(" ")}".`);
  let { failed } = found.answer;
  let text: string;
  if (words.markdown) {
    const { proofDocument } = await import("./proof-markdown.ts");
    const document = proofDocument(found, VERSION, (done, all, what) =>
      world.follow(`answer ${done + 1} of ${all}: ${what}`),
    );
    ({ text, failed } = document);
  } else text = words.json ? jsonText(found) : (await import("./proof.ts")).proofText(found);
  world.follow("");
  world.print(text);
  return failed === 0 ? 0 : 1;
}

function onlyFile({ command, rest }: Words, name: string): string {
  const [path, ...more] = rest;
  if (path === undefined)
    throw new Misuse(`castclock ${command} needs a file: castclock ${command} ${name}`);
  if (more.length > 0)
    throw new Misuse(`castclock ${command} takes one file, not also "${more.join(" ")}".`);
  return path;
}

/** How often a person at a terminal is told how far a run is. */
const BETWEEN_NEWS_MS = 250;

async function solveFile(path: string, world: World): Promise<0> {
  const text = textOf(world, path);
  let problem: unknown;
  try {
    problem = JSON.parse(text);
  } catch (error) {
    const given = error instanceof Error ? error.message.slice(0, 120) : "";
    throw new InputError([{ code: "not_json", path, given }]);
  }
  const { solve } = await import("../../lib/solve/solve.ts");
  const start = world.now();
  let told = start;
  const {
    effort,
    snapshots: _,
    ...solved
  } = solve(problem, {
    // who asks here reads the errors, too
    grids: 3,
    follow: ({ cells, steps, time, end }) => {
      const now = world.now();
      if (now - told < BETWEEN_NEWS_MS) return;
      told = now;
      world.follow(`${cells} cells, step ${steps}: ${time.toPrecision(3)} of ${end} s`);
    },
  });
  world.follow("");
  for (const note of solved.notes) world.complain(`${note}\n`);
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
const rawJobFrom = (text: string, settings: readonly string[]) => setJob(text, settings).raw;

/** The same, and by how much its stations were scaled for a thickness; 1: not at all. */
function setJob(text: string, settings: readonly string[]) {
  let raw = parseJobText(text);
  let stationsScaled = 1;
  for (const setting of settings) {
    const { path, typed } = settingOf(setting);
    if (path === THICKNESS) stationsScaled *= stationsScale(raw, typed) ?? 1;
    raw = withSetting(raw, path, typed);
  }
  return { raw, stationsScaled };
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
  const { shapeGiven, writeJob } = await import("./shape-file.ts");
  const given = shapeGiven(onlyFile(words, "FILE"), words.set.map(settingOf), words.write, world);
  const code = await ask(questionOf("shape", shapeWith(given.options)), given, words, world);
  if (words.write !== undefined) writeJob(words.write, given, world);
  return code;
}

/** The evening of a job, from a log of its shots on where there is one. */
async function askPlan(words: Words, world: World): Promise<0> {
  const [jobPath, logPath, ...more] = words.rest;
  if (jobPath === undefined || more.length > 0)
    throw new Misuse("castclock plan JOB.yaml [SHOTS.csv]");
  if (logPath === undefined)
    return ask(questionOf("plan"), givenJob(jobPath, words, world), words, world);
  const { readBenchLog } = await import("./bench-log.ts");
  const [{ given }, log] = bothRead(
    () => {
      const given = givenJob(jobPath, words, world);
      return { given, job: checkJob(given.raw).job };
    },
    (read) => {
      const text = textOf(world, logPath);
      if (!read) return readBenchLog(text, null);
      const { plan, run } = read.job;
      const { session, molds } = run;
      return readBenchLog(text, { start: plan.start, session, molds });
    },
  );
  return ask(questionOf("plan", planFrom(log.shots, log.start)), given, words, world);
}

/** A job as it was typed, and as data. */
interface GivenJob {
  readonly text: string;
  readonly raw: Record<string, unknown>;
  /** By how much all stations were scaled for a thickness that was set; left out or 1: not at all. */
  readonly stationsScaled?: number;
}

function givenJob(path: string, words: Words, world: World): GivenJob {
  const text = textOf(world, path);
  return { text, ...setJob(text, words.set) };
}

/** The job; what is wrong with it is told together with what the question finds wrong. */
function checked(question: Question, raw: Record<string, unknown>): JobReading {
  try {
    return checkJob(raw);
  } catch (error) {
    if (!(error instanceof InputError) || question.alsoWrong === undefined) throw error;
    throw new InputError([...error.problems, ...question.alsoWrong(raw, error.problems)]);
  }
}

async function ask(
  question: Question,
  { text, raw, stationsScaled = 1 }: GivenJob,
  words: Words,
  world: World,
): Promise<0> {
  const { json, quick } = words;
  const { job, defaults: all } = checked(question, raw);
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
  const found = question.run(job, {
    quick,
    inches: !json && system === "shop-us",
    brief: !json && words.svg === undefined,
    progress: (done, parts) => world.follow(`${question.name}: part ${done} of ${parts}`),
  });
  world.follow("");
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
        ...(isScaled(stationsScaled) && { stationsScaled }),
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
      headline: [
        job.name,
        "",
        ...headline,
        ...(quick ? quickLookLines(found.ignored) : []),
        ...scaledText(stationsScaled),
        ...learnedText(job),
      ],
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

const isScaled = (by: number) => Math.abs(by - 1) > 1e-9;

function scaledText(by: number): string[] {
  if (!isScaled(by)) return [];
  return [
    `All stations are scaled by ${by.toPrecision(3)} across, for the thickness that was set; the length stays.`,
  ];
}

/** Says from what a range is narrower than a shop without a log has it. */
function learnedText({ fitted }: Job): string[] {
  return fitted.length === 0
    ? []
    : ["Answered from this job's own log: fitted in the job; delete it there to forget the log."];
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

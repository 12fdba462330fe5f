/** One run of the command: words in, text out, an exit code. What answers is loaded only when something is asked. */
import { parseArgs } from "node:util";
import type { UnitSystem } from "../../lib/units/display.ts";
import { nearest } from "../../lib/units/nearest.ts";
import { InputError, NoConvergence, type Problem } from "../../lib/units/problem.ts";
import { problemLine } from "../messages/all-problems.ts";
import { ABOUT } from "./about.ts";
import type { World } from "./files.ts";
import { helpText } from "./help.ts";
import { plainText } from "./plain-text.ts";
import { VERSION } from "./version.ts";
import { Misuse } from "./words.ts";

const OPTIONS = {
  json: { type: "boolean" },
  set: { type: "string", multiple: true },
  svg: { type: "string" },
  problem: { type: "string" },
  units: { type: "string" },
  quick: { type: "boolean" },
  write: { type: "string" },
  port: { type: "string" },
  markdown: { type: "boolean" },
  vary: { type: "string", multiple: true },
  members: { type: "string" },
  out: { type: "string" },
  of: { type: "string" },
  workers: { type: "string" },
  help: { type: "boolean", short: "h" },
  version: { type: "boolean" },
} as const;

/** Options of a sweep alone. */
const SWEEPS = ["vary", "members", "out", "of", "workers"] as const;

/** Options that a command has a use for, where that is not all of them. An option without effect is refused: it was meant. */
const TAKEN: ReadonlyMap<string, readonly (keyof typeof OPTIONS)[]> = new Map([
  ["schema", []],
  ["notebook", ["port"]],
  ["examples", []],
  ["materials", []],
  ["job", ["set"]],
  ["solve", ["json"]],
  ["proof", ["json", "markdown"]],
  ["sweep", ["set", "quick", ...SWEEPS]],
]);

/** Runs the command. @returns exit code: 0 answered, 2 bad input with nothing on `print`, 1 a fault of ours */
export async function runCommand(words: readonly string[], outside: World): Promise<0 | 1 | 2> {
  const world: World = {
    ...outside,
    print: (text) => outside.print(plainText(text)),
    complain: (text) => outside.complain(plainText(text)),
    follow: (text) => outside.follow(plainText(text)),
  };
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
      world.print(await helpFor(command === "help" ? rest[0] : command));
      return 0;
    }
    refuseIdle(command, Object.keys(values));
    const { answer } = await import("./answering.ts");
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
        port: values.port,
        markdown: values.markdown ?? false,
        vary: values.vary ?? [],
        members: values.members,
        out: values.out,
        of: values.of,
        workers: values.workers,
      },
      world,
    );
  } catch (error) {
    return failed(error, world, files);
  }
}

async function helpFor(asked: string | undefined): Promise<string> {
  if (asked === undefined || !Object.hasOwn(ABOUT, asked)) return helpText(VERSION);
  const { questionHelp } = await import("./question-help.ts");
  return questionHelp(asked) ?? helpText(VERSION);
}

function refuseIdle(command: string, given: readonly string[]): void {
  if (given.includes("write") && command !== "shape" && command !== "fit")
    throw new Misuse(
      `castclock ${command} has no use for --write; castclock shape and castclock fit have.`,
    );
  if (given.includes("problem") && command === "page")
    throw new Misuse("castclock page has no use for --problem; the questions have.");
  if (given.includes("markdown") && command !== "proof")
    throw new Misuse(`castclock ${command} has no use for --markdown; castclock proof has.`);
  if (given.includes("port") && command !== "notebook")
    throw new Misuse(`castclock ${command} has no use for --port; castclock notebook has.`);
  const ofSweep = SWEEPS.find((name) => given.includes(name));
  if (ofSweep !== undefined && command !== "sweep")
    throw new Misuse(`castclock ${command} has no use for --${ofSweep}; castclock sweep has.`);
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
    throw new Misuse(misuseOf(error, words));
  }
}

/** Every option that is none, each once, in their order: Node names the first alone. */
function unknownOptions(words: readonly string[]): string[] {
  const end = words.indexOf("--");
  const found = words
    .slice(0, end < 0 ? words.length : end)
    .flatMap((word) => /^--?[A-Za-z][\w-]*/.exec(word) ?? [])
    .filter((word) => word !== "-h" && !Object.hasOwn(OPTIONS, word.replace(/^--/, "")));
  return [...new Set(found)].slice(0, 8);
}

/** Node's own complaint about the options, in our words. */
function misuseOf(error: unknown, words: readonly string[]): string {
  const message = error instanceof Error ? error.message : String(error);
  const option = /--?[\w-]+/.exec(message)?.[0] ?? "";
  const code = error instanceof Error && "code" in error ? error.code : undefined;
  const names = Object.keys(OPTIONS);
  if (code === "ERR_PARSE_ARGS_UNKNOWN_OPTION") {
    const unknown = unknownOptions(words);
    const said = (unknown.length > 0 ? unknown : [option]).map((one) => {
      const close = nearest(one.replace(/^-+/, ""), names);
      return `There is no option "${one}".${close === undefined ? "" : ` Did you mean --${close}?`}`;
    });
    return `${said.join(" ")} Possible: ${names.map((n) => `--${n}`).join(", ")}.`;
  }
  if (/argument (is )?(missing|ambiguous)/.test(message)) {
    const like = {
      "--set": 'bait.thickness="18 mm"',
      "--svg": "pictures",
      "--problem": "problems",
      "--units": "us",
      "--write": "job.yaml",
      "--port": "8080",
      "--vary": 'bait.thickness="8 mm..24 mm"',
      "--members": "1000",
      "--out": "sweep.csv",
      "--of": "demold",
      "--workers": "2",
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
  const told = error instanceof Error ? error.message : String(error);
  world.complain(
    `A fault of castclock: ${told}\nPlease report this with the file; CASTCLOCK_TRACE=1 in front of the command shows where it was.\n`,
  );
  if (world.trace && error instanceof Error) world.complain(`${error.stack}\n`);
  return 1;
}

function problemsText(problems: readonly Problem[], files: readonly string[]): string {
  const many = problems.length === 1 ? "1 problem" : `${problems.length} problems`;
  // the file itself stands in front of what is said about it as a whole, and an option in front of its own
  const named = problems.some(({ path }) => files.includes(path) || path.startsWith("--"));
  const head = named || files.length === 0 ? many : `${many} in ${files.join(" or ")}`;
  const shown = problems.slice(0, 50).map((problem) => `  ${problemLine(problem)}`);
  if (problems.length > 50) shown.push(`  and ${problems.length - 50} more`);
  const lost = problems.every(({ code }) => code === "file_unwritable");
  return `${head}; nothing was ${lost ? "kept" : "computed"}.\n${shown.join("\n")}\n`;
}

/**
 * The form of a problem file: what is wrong with it, and the file with stand-ins where something is, so that what it says
 * can be checked at once, too.
 */
import type { z } from "zod";
import { nearest } from "../units/nearest.ts";
import type { Problem } from "../units/problem.ts";
import { type SolveInput, solveSchema } from "./schema.ts";

type Issue = z.core.$ZodIssue;
type Path = readonly PropertyKey[];

interface Form {
  /** The file, or one as near to it as can be checked; undefined where too much of it is missing. */
  readonly given: SolveInput | undefined;
  readonly problems: readonly Problem[];
  /** Whether a problem of what the file says is the file's own, and not a stand-in's. */
  isOwn(problem: Problem): boolean;
}

/** Reads the form of a problem file. */
export function formOf(input: unknown): Form {
  const parsed = solveSchema.safeParse(input, { reportInput: true });
  if (parsed.success) return { given: parsed.data, problems: [], isOwn: () => true };
  const { issues } = parsed.error;
  const problems = [...issues.flatMap(toProblems), ...missingBeside(input, issues)];
  // without the layers or the materials as a whole there is nothing to be checked
  const isBare = issues.some(
    ({ path, code }) => path.length < 2 && code !== "unrecognized_keys" && path[0] !== "until",
  );
  const again = isBare ? undefined : solveSchema.safeParse(withStandIns(input, issues));
  const touched = problems.map(({ path }) => path);
  // times are held against the end, which may be a stand-in
  const isTimed = touched.some((path) => /^(?:until|stages)/.test(path));
  const left = issues.filter(({ path }) => path[0] === "probes").map(({ path }) => String(path[1]));
  return {
    given: again?.data,
    problems,
    isOwn({ path, given }) {
      if (isTimed && /^(?:until|stages|times|snapshots|crossings)/.test(path)) return false;
      if (left.includes(String(given))) return false;
      return !touched.some((one) => path.startsWith(one) || one.startsWith(path));
    },
  };
}

/** What a schema can't ask for alone: an end, by a time or by stages, and the block of a section. */
function missingBeside(input: unknown, issues: readonly Issue[]): Problem[] {
  if (typeof input !== "object" || input === null || Array.isArray(input)) return [];
  const file = input as Record<string, unknown>;
  const told = (key: string) => issues.some(({ path }) => path[0] === key);
  const flat = file["frame"] === "section" || file["frame"] === "round";
  const asked = [
    ...(file["until"] === undefined && file["stages"] === undefined ? ["until"] : []),
    ...(flat && file["block"] === undefined ? ["block"] : []),
  ];
  return asked.filter((key) => !told(key)).map((path) => ({ code: "missing", path }));
}

const textOf = (path: Path) =>
  path.reduce<string>(
    (at, key) =>
      typeof key === "number" ? `${at}[${key}]` : at ? `${at}.${String(key)}` : String(key),
    "",
  );

const isBoundary = (path: Path) =>
  path.at(-1) === "exposed" || (path.at(-2) === "boundary" && typeof path.at(-1) === "string");
const isProbe = (path: Path) => path[0] === "probes" && path.length === 2;

function toProblems(issue: Issue): Problem[] {
  const path = textOf(issue.path);
  if (issue.code === "unrecognized_keys") {
    const keys = path === "" ? Object.keys(solveSchema.shape) : [];
    return issue.keys.map((key) => {
      const suggestion = nearest(key, keys);
      return {
        code: "unknown_key",
        path: path ? `${path}.${key}` : key,
        given: key,
        ...(keys.length > 0 ? { possible: keys } : {}),
        ...(suggestion ? { suggestion } : {}),
      };
    });
  }
  const { input } = issue;
  if (input === undefined) return [{ code: "missing", path }];
  const given = shown(input);
  switch (issue.code) {
    case "invalid_value":
      return [{ code: "not_possible", path, given, possible: issue.values.map(String) }];
    case "too_big":
      return [{ code: "too_many", path, most: String(issue.maximum) }];
    case "too_small":
      return [{ code: "too_few", path, least: String(issue.minimum) }];
    case "invalid_union":
      return issue.path[0] === "until"
        ? [{ code: "not_possible", path, given, possible: ["a time in s", "steady"] }]
        : [{ code: unionOf(issue.path), path, given }];
    case "invalid_type":
      return [{ code: TYPES[issue.expected] ?? "not_a_number", path, given }];
    default:
      return [{ code: "not_a_number", path, given }];
  }
}

const TYPES: Readonly<Record<string, string>> = {
  object: "not_a_group",
  record: "not_a_group",
  array: "not_a_list",
  tuple: "not_a_list",
  string: "not_a_name",
};

function unionOf(path: Path): string {
  if (isProbe(path)) return "not_a_probe";
  return isBoundary(path) ? "not_a_boundary" : "not_a_law";
}

/** What was given, in a word or two. */
function shown(input: unknown): string | number | boolean {
  if (typeof input === "number") return Number.isFinite(input) ? input : String(input);
  if (typeof input === "string" || typeof input === "boolean") return input;
  if (input === null) return "nothing";
  return Array.isArray(input) ? "a list" : "a group of keys";
}

/** The input without keys that are not known, and with something harmless where the form is wrong. */
function withStandIns(input: unknown, issues: readonly Issue[]): unknown {
  return issues.reduce(
    (at, issue) =>
      issue.code === "unrecognized_keys"
        ? issue.keys.reduce((one, key) => withPut(one, [...issue.path, key], undefined), at)
        : withPut(at, issue.path, standIn(issue)),
    input,
  );
}

/** Undefined: the key is taken out. */
function standIn(issue: Issue): unknown {
  if (isProbe(issue.path)) return undefined;
  if (issue.code === "invalid_value") return issue.values[0];
  if (isBoundary(issue.path)) return "insulated";
  if (issue.code === "invalid_union") return 1;
  return issue.code === "invalid_type" && issue.expected === "number" ? 1 : undefined;
}

function withPut(at: unknown, [key, ...rest]: Path, value: unknown): unknown {
  if (key === undefined || typeof at !== "object" || at === null) return at;
  if (Array.isArray(at))
    return at.map((one, i) =>
      i === key ? (rest.length === 0 ? value : withPut(one, rest, value)) : one,
    );
  const entries = Object.entries(at).filter(([name]) => name !== key);
  const old = Object.hasOwn(at, key) ? Reflect.get(at, key) : undefined;
  const put = rest.length === 0 ? value : withPut(old, rest, value);
  return Object.fromEntries(put === undefined ? entries : [...entries, [key, put]]);
}

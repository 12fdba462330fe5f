/** What a program threw, as plain data. It may be anything, with getters that throw in turn. */
interface ErrorWords {
  readonly detail: string;
  /** Line of the script, when it can be told. */
  readonly line?: number;
  /** Of an InputError: the problems as data. */
  readonly problems?: readonly object[];
  /** More memory than a page may use, or too deep a recursion. */
  readonly memory?: boolean;
}

const MOST_CHARACTERS = 1000;
const MOST_PROBLEMS = 20;

export function describeError(thrown: unknown, firstLine: number, lastLine: number): ErrorWords {
  try {
    if (typeof thrown !== "object" || thrown === null) {
      return { detail: `threw ${String(thrown)}`.slice(0, MOST_CHARACTERS) };
    }
    const error = thrown as Record<string, unknown>;
    const name = String(error["name"] ?? "Error").slice(0, 60);
    const message = String(error["message"] ?? "").slice(0, MOST_CHARACTERS);
    const line = lineOf(String(error["stack"] ?? "").slice(0, 20_000), firstLine, lastLine);
    const problems = problemsOf(error["problems"]);
    return {
      detail: message === "" ? name : `${name}: ${message}`,
      ...(line !== undefined && { line }),
      ...(problems.length > 0 && { problems }),
      ...(/^more memory|allocation failed|Maximum call stack/i.test(message) && { memory: true }),
    };
  } catch {
    return { detail: "threw something that can't be described" };
  }
}

/** The first place in the stack that lies in the program's own lines. */
function lineOf(stack: string, firstLine: number, lastLine: number): number | undefined {
  for (const [, text] of stack.matchAll(/(?:blob:[^\s):]*|page\.js):(\d+):\d+/g)) {
    const line = Number(text);
    if (line >= firstLine && line <= lastLine) return line;
  }
  return undefined;
}

function problemsOf(given: unknown): object[] {
  if (!Array.isArray(given)) return [];
  const texts = ["code", "path", "least", "most", "suggestion"] as const;
  const problems: object[] = [];
  for (const one of given.slice(0, MOST_PROBLEMS) as unknown[]) {
    if (typeof one !== "object" || one === null) continue;
    const problem = one as Record<string, unknown>;
    const plain: Record<string, unknown> = { code: "", path: "" };
    for (const key of texts) {
      if (typeof problem[key] === "string") plain[key] = problem[key].slice(0, 200);
    }
    const typed = problem["given"];
    if (["string", "number", "boolean"].includes(typeof typed)) {
      plain["given"] = typeof typed === "string" ? typed.slice(0, 200) : typed;
    }
    if (Array.isArray(problem["possible"])) {
      plain["possible"] = problem["possible"].slice(0, 20).map((p) => String(p).slice(0, 100));
    }
    problems.push(plain);
  }
  return problems;
}

/** The text of a job file to plain data: YAML 1.2 or JSON, with what could hurt refused before it is read. */
import { isAlias, isNode, LineCounter, parseDocument, visit } from "yaml";
import { InputError, type Problem } from "../units/problem.ts";

/** Longer than any job; a file of this length is read in a fraction of a second. */
export const LONGEST_FILE = 1_000_000;

const TOO_DEEP = "it is nested too deep";

/**
 * Plain data from the text of a job file.
 *
 * @throws InputError `too_long`, `not_yaml` with the line, `alias_in_file`, `not_a_job`
 */
export function parseJobText(text: string): Record<string, unknown> {
  if (text.length > LONGEST_FILE) {
    const megabytes = `${(text.length / 1e6).toFixed(1)} MB`;
    throw new InputError([{ code: "too_long", path: "", given: megabytes, most: "1 MB" }]);
  }
  const lines = new LineCounter();
  const problems: Problem[] = [];
  let raw: unknown;
  try {
    const tree = parseDocument(text, {
      lineCounter: lines,
      prettyErrors: false,
      version: "1.2",
    });
    // one mistake often makes several errors in a row: the first tells where
    for (const error of tree.errors.slice(0, 1)) {
      const { line } = lines.linePos(error.pos[0]);
      const given = /call stack/.test(error.message) ? TOO_DEEP : error.message.split("\n")[0];
      problems.push({ code: "not_yaml", path: `line ${line}`, given: given.slice(0, 120) });
    }
    if (problems.length === 0) {
      visit(tree, (_, node) => {
        if (!isNode(node) || !(isAlias(node) || ("anchor" in node && node.anchor)))
          return undefined;
        const { line } = lines.linePos(node.range?.[0] ?? 0);
        problems.push({ code: "alias_in_file", path: `line ${line}` });
        return problems.length < 5 ? undefined : visit.BREAK;
      });
    }
    if (problems.length === 0) raw = tree.toJS({ maxAliasCount: 0 });
  } catch (error) {
    if (!(error instanceof Error)) throw error;
    // brackets nested so deep that the reader's stack ends
    problems.push({
      code: "not_yaml",
      path: "",
      given: error instanceof RangeError ? TOO_DEEP : error.message.slice(0, 120),
    });
  }
  if (problems.length > 0) throw new InputError(problems);
  if (typeof raw !== "object" || raw === null || Array.isArray(raw))
    throw new InputError([{ code: "not_a_job", path: "" }]);
  return raw as Record<string, unknown>;
}

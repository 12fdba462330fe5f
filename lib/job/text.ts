/** The text of a job file to plain data: YAML 1.2 or JSON, with what could hurt refused before it is read. */
import { isAlias, isNode, LineCounter, parseDocument, visit, type YAMLError } from "yaml";
import { InputError, type Problem } from "../units/problem.ts";

/** Longer than any job; a file of this length is read in a fraction of a second. */
const LONGEST_FILE = 1_000_000;

/** Mistakes of YAML that have a sentence of their own; the others are `not_yaml`. */
const YAML_MISTAKES: Readonly<Record<string, string>> = {
  DUPLICATE_KEY: "key_twice",
  TAB_AS_INDENT: "tab_indents",
  MULTIPLE_DOCS: "several_documents",
  MISSING_CHAR: "bracket_open",
};

function mistakeOf({ code, message }: YAMLError): string {
  if (/call stack/.test(message)) return "nested_too_deep";
  // a bracket that stays open is noticed only where the next line does not fit into it
  if (/^(Flow|Missing closing)/.test(message)) return "bracket_open";
  return YAML_MISTAKES[code] ?? "not_yaml";
}

/**
 * Plain data from the text of a job file.
 *
 * @throws InputError `too_long`, `file_empty`, `not_text_file`, one of YAML's mistakes with the line, `alias_in_file`,
 * `not_a_job`
 */
export function parseJobText(text: string): Record<string, unknown> {
  if (text.length > LONGEST_FILE) {
    const megabytes = `${(text.length / 1e6).toFixed(1)} MB`;
    throw new InputError([{ code: "too_long", path: "", given: megabytes, most: "1 MB" }]);
  }
  if (text.trim() === "") throw new InputError([{ code: "file_empty", path: "" }]);
  if (text.includes("\0")) throw new InputError([{ code: "not_text_file", path: "" }]);
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
      const given = (text.split("\n")[line - 1] ?? "").trim().slice(0, 60);
      problems.push({ code: mistakeOf(error), path: `line ${line}`, given });
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
    problems.push(
      error instanceof RangeError
        ? { code: "nested_too_deep", path: "" }
        : { code: "not_yaml", path: "", given: error.message.slice(0, 60) },
    );
  }
  if (problems.length > 0) throw new InputError(problems);
  if (typeof raw !== "object" || raw === null || Array.isArray(raw))
    throw new InputError([{ code: "not_a_job", path: "" }]);
  return raw as Record<string, unknown>;
}

/** The last report's main figures, in the words of the method's page: its block named `MARK` is written anew. */
import { readFileSync, writeFileSync } from "node:fs";
import type { recorded } from "./measure.ts";

const PAGE = new URL("../../notebooks/method.md", import.meta.url);
const MARK = "Speed as last measured";
/** Tables of a report by the start of their title, and which of their columns is said. */
const SPEEDS = {
  engine: "Each one's fastest setting",
  command: "Whole process,",
  answers: "Whole process with its whole answer",
  claims: "Errors said against errors found",
} as const;

type Tables = typeof recorded;
type Row = Readonly<Record<string, string>>;

const rowsOf = (tables: Tables, title: string): readonly (readonly string[])[] =>
  tables.find((table) => table.title.startsWith(title))?.rows ?? [];

/** A table of the page, as its working writes it. */
function shown(caption: string, labels: Row, rows: readonly Row[]): string {
  // short: every page's text is part of what the notebook loads first
  const keys = Object.keys(labels);
  const columns = keys.map((key) => `{ key: "${key}", label: "${labels[key]}" }`);
  const lines = rows.map((row) => `    ${JSON.stringify(keys.map((key) => row[key]))},`);
  return [
    "show.table({",
    `  caption: ${JSON.stringify(caption)},`,
    `  columns: [${columns.join(", ")}],`,
    "  rows: [",
    ...lines,
    `  ].map(([${keys.join(", ")}]) => ({ ${keys.join(", ")} })),`,
    "});",
  ].join("\n");
}

/**
 * Writes the figures into the page.
 *
 * @param machine how fast the machine was
 * @throws Error when the report lacks a table, or the page its block: nothing is written then
 */
export function writeToMethodPage(tables: Tables, machine: string): void {
  const engine = rowsOf(tables, SPEEDS.engine)
    .filter(([, solver]) => solver === "Castclock as it comes")
    .map(([problem, , ms, , error]): Row => ({ problem, ms, error }));
  const commands = rowsOf(tables, SPEEDS.command).map(([what, ms]): Row => ({ what, ms }));
  const answers = rowsOf(tables, SPEEDS.answers).map(
    ([question, s]): Row => ({ what: `castclock ${question}`, ms: (1000 * Number(s)).toFixed(0) }),
  );
  const claims = rowsOf(tables, SPEEDS.claims).map(
    ([kind, count, held, , near]): Row => ({ kind, count, held, near }),
  );
  if (engine.length === 0 || commands.length === 0 || claims.length === 0)
    throw new Error("the page of methods is written from a report of all benches");
  const pace = machine.match(/[\d.]+ ns a dependent multiply-add/)?.[0] ?? machine;
  const where = `Node ${process.version}, ${pace}`;
  const block = [
    `\`\`\`ts ${MARK}`,
    shown(
      `The engine on problems whose answer is known (${where})`,
      { problem: "Problem", ms: "Milliseconds", error: "Off by" },
      engine,
    ),
    shown("The command, from the key to its last line", { what: "Command", ms: "Milliseconds" }, [
      ...commands,
      ...answers,
    ]),
    shown(
      "Random problems against much finer runs: does the error that is said hold?",
      {
        kind: "Problems",
        count: "Number",
        held: "True error below the said",
        near: "Said within ten times the true",
      },
      claims,
    ),
    "```",
  ].join("\n");
  const text = readFileSync(PAGE, "utf8");
  const old = new RegExp(`^\`\`\`ts ${MARK}\\n[\\s\\S]*?^\`\`\`$`, "m");
  if (!old.test(text)) throw new Error(`notebooks/method.md has no working "${MARK}"`);
  writeFileSync(
    PAGE,
    text.replace(old, () => block),
  );
}

/** `castclock proof --markdown`: the ledger as a document, whole answers first, and what nothing from outside has checked. */
import type { ProofAnswer } from "../../lib/proof/proof.ts";
import { CHECKED } from "../messages/unchecked.ts";
import { numberText, rowText } from "./proof.ts";
import { answeredWhole, wholeAnswers } from "./whole-answers.ts";

const cell = (text: string) => text.replaceAll("|", "\\|").replaceAll("\n", " ");

function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.map(cell).join(" | ")} |`;
  return [line(head), line(head.map(() => "---")), ...rows.map(line)].join("\n");
}

interface Compared {
  readonly text: string;
  readonly failed: number;
}

/** Each answer is worked out once: seconds each. */
function wholeAnswersText(progress: (done: number, all: number, what: string) => void): Compared {
  const asked = [...new Set(wholeAnswers.map(({ job, question }) => `${job}\n${question}`))];
  let failed = 0;
  const rows = asked.flatMap((pair, k) => {
    const [job = "", question = ""] = pair.split("\n");
    progress(k, asked.length, `${question} of ${job}`);
    const found = answeredWhole(job, question);
    return wholeAnswers
      .filter((row) => row.job === job && row.question === question)
      .map(({ what, unit, value, allowed }) => {
        const ours = found[what] ?? Number.NaN;
        const passed = Math.abs(ours - value) <= allowed;
        if (!passed) failed++;
        return [
          `${job}: ${question}, ${what}`,
          unit,
          numberText(value, allowed / 10),
          numberText(ours, allowed / 10),
          numberText(ours - value, allowed / 10),
          numberText(allowed, allowed),
          passed ? "" : "FAILED",
        ];
      });
  });
  const text = table(["answer", "unit", "independent", "Castclock", "apart", "allowed", ""], rows);
  return { text, failed };
}

function casesText({ answer: { cases, rows } }: ProofAnswer): string {
  return cases
    .map((one) => {
      const own = rows.filter((row) => row.case === one.id);
      const memory = own.some((row) => row.fromMemory) ? " (from memory)" : "";
      const failures = new Set(own.flatMap(({ failure }) => (failure ? [failure] : [])));
      return [
        `### ${one.title}`,
        `${one.source}${memory}`,
        table(["", "quantity", "expected", "computed", "deviation", "allowed"], own.map(rowText)),
        ...failures,
      ].join("\n\n");
    })
    .join("\n\n");
}

function uncheckedText(): string {
  return table(
    ["question", "checked from outside", "no outside check at all"],
    Object.entries(CHECKED).map(([question, { outside, none }]) => [
      question,
      outside.join("; "),
      none.join("; "),
    ]),
  );
}

/** The document, and how many values do not agree. */
export function proofDocument(
  found: ProofAnswer,
  version: string,
  progress: (done: number, all: number, what: string) => void,
): Compared {
  const whole = wholeAnswersText(progress);
  const { passed, failed, cases } = found.answer;
  const text = `# What Castclock ${version} was checked against

Written by \`castclock proof --markdown\`. ${passed} values of others agree, ${failed} do not, in ${cases.length} cases; of
${wholeAnswers.length} whole answers ${whole.failed} are further apart than is allowed.

## Question by question

${uncheckedText()}

What a material conducts, stores and gives off stands in \`data/materials\` with its spread, its source in \`data/SOURCES.md\`;
many are guesses and say so. No check here makes them surer.

## Whole answers

From a job file to the number at the bench. The independent values are of an own program in another language and with another
method (curved finite elements of degree five, backward differences), which shares no code with the library and reads the same
jobs and the same catalog; what both leave out is not seen here.

${whole.text}

## The engine and the formulas

Published values, closed formulas, and converged solutions of other solvers; deviations in the unit of the quantity.

${casesText(found)}
`;
  return { text, failed: failed + whole.failed };
}

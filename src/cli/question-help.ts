/** What `castclock QUESTION --help` prints. */
import { questions } from "./questions.ts";
import { wrapped } from "./table.ts";

/** @returns undefined when there is no such question */
export function questionHelp(asked: string): string | undefined {
  const question = questions.find(({ name }) => name === asked);
  if (question === undefined) return undefined;
  const { name, about, reads } = question;
  const keys =
    typeof reads === "function"
      ? "It reads what the job says of it; castclock schema job has every key."
      : `It reads of the job: ${reads.join(", ")}.`;
  return `castclock ${name} JOB.yaml [--json] [--set path=value ...] [--svg DIR] [--units metric|us] [--quick]

It answers: ${about}.
${wrapped(keys, 96).join("\n")}
Whatever is left out has a default, and the answer lists which: castclock job JOB.yaml writes them out,
castclock schema job says what each key may be, castclock --help has the rest.
`;
}

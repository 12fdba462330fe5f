/** The worker that answers the bench: reads the job as it is typed, asks the library, sends plain data back. */
import { InputError } from "../../../lib/units/problem.ts";
import type { Question, Reply } from "./asked.ts";
import { answerFor } from "./bench-answers.ts";

function reply(question: Question): Reply {
  try {
    return { answer: answerFor(question) };
  } catch (error) {
    if (error instanceof InputError) return { problems: error.problems };
    return { fault: error instanceof Error ? error.message : String(error) };
  }
}

addEventListener("message", (e: MessageEvent<{ id: number; question: Question }>) => {
  postMessage({ id: e.data.id, reply: reply(e.data.question) });
});

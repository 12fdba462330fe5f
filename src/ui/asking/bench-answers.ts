import type { Answers, Question } from "./asked.ts";
export function answerFor(_question: Question): Answers[keyof Answers] {
  throw new Error("the questions are not there yet");
}

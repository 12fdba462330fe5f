/** The questions that the command answers: one line each. */
import type { Answer } from "../../lib/questions/answer.ts";
import { budgetQuestion } from "./questions/budget.ts";
import { demoldQuestion } from "./questions/demold.ts";
import { layerQuestion } from "./questions/layer.ts";
import { mixQuestion } from "./questions/mix.ts";
import { pourQuestion } from "./questions/pour.ts";
import type { Question } from "./questions/question.ts";
import { shotsQuestion } from "./questions/shots.ts";
import { shrinkQuestion } from "./questions/shrink.ts";
import { sprueQuestion } from "./questions/sprue.ts";
import { touchQuestion } from "./questions/touch.ts";
import { wallsQuestion } from "./questions/walls.ts";

export type { Question, QuestionText } from "./questions/question.ts";

/** A question with the type of its own answer forgotten, so that all fit in one table. */
const any = <A extends Answer<string, unknown>>(own: Question<A>) => own as unknown as Question;

export const questions: readonly Question[] = [
  any(demoldQuestion),
  any(shotsQuestion),
  any(layerQuestion),
  any(pourQuestion),
  any(wallsQuestion),
  any(sprueQuestion),
  any(touchQuestion),
  any(budgetQuestion),
  any(mixQuestion),
  any(shrinkQuestion),
];

/** The questions that the command answers: one line each. */
import type { Answer } from "../../lib/answers/answer.ts";
import { budgetQuestion } from "./questions/budget.ts";
import { demoldQuestion } from "./questions/demold.ts";
import { layerQuestion } from "./questions/layer.ts";
import { mixQuestion } from "./questions/mix.ts";
import { planOfJob } from "./questions/plan.ts";
import { pourQuestion } from "./questions/pour.ts";
import type { Question } from "./questions/question.ts";
import { shapeOfJob } from "./questions/shape.ts";
import { shotsQuestion } from "./questions/shots.ts";
import { shrinkQuestion } from "./questions/shrink.ts";
import { sprueQuestion } from "./questions/sprue.ts";
import { swimQuestion } from "./questions/swim.ts";
import { touchQuestion } from "./questions/touch.ts";
import { wallsQuestion } from "./questions/walls.ts";

export type { Question, QuestionText } from "./questions/question.ts";

/** A question with the type of its own answer forgotten, so that all fit in one table. */
export const forgetful = <A extends Answer<string, unknown>>(own: Question<A>) =>
  own as unknown as Question;

export const questions: readonly Question[] = [
  forgetful(shapeOfJob),
  forgetful(demoldQuestion),
  forgetful(shotsQuestion),
  forgetful(layerQuestion),
  forgetful(pourQuestion),
  forgetful(wallsQuestion),
  forgetful(sprueQuestion),
  forgetful(touchQuestion),
  forgetful(budgetQuestion),
  forgetful(mixQuestion),
  forgetful(shrinkQuestion),
  forgetful(planOfJob),
  forgetful(swimQuestion),
];

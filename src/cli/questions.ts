/** The questions that the command answers: what can be asked of a job, each with how its answer is told. */
import type { Answer } from "../../lib/answers/answer.ts";
import { askable, type QuestionName } from "../sweep/askable.ts";
import { ABOUT } from "./about.ts";
import { budgetQuestion } from "./questions/budget.ts";
import { demoldQuestion } from "./questions/demold.ts";
import { layerQuestion } from "./questions/layer.ts";
import { mixQuestion } from "./questions/mix.ts";
import { planQuestion } from "./questions/plan.ts";
import { pourQuestion } from "./questions/pour.ts";
import type { Question, Telling } from "./questions/question.ts";
import { shapeQuestion } from "./questions/shape.ts";
import { shotsQuestion } from "./questions/shots.ts";
import { shrinkQuestion } from "./questions/shrink.ts";
import { sprueQuestion } from "./questions/sprue.ts";
import { swimQuestion } from "./questions/swim.ts";
import { touchQuestion } from "./questions/touch.ts";
import { wallsQuestion } from "./questions/walls.ts";

export type { Question, QuestionText } from "./questions/question.ts";

type AnswerTo<Name extends QuestionName> = ReturnType<(typeof askable)[Name]["run"]>;

const tellings: { readonly [Name in QuestionName]: Telling<AnswerTo<Name>> } = {
  shape: shapeQuestion,
  demold: demoldQuestion,
  shots: shotsQuestion,
  layer: layerQuestion,
  pour: pourQuestion,
  walls: wallsQuestion,
  sprue: sprueQuestion,
  touch: touchQuestion,
  budget: budgetQuestion,
  mix: mixQuestion,
  shrink: shrinkQuestion,
  plan: planQuestion,
  swim: swimQuestion,
};

/** A question with the type of its own answer forgotten, so that all fit in one table. */
export const forgetful = <A extends Answer<string, unknown>>(own: Question<A>) =>
  own as unknown as Question;

/** A question by its name; asked in another way where `run` is given. */
export function questionOf<Name extends QuestionName>(
  name: Name,
  run: Question<AnswerTo<Name>>["run"] = askable[name].run as Question<AnswerTo<Name>>["run"],
): Question {
  const { kinds } = askable[name];
  return forgetful({ ...tellings[name], name, about: ABOUT[name], kinds, run });
}

export const questions: readonly Question[] = (Object.keys(ABOUT) as QuestionName[]).map((name) =>
  questionOf(name),
);

/** The questions that can be put to many jobs, in the order of the bench. */
import type { QuestionName } from "../../sweep/askable.ts";

export const questionWords: Readonly<Record<QuestionName, string>> = {
  demold: "When it may be opened",
  shots: "Shot after shot",
  layer: "The window of the second color",
  sprue: "When the sprue closes",
  touch: "When it may be held and bagged",
  walls: "How thick the wall",
  pour: "The pour of the mold",
  plan: "The evening",
  budget: "How long the cup may be held hot",
  mix: "The mix",
  shrink: "How large the master",
  shape: "The shape of the bait",
  swim: "In the water",
};

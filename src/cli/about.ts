import type { QuestionName } from "../sweep/askable.ts";

/** The questions of a job in the order of the help, a line each: known before any of them is loaded. */
export const ABOUT = {
  shape: "length, volume, weight, thickest and thinnest spot, and the sections that matter",
  demold: "when may the mold be opened",
  shots: "shot after shot: open times, the steady state, baits an hour",
  layer: "when may the second color follow the first",
  pour: "can this resin be poured in one go: peak, gel, layers, other ways out",
  walls: "how thick the wall: between too hot in the run and too hot in the pour",
  sprue: "when the sprue closes, what is left to shrink, will the tail fill",
  touch: "after opening: when it may be held, cooled, bagged",
  budget: "how long a cup of plastisol may still be held hot",
  mix: "how much of A and B, and is the scale good enough",
  shrink: "how much larger the master must be",
  plan: "the evening: what to mix when, molds in rotation, pieces, grams, cost",
  swim: "in the water: weight, attitude, sink or rise rate, salt, hollow filler, hooks",
} as const satisfies Readonly<Record<QuestionName, string>>;

/** Functions of the library that take long enough to be remembered: all are pure. */
export const MEMORABLE: ReadonlySet<string> = new Set([
  "demold",
  "shots",
  "layer",
  "pour",
  "walls",
  "sprue",
  "fill",
  "mix",
  "shrink",
  "budget",
  "touch",
  "proof",
  "fit",
  "solve",
  "simulate",
]);

/** Question by question: what somebody else's numbers stand beside, and what nothing from outside has checked. */
interface Checked {
  readonly outside: readonly string[];
  readonly none: readonly string[];
}

export const CHECKED: Readonly<Record<string, Checked>> = {
  shape: {
    outside: [
      "volumes, weights and sections of bodies with a closed formula: ellipsoid, ring, cone",
    ],
    none: [
      "scanned baits against their weight in water",
      "which stations are chosen as those that matter",
    ],
  },
  demold: {
    outside: [
      "whole answers from the job: flat and round baits in filled epoxy, aluminum and silicone",
      "the engine under it: the cases below",
    ],
    none: [
      "a probe in a real bait: no measured course of a very soft plastisol was found",
      "the gap that opens when the plastic shrinks off the wall",
      "the range: its inputs' spreads are read from sheets and trade practice",
    ],
  },
  shots: {
    outside: [
      "whole answers: first, third and settled shot and the settled face, two molds",
      "settled states by a fixed point, by marching and by a lumped mold",
    ],
    none: [
      "baits an hour with molds in rotation",
      "the shortest rest for a hot face",
      "a measured evening",
    ],
  },
  layer: {
    outside: [
      "whole answer: the window of one two-color bait",
      "healing by the published law of reptation",
    ],
    none: [
      "the healing times of plastisol on plastisol: guesses",
      "how deep the second color melts the first, against a cut bait",
      "three colors and more",
    ],
  },
  pour: {
    outside: [
      "whole answers: peak and its time of two pours",
      "cure laws and runaway limits as published; curing slabs and squares by other solvers",
    ],
    none: [
      "a thermocouple in a filled pour of the kinds in the catalog",
      "the calibration of a cure to a pot life alone",
      "the deepest single pour, layers, plates, warm boxes and post-cure as whole answers",
      "settling of filler in a pour that warms up",
    ],
  },
  walls: {
    outside: ["what it rests on: shots and pours"],
    none: ["least, most and recommended wall as whole answers", "strength of a thin wall"],
  },
  sprue: {
    outside: ["closing of a round sprue: bodies with a series"],
    none: [
      "how much plastic a closing sprue still feeds",
      "dents against their depth on real baits",
      "how long a thin tail can be filled",
    ],
  },
  touch: {
    outside: [
      "the contact temperature of skin and bait by the formula of two thick bodies",
      "air by published correlations",
    ],
    none: ["when a bait deforms in the hand", "when bagged baits mark each other"],
  },
  budget: {
    outside: ["the sum of a thermal dose for constant heat, in closed form"],
    none: [
      "the activation energy and the time to yellow of a plastisol: usual values of PVC",
      "heating in a microwave",
    ],
  },
  mix: {
    outside: ["arithmetic of ratios by mass and volume, by hand"],
    none: ["how far off a ratio may be before the cure suffers: common practice, no source"],
  },
  shrink: {
    outside: ["contraction from densities, by hand"],
    none: ["a master, its mold and its bait measured with one pair of calipers"],
  },
  plan: {
    outside: ["sums of times, grams and prices, by hand"],
    none: ["a whole evening with its clock"],
  },
  swim: {
    outside: [
      "drag of spheres, cylinders and streamlined bodies as published; buoyancy of bodies with a formula",
    ],
    none: ["a bait timed on its way down", "its attitude with a hook in it"],
  },
  fit: {
    outside: [
      "data drawn from known inputs, noise added: the fit finds them, and its range holds them as often as it says",
    ],
    none: ["a log of a real probe", "inputs that real logs leave together"],
  },
};

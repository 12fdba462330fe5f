/**
 * The formula part of the proof: handbook functions of lib beside values evaluated elsewhere (mpmath, 25 to 40 digits)
 * or printed in a book. The engine isn't involved.
 */

import { criticalLump, criticalRunaway, leastRunawayRise } from "../cure/runaway.ts";
import { criticalRunawayArrhenius } from "../cure/runaway-arrhenius.ts";
import {
  hotFaceDown,
  hotFaceUp,
  levelPipe,
  radiationCoefficient,
  rayleigh,
  verticalAny,
} from "../formulas/air.ts";
import { contactTemperature } from "../formulas/contact.ts";
import { coolingTime, type MoldedBody } from "../formulas/cooling-time.ts";
import { modes, type SimpleBody } from "../formulas/handbook.ts";
import { lumpedAfterShot, lumpedLimit } from "../formulas/lumped-shots.ts";
import { periodicWall } from "../formulas/periodic-wall.ts";
import {
  contactAsThickness,
  criticalRadius,
  pinHeat,
  sleeveTemperature,
} from "../formulas/resistances.ts";
import { neumannRoot, schwarzRoot, stefanRoot } from "../formulas/solidify.ts";
import * as filler from "../materials/filler.ts";
import { adiabaticRise, volumeShare } from "../materials/mixture.ts";
import { ZERO_CELSIUS } from "../units/constants.ts";
import type { ReferenceKind } from "./reference-case.ts";

/** Quantity, unit, expected, computed, and a relative tolerance of its own where it differs. */
type Value = readonly [string, string, number, () => number, number?];

export interface FormulaCheck {
  readonly case: string;
  readonly title: string;
  readonly source: string;
  readonly fromMemory: boolean;
  readonly kind: ReferenceKind;
  /** Relative. */
  readonly tolerance: number;
  readonly why: string;
  readonly values: readonly Value[];
}

const EXACT = {
  kind: "closed form",
  tolerance: 1e-8,
  why: "both evaluate the same formula",
} as const;
const printed = (why: string, tolerance: number) =>
  ({ kind: "published", tolerance, why }) as const;
const INFINITE = Number.POSITIVE_INFINITY;

const EIGENVALUES: readonly (readonly [
  SimpleBody,
  readonly (readonly [number, number, number])[],
])[] = [
  [
    "wall",
    [
      [0.01, 0.09983363855113, 1.001660844126],
      [0.1, 0.3110528482003, 1.016094216797],
      [1, 0.8603335890194, 1.119132008405],
      [10, 1.428870011214, 1.261962589102],
      [100, 1.555245129256, 1.273087619846],
      [INFINITE, Math.PI / 2, 4 / Math.PI],
    ],
  ],
  [
    "cylinder",
    [
      [0.01, 0.1412447637298, 1.00249582903],
      [0.1, 0.4416817828748, 1.024579358855],
      [1, 1.255783711795, 1.207092058392],
      [10, 2.179496596664, 1.567691841803],
      [100, 2.380901663491, 1.601523874057],
      [INFINITE, 2.404825557696, 1.601974696928],
    ],
  ],
  [
    "sphere",
    [
      [0.01, 0.1730319871333, 1.002998061806],
      [0.1, 0.5422808854162, 1.029797705226],
      [1, Math.PI / 2, 1.273239544735],
      [10, 2.836300389349, 1.924908589693],
      [100, 3.110186953171, 1.999033473393],
      [INFINITE, Math.PI, 2],
    ],
  ],
];

const SIXTH: readonly (readonly [SimpleBody, number, number])[] = [
  ["wall", 15.77128487482, -0.007992617349759],
  ["cylinder", 16.53115893261, -0.03718314911651],
  ["sphere", 17.27875959474, -0.1157490495214],
];

const MELT = { melt: 448.15, wall: 308.15, end: 333.15, diffusivity: 8.5e-8 };
const COOLING: readonly (readonly [string, MoldedBody, number, number])[] = [
  ["plate of 8 mm", { kind: "plate", thickness: 0.008 }, 149.856639535, 115.405895658],
  ["rod of 10 mm", { kind: "round", diameter: 0.01 }, 111.581262608, 68.8662856145],
  ["ball of 10 mm", { kind: "ball", diameter: 0.01 }, 71.9950716457, 36.5074020815],
  ["bar of 8 x 20 mm", { kind: "bar", width: 0.008, height: 0.02 }, 145.073556474, 85.6757222028],
  [
    "rod of 10 x 60 mm",
    { kind: "rod", diameter: 0.01, length: 0.06 },
    122.415797242,
    57.5038087736,
  ],
];

const SHARES = [0.1, 0.2, 0.3, 0.4, 0.5];
const alloy = (share: number) => ({ matrix: 0.2, filler: 237, share });
const CONDUCTIVITY: readonly (readonly [string, (share: number) => number, readonly number[]])[] = [
  [
    "Maxwell",
    (s) => filler.maxwellConductivity(alloy(s)),
    [0.266479505896, 0.349526415491, 0.456215436403, 0.598317914214, 0.796974789916],
  ],
  [
    "Bruggeman, differential",
    (s) => filler.hanaiBruggeman(alloy(s)),
    [0.274090985178, 0.389687029259, 0.580285670336, 0.917534381766, 1.57234313648],
  ],
  [
    "Bruggeman, symmetric",
    (s) => filler.symmetricBruggeman(alloy(s)),
    [0.285317635262, 0.496269914763, 1.75606713844, 24.7380387608, 59.6970048424],
  ],
  [
    "Lewis and Nielsen, spheres",
    (s) => filler.lewisNielsen(alloy(s), { shape: 1.5, packing: 0.637 }),
    [0.257983872821, 0.339831560464, 0.467219069305, 0.698124509765, 1.25842021161],
  ],
  [
    "Hasselman and Johnson",
    (s) => filler.hasselmanJohnson(alloy(s), { radius: 25e-6, conductance: 1e7 }),
    [0.266302755451, 0.349079477837, 0.455340964848, 0.596733713841, 0.794130271021],
  ],
  [
    "in series",
    (s) => filler.seriesConductivity(alloy(s)),
    [0.222201387587, 0.249947268509, 0.2856109906, 0.333145909474, 0.399662731872],
  ],
  [
    "side by side",
    (s) => filler.parallelConductivity(alloy(s)),
    [23.88, 47.56, 71.24, 94.92, 118.6],
  ],
  [
    "Hashin and Shtrikman, upper",
    (s) => filler.hashinShtrikmanUpper(alloy(s)),
    [16.537449805, 34.0408052559, 52.8394899681, 73.0828194976, 94.9439757003],
  ],
];

const WARM_AIR = { k: 0.02808, Pr: 0.7202, nu: 1.896e-5, beta: 1 / 333 };
const PIPE_AIR = { k: 0.02699, Pr: 0.7241, nu: 1.75e-5, beta: 1 / 318 };
const plateRa = rayleigh(WARM_AIR, 60, 0.6);
const levelRa = rayleigh(WARM_AIR, 60, 0.15);
const pipeRa = rayleigh(PIPE_AIR, 50, 0.08);

const FREEZING = {
  kSolid: 0.22,
  cSolid: 1.9e6,
  kLiquid: 0.16,
  cLiquid: 2e6,
  density: 950,
  latentHeat: 120000,
  melting: 353.15,
};
const SHOTS = { heat: 9000, capacity: 1500, loss: 0.9, period: 240, air: 295.15 };
const day = () =>
  periodicWall([{ thickness: 0.2, k: 1.8, density: 2400, specificHeat: 1000 }], 0.13, 0.04, 86400);
const onPlate = () =>
  periodicWall(
    [
      { thickness: 0.015, k: 0.8, density: 1800, specificHeat: 1100 },
      { thickness: 0.008, k: 150, density: 2750, specificHeat: 890 },
    ],
    0.005,
    0.07,
    300,
  );

export const formulaChecks: readonly FormulaCheck[] = [
  {
    case: "formula-eigenvalues",
    title: "First eigenvalue and coefficient by Biot number, and the sixth at Biot number 1",
    source:
      "Cengel & Ghajar, Heat and Mass Transfer, 5th ed., Table 4-2 (four digits agree); evaluated with mpmath",
    fromMemory: false,
    ...EXACT,
    values: [
      ...EIGENVALUES.flatMap(([body, list]) =>
        list.flatMap(([biot, zeta, C]): Value[] => [
          [`${body}, Bi ${biot}, eigenvalue`, "1", zeta, () => modes(body, biot)[0].zeta],
          [`${body}, Bi ${biot}, coefficient`, "1", C, () => modes(body, biot)[0].C],
        ]),
      ),
      ...SIXTH.flatMap(([body, zeta, C]): Value[] => [
        [`${body}, Bi 1, sixth eigenvalue`, "1", zeta, () => modes(body, 1)[5].zeta],
        [`${body}, Bi 1, sixth coefficient`, "1", C, () => modes(body, 1)[5].C],
      ]),
    ],
  },
  {
    case: "formula-cooling-times",
    title: "First-term cooling times of molded bodies",
    source:
      "Stelson, Calculating cooling times for polymer injection moulding, Proc. IMechE B 217 (2003) 709",
    fromMemory: true,
    ...EXACT,
    values: COOLING.flatMap(([name, body, center, mean]): Value[] => [
      [
        `${name}, by center`,
        "s",
        center,
        () => coolingTime(body, { ...MELT, criterion: "center" }),
      ],
      [`${name}, by mean`, "s", mean, () => coolingTime(body, { ...MELT, criterion: "mean" })],
    ]),
  },
  {
    case: "formula-touch",
    title: "Skin on aluminum and on wood: interface temperature",
    source: "Cengel & Ghajar, Heat and Mass Transfer, 5th ed., section 4-3",
    fromMemory: false,
    ...EXACT,
    values: [
      ["aluminum", "degC", 15.8764940239, () => skinOn(24000)],
      ["wood", "degC", 29.8648648649, () => skinOn(380)],
    ],
  },
  {
    case: "formula-touch-printed",
    title: "Skin on aluminum and on wood, as printed",
    source: "Cengel & Ghajar, Heat and Mass Transfer, 5th ed., section 4-3",
    fromMemory: false,
    ...printed("printed to three and two digits", 0.007),
    values: [
      ["aluminum", "degC", 15.9, () => skinOn(24000)],
      ["wood", "degC", 30, () => skinOn(380)],
    ],
  },
  {
    case: "formula-freezing",
    title: "Front constants of Stefan, Neumann and Schwarz",
    source: "Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed., ch. 11",
    fromMemory: true,
    ...EXACT,
    values: [
      ["Stefan number 0.01", "1", 0.0705932765604, () => stefanRoot(0.01)],
      ["Stefan number 0.1", "1", 0.220016272743, () => stefanRoot(0.1)],
      ["Stefan number 1", "1", 0.620062633314, () => stefanRoot(1)],
      ["Stefan number 2", "1", 0.800601362806, () => stefanRoot(2)],
      ["Neumann", "1", 0.327886960067, () => neumannRoot({ ...FREEZING, liquid: 423.15 }, 303.15)],
      ["Schwarz", "1", 0.0869787126669, () => schwarz().lambda],
      ["Schwarz, interface", "degC", 71.3476291308, () => schwarz().face - ZERO_CELSIUS],
    ],
  },
  {
    case: "formula-runaway",
    title:
      "Critical numbers of runaway: exponential rate, finite Biot number, finite activation energy, stirred pot",
    source:
      "Frank-Kamenetskii; Thomas, Trans. Faraday Soc. 54 (1958) 60; Adler & Enig, Combustion and Flame 8 (1964) 97",
    fromMemory: true,
    kind: "closed form",
    tolerance: 1e-6,
    why: "found as a maximum, so half the digits",
    values: [
      ["slab", "1", 0.878457679781, () => criticalRunaway("slab").delta],
      ["cylinder", "1", 2, () => criticalRunaway("cylinder").delta],
      ["sphere", "1", 3.3219921183, () => criticalRunaway("sphere").delta],
      ["slab, center", "1", 1.18684216863, () => criticalRunaway("slab").thetaCenter],
      ["slab, Bi 1", "1", 0.27067056647, () => criticalRunaway("slab", 1).delta],
      ["slab, Bi 10", "1", 0.72897611619, () => criticalRunaway("slab", 10).delta],
      ["slab, Bi 100", "1", 0.86118616505, () => criticalRunaway("slab", 100).delta],
      ["cylinder, Bi 1", "1", 0.57579898303, () => criticalRunaway("cylinder", 1).delta],
      ["cylinder, Bi 10", "1", 1.6538366564, () => criticalRunaway("cylinder", 10).delta],
      ["sphere, Bi 1", "1", 0.90101998863, () => criticalRunaway("sphere", 1).delta],
      ["sphere, Bi 10", "1", 2.7389806797, () => criticalRunaway("sphere", 10).delta],
      ["slab, R Ta/E 0.02", "1", 0.89745303, () => criticalRunawayArrhenius("slab", 0.02).delta],
      [
        "cylinder, R Ta/E 0.05",
        "1",
        2.1185867,
        () => criticalRunawayArrhenius("cylinder", 0.05).delta,
      ],
      ["sphere, R Ta/E 0.02", "1", 3.3996807, () => criticalRunawayArrhenius("sphere", 0.02).delta],
      ["stirred pot, R Ta/E 0.05", "1", 0.387799522762, () => criticalLump(0.05).psi],
      ["stirred pot, R Ta/E 0.05, temperature", "1", 1.11456180002, () => criticalLump(0.05).theta],
      ["least rise, order 0.5", "1", 2.91421356237, () => leastRunawayRise(0.5)],
      ["least rise, order 2", "1", 5.82842712475, () => leastRunawayRise(2)],
    ],
  },
  {
    case: "formula-runaway-printed",
    title: "Critical numbers of runaway, as printed",
    source: "Frank-Kamenetskii",
    fromMemory: false,
    ...printed("printed to three decimals", 1e-3),
    values: [
      ["slab", "1", 0.878, () => criticalRunaway("slab").delta],
      ["cylinder", "1", 2, () => criticalRunaway("cylinder").delta],
      ["sphere", "1", 3.322, () => criticalRunaway("sphere").delta],
    ],
  },
  {
    case: "formula-resin",
    title: "Filled resin: share by volume and rise of temperature by full cure",
    source: "mixture rules; energy balance",
    fromMemory: false,
    ...EXACT,
    values: [
      ["share by volume of 0.3 by mass", "1", 0.154362416107, () => volumeShare(0.3, 1150, 2700)],
      ["share by volume of 0.65 by mass", "1", 0.441654357459, () => volumeShare(0.65, 1150, 2700)],
      ["rise, neat", "K", 194.444444444, () => adiabaticRise(0, 350000, 1800, 897)],
      ["rise, half filler", "K", 129.773822766, () => adiabaticRise(0.5, 350000, 1800, 897)],
      ["rise, 0.65 filler", "K", 100.985120152, () => adiabaticRise(0.65, 350000, 1800, 897)],
    ],
  },
  {
    case: "formula-filler",
    title: "Conductivity of a metal-filled resin by eight models",
    source:
      "Maxwell 1873; Bruggeman 1935; Lewis & Nielsen, J. Appl. Polym. Sci. 14 (1970) 1449; Hasselman & Johnson, J. Compos. Mater. 21 (1987) 508",
    fromMemory: false,
    ...EXACT,
    values: CONDUCTIVITY.flatMap(([name, model, list]) =>
      list.map(
        (k, i): Value => [`${name}, share ${SHARES[i]}`, "W/(m K)", k, () => model(SHARES[i])],
      ),
    ),
  },
  {
    case: "formula-lumped-shots",
    title: "Mold that takes a fixed heat with each shot: geometric series",
    source: "closed form",
    fromMemory: false,
    ...EXACT,
    values: [
      ["after shot 1", "degC", 28, () => lumpedAfterShot(SHOTS, 1) - ZERO_CELSIUS],
      ["after shot 5", "degC", 44.9620069731, () => lumpedAfterShot(SHOTS, 5) - ZERO_CELSIUS],
      ["after shot 20", "degC", 64.227248749, () => lumpedAfterShot(SHOTS, 20) - ZERO_CELSIUS],
      ["limit, peak", "degC", 66.7386417957, () => lumpedLimit(SHOTS).peak - ZERO_CELSIUS],
      ["limit, valley", "degC", 60.7386417957, () => lumpedLimit(SHOTS).valley - ZERO_CELSIUS],
      ["shots to 95 %", "1", 20.8036963441, () => lumpedLimit(SHOTS).shotsTo95],
    ],
  },
  {
    case: "formula-periodic-wall",
    title: "Walls under a cyclic temperature: transfer matrices",
    source: "EN ISO 13786; own evaluation",
    fromMemory: false,
    ...EXACT,
    values: [
      ["concrete, steady", "W/m2K", 3.55731225296, () => day().steady],
      ["concrete, passed on", "W/m2K", 1.82707113317, () => day().transmitted],
      ["concrete, decrement", "1", 0.513609996323, () => day().decrement],
      ["concrete, delay", "h", 5.6756893156, () => day().delay / 3600],
      ["concrete, inside capacity", "J/m2K", 86167.7093834, () => day().inside],
      ["concrete, outside capacity", "J/m2K", 170874.913857, () => day().outside],
      ["mold on plate, passed on", "W/m2K", 0.472422848223, () => onPlate().transmitted],
      ["mold on plate, delay", "h", 0.0440143313331, () => onPlate().delay / 3600],
      ["mold on plate, inside capacity", "J/m2K", 4940.6698292, () => onPlate().inside],
    ],
  },
  {
    case: "formula-fins",
    title: "Pins, sleeves and contacts as resistances",
    source: "Incropera et al., Example 3.9; Cengel & Ghajar, 5th ed., Examples 3-4 and 3-9",
    fromMemory: true,
    ...EXACT,
    values: [
      ["copper pin", "W", 8.30955339747, () => pinHeat({ diameter: 0.005, k: 398, h: 100 }, 75)],
      ["aluminum pin", "W", 5.58820589951, () => pinHeat({ diameter: 0.005, k: 180, h: 100 }, 75)],
      ["steel pin", "W", 1.55847616539, () => pinHeat({ diameter: 0.005, k: 14, h: 100 }, 75)],
      [
        "copper pin of 0.1 m",
        "W",
        7.41864816058,
        () => pinHeat({ diameter: 0.005, k: 398, h: 100, length: 0.1 }, 75),
      ],
      ["under a cover of 2 mm", "degC", 105.014629738, () => underCover(0.002)],
      ["under a cover of 4 mm", "degC", 90.6403295097, () => underCover(0.004)],
      ["critical radius", "m", 0.0125, () => criticalRadius(0.15, 12)],
      ["contact as aluminum", "m", 0.0215454545455, () => contactAsThickness(237, 11000)],
    ],
  },
  {
    case: "formula-fins-printed",
    title: "Pins, sleeves and contacts, as printed",
    source: "Incropera et al., Example 3.9; Cengel & Ghajar, 5th ed., Examples 3-4 and 3-9",
    fromMemory: true,
    ...printed("printed to two or three digits", 0.007),
    values: [
      ["copper pin", "W", 8.3, () => pinHeat({ diameter: 0.005, k: 398, h: 100 }, 75)],
      ["aluminum pin", "W", 5.6, () => pinHeat({ diameter: 0.005, k: 180, h: 100 }, 75)],
      ["steel pin", "W", 1.6, () => pinHeat({ diameter: 0.005, k: 14, h: 100 }, 75), 0.032],
      ["under a cover of 2 mm", "degC", 105, () => underCover(0.002)],
      ["under a cover of 4 mm", "degC", 90.6, () => underCover(0.004)],
      ["contact as aluminum", "m", 0.0215, () => contactAsThickness(237, 11000)],
    ],
  },
  {
    case: "formula-air",
    title: "Air beside a warm plate and a pipe, and radiation",
    source:
      "Cengel & Ghajar, Heat and Mass Transfer, 5th ed., Examples 9-1 and 9-2 (air properties of the book)",
    fromMemory: false,
    ...EXACT,
    values: [
      ["plate, Rayleigh number", "1", 764902757.268, () => plateRa],
      [
        "plate upright, Nusselt number",
        "1",
        113.344693409,
        () => verticalAny(plateRa, WARM_AIR.Pr),
      ],
      ["plate looking up", "W/m2K", 5.94369023437, () => (hotFaceUp(levelRa) * WARM_AIR.k) / 0.15],
      [
        "plate looking down",
        "W/m2K",
        2.97184511718,
        () => (hotFaceDown(levelRa) * WARM_AIR.k) / 0.15,
      ],
      ["pipe", "W/m2K", 5.86830201341, () => (levelPipe(pipeRa, PIPE_AIR.Pr) * PIPE_AIR.k) / 0.08],
      [
        "radiation at 40 degC",
        "W/m2K",
        5.74854327166,
        () => radiationCoefficient(0.9, 313.15, 295.15),
      ],
      [
        "radiation at 160 degC",
        "W/m2K",
        10.2111465031,
        () => radiationCoefficient(0.9, 433.15, 295.15),
      ],
    ],
  },
  {
    case: "formula-air-printed",
    title: "Air beside a warm plate and a pipe, as printed",
    source: "Cengel & Ghajar, Heat and Mass Transfer, 5th ed., Examples 9-1 and 9-2",
    fromMemory: false,
    ...printed("printed to four digits with rounded steps", 0.002),
    values: [
      ["plate upright, Nusselt number", "1", 113.3, () => verticalAny(plateRa, WARM_AIR.Pr)],
      ["plate looking up, Nusselt number", "1", 31.75, () => hotFaceUp(levelRa)],
      ["plate looking down, Nusselt number", "1", 15.87, () => hotFaceDown(levelRa)],
      ["pipe, Nusselt number", "1", 17.39, () => levelPipe(pipeRa, PIPE_AIR.Pr)],
    ],
  },
];

/** Only the effusivity of the two counts: k = e, c = e. */
function skinOn(effusivity: number): number {
  const skin = { k: 1100, c: 1100, T: 308.15 };
  return contactTemperature(skin, { k: effusivity, c: effusivity, T: 288.15 }) - ZERO_CELSIUS;
}

function schwarz() {
  return schwarzRoot({ ...FREEZING, liquid: 433.15 }, { k: 0.8, c: 1.9e6, T: 298.15 });
}

function underCover(cover: number): number {
  const sleeve = { inner: 0.0015, outer: 0.0015 + cover, length: 5, k: 0.15, h: 12 };
  return sleeveTemperature(sleeve, 80, 303.15) - ZERO_CELSIUS;
}

/** What a scale shows of a mix, and what is told of a pour that is too small for it. */
import type { MixedPour } from "../../lib/questions/mix/mix.ts";
import { toUnit, type UnitSystem } from "../../lib/units/display.ts";
import { formatQuantity, rangeInWords, timeStep } from "../../lib/units/format.ts";

/** As the scale shows it, kg: whole steps. */
const onScale = (si: number, step: number) => Math.round(si / step) * step;

/** Figures after the point that show every step, three at the most. */
function figuresFor(step: number): number {
  const fits = [0, 1, 2].find((n) => Math.abs(step * 10 ** n - Math.round(step * 10 ** n)) < 1e-6);
  return fits ?? NOT_ROUND;
}
const NOT_ROUND = 3;

/** Figures after the point that tell one step from the next with something to spare. */
const finestFor = (step: number): number => Math.max(0, Math.ceil(-Math.log10(step / 4)));

/** A figure in a unit that the scale does not show has four digits at the most. */
const DIGITS = 4;

/** In one unit: with what the scale shows, where it shows that unit; else no finer than `finest`, and with few digits. */
function inUnit(shown: number, step: number, finest: number): string {
  const figures = figuresFor(step);
  if (figures < NOT_ROUND) return String(Number(shown.toFixed(Math.min(finest, figures))));
  const fitting = DIGITS - 1 - Math.floor(Math.log10(shown));
  const scale = 10 ** Math.max(0, Math.min(finest, fitting));
  return String(Math.round(shown * scale) / scale);
}

function massText(shown: number, step: number, system: UnitSystem): string {
  // of the steps of an ounce scale a gram more or less shows which it is, not its hundredths
  const grams = `${inUnit(shown * 1000, step * 1000, finestFor(step * 1000))} g`;
  // between the steps of a gram scale an ounce has no figures of its own
  const ounces = `${inUnit(toUnit(shown, "oz"), toUnit(step, "oz"), 2)} oz`;
  return system === "shop-us" ? `${ounces} (${grams})` : `${grams} (${ounces})`;
}

/**
 * A mass as the scale shows it, in whole steps; in grams and in ounces it is the same one. What is there but too light
 * for it is never called nothing.
 *
 * @param si kg
 * @param step of the scale, kg
 */
export function weighedText(si: number, step: number, system: UnitSystem): string {
  const shown = onScale(si, step);
  if (si > 0 && si < step * (1 - 1e-9)) return `under ${massText(step, step, system)}`;
  return shown === 0 ? "0 g" : massText(shown, step, system);
}

/** A mass that must not be undercut, in whole steps of the scale. */
export function leastWeighedText(si: number, step: number, system: UnitSystem): string {
  return massText(Math.ceil(si / step - 1e-9) * step, step, system);
}

/** A and B together as they are weighed; where one is too light for it, what they weigh together. */
export function mixedText(
  { mass, massA, massB }: MixedPour,
  step: number,
  system: UnitSystem,
): string {
  if (Math.min(massA, massB) < step * (1 - 1e-9)) return weighedText(mass, step, system);
  return weighedText(onScale(massA, step) + onScale(massB, step), step, system);
}

/** The smallest batch of a pour for its scale; one that may itself smoke is called that. */
export function smallestBatchText(pour: MixedPour, step: number, system: UnitSystem): string {
  const least = leastWeighedText(pour.smallestBatch, step, system);
  return pour.smallestBatchMaySmoke ? `${least}, may smoke` : least;
}

/** The worst error of a ratio: two figures, upwards. */
export function worstErrorText(share: number): string {
  const power = 10 ** (Math.floor(Math.log10(share)) - 1);
  const up = Math.ceil(share / power - 1e-9) * power;
  return formatQuantity(Number(up.toPrecision(2)), "ratio");
}

/** The coarsest steps that scales are made with and that are no coarser than this, kg. */
export function scaleStepsText(most: number): string {
  const grams = most * 1000;
  const power = 10 ** Math.floor(Math.log10(grams) + 1e-9);
  const step = [5, 2, 1].find((digit) => digit * power <= grams * (1 + 1e-9)) ?? 1;
  return `${Number((step * power).toPrecision(1))} g`;
}

/** What is wrong with weighing a pour on this scale, and what would do; undefined: nothing. */
export function tooSmallLine(
  pour: MixedPour,
  step: number,
  system: UnitSystem,
): string | undefined {
  const { name, massA, massB, canBeWeighed, scaleIsEnough, ratioError, coarsestScale } = pour;
  if (scaleIsEnough) return undefined;
  const steps = `steps of ${scaleStepsText(coarsestScale)} would do`;
  const batch = leastWeighedText(pour.smallestBatch, step, system);
  const does = pour.smallestBatchMaySmoke ? steps : `${steps}, or a batch of ${batch} or more`;
  if (canBeWeighed)
    return `${name}: too little for this scale, which may put the ratio ${worstErrorText(ratioError)} off; ${does}.`;
  const [part, mass] = massA < massB ? (["A", massA] as const) : (["B", massB] as const);
  const has = ([system, system === "metric" ? "shop-us" : "metric"] as const).map((one) =>
    formatQuantity(mass, "mass", { system: one }),
  );
  return `${name}: it takes ${has[0]} (${has[1]}) of ${part}, less than one step of this scale: that cannot be weighed on it; ${does}.`;
}

/** No coarser than a sheet says it, s: a pot life of 45 min stays one. */
const TOLD_TO = 60;

/** To what a pot life is rounded, s: down, for who has longer than it is told loses no batch. */
export const potLifeStep = (seconds: number): number => Math.min(TOLD_TO, timeStep(seconds));

/** How long a batch can be used, of so much standing at so much; a resin that the catalog has no pot life of has a sheet. */
export function potLifeText({ potLife }: MixedPour, system: UnitSystem): string {
  if (potLife === null) return "see its sheet";
  const time = rangeInWords(potLife, "duration", {
    step: potLifeStep(potLife.low),
    towards: "down",
  });
  const mass = formatQuantity(potLife.mass, "mass", { system });
  return `${time} of ${mass} at ${formatQuantity(potLife.at, "temperature", { system })}`;
}

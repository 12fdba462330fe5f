import { checkJob } from "../../../lib/job/job.ts";
import { mixKinds } from "../../../lib/questions/mix/kinds.ts";
import { type MixAnswer, mix } from "../../../lib/questions/mix/mix.ts";
import { toUnit, type UnitSystem } from "../../../lib/units/display.ts";
import { formatQuantity, rangeInWords } from "../../../lib/units/format.ts";
import { type Problem, tried } from "../../../lib/units/problem.ts";
import { reasonPhrase } from "../../messages/reasons.ts";
import { ABOUT } from "../about.ts";
import { leverText } from "../report.ts";
import { tableText, wrapped } from "../table.ts";
import type { Question } from "./question.ts";

/**
 * What is wrong with pours of which every value can be read, while others of the job can't: the rest of it stands at its
 * defaults meanwhile.
 */
function wrongPours(raw: Record<string, unknown>, problems: readonly Problem[]): Problem[] {
  const listed = raw["mix"];
  const ofPour = (path: string) => /^mix\.pours\[\d+\]/.exec(path)?.[0];
  const broken = new Set(problems.map(({ path }) => ofPour(path)));
  // the list itself can't be read, or what its materials mean
  if (problems.some(({ path }) => /^(?:mix(?:\.pours)?|materials\b.*|)$/.test(path))) return [];
  const { materials } = raw;
  const alone = { bait: { thickness: "16 mm" }, ...(materials ? { materials } : {}) };
  const found: Problem[] = [];
  poursIn(listed).forEach((pour, i) => {
    const path = `mix.pours[${i}]`;
    if (broken.has(path)) return;
    const own: Problem[] = [];
    tried(own, () => mix(checkJob({ ...alone, mix: { pours: [pour] } }).job));
    for (const problem of own)
      if (ofPour(problem.path) !== undefined)
        found.push({ ...problem, path: problem.path.replace("mix.pours[0]", path) });
  });
  return found;
}

function poursIn(listed: unknown): readonly unknown[] {
  if (typeof listed !== "object" || listed === null || !("pours" in listed)) return [];
  return Array.isArray(listed.pours) ? listed.pours : [];
}

export const mixQuestion: Question<MixAnswer> = {
  name: "mix",
  about: ABOUT.mix,
  // without a list of its own it is asked about all pours on the way to its bait
  reads: ({ mix: { pours } }) => {
    const plastic = ["mix", "bait", "run.shots", "run.molds", "shot.material"];
    // whether a batch smokes in its cup hangs on them
    const inCup = ["room.temperature", "uncertainty.room", "pour.hardener", "pour.potLife"];
    plastic.push(...inCup, "pour.thinFilm", "pour.peakExotherm");
    return pours.length > 0
      ? plastic
      : [
          ...plastic,
          "pour.material",
          "pour.mass",
          "pour.depth",
          "pour.box",
          "pour.masters",
          "shrink.steps",
        ];
  },
  kinds: mixKinds,
  run: (job) => mix(job),
  alsoWrong: wrongPours,
  text({ answer }, job, system) {
    const step = job.mix.scale;
    const weigh = (si: number) => weighedText(si, step, system);
    // a smaller batch than this is too small
    const atLeast = (si: number) => weigh(Math.ceil(si / step - 1e-9) * step);
    const share = (si: number) => formatQuantity(si, "ratio", { step: 0.001 });
    return {
      headline: answer.pours.flatMap((p) => [
        `${p.name}: ${weigh(p.massA)} of A and ${weigh(p.massB)} of B.`,
        ...(p.scaleIsEnough
          ? []
          : [
              `${p.name}: too little for this scale, which may put the ratio ${share(p.ratioError)} off; steps of ${scaleSteps(p.coarsestScale)} would do.`,
            ]),
      ]),
      body: [
        ...tableText(
          ["pour", "to fill", "to mix", "A", "B", "smallest batch", "error of ratio"],
          answer.pours.map((p) => [
            p.name,
            formatQuantity(p.volume, "volume", { system }),
            weigh(onScale(p.massA, step) + onScale(p.massB, step)),
            weigh(p.massA),
            weigh(p.massB),
            atLeast(p.smallestBatch),
            share(p.ratioError),
          ]),
        ),
        "",
        `All weighed on a scale with steps of ${weigh(step)}.`,
        ...answer.pours.flatMap((p) => [
          `${p.name}: ${Number(p.byMass.toPrecision(3))} of B to 100 of A by weight${p.byVolume === null ? "" : `, ${Number(p.byVolume.toPrecision(3))} by volume`}.`,
          ...(p.mixedUp === null
            ? []
            : wrapped(
                `${p.name}: weight taken for volume, or the other way round, puts the ratio ${share(p.mixedUp)} off.`,
                96,
              )),
        ]),
        "",
        "Smallest batch for this scale, by the error of the ratio",
        ...tableText(
          ["pour", "3 %", "5 %", "pot life"],
          answer.pours.map((p) => [
            p.name,
            ...p.smallestBy.map(({ mass }) => atLeast(mass)),
            p.potLife === null
              ? "see its sheet"
              : `${rangeInWords(p.potLife, "duration")} of ${formatQuantity(p.potLife.mass, "mass", { system })}`,
          ]),
        ),
        ...wrapped(
          `A ratio 5 to 10 % off leaves it soft or greasy. The pot life counts from the moment of mixing, at ${formatQuantity(298.15, "temperature", { system })}; it halves for every ${formatQuantity(10, "temperatureDifference", { system })} warmer, and a larger cup has less.`,
          96,
        ),
        "",
        `Plastic for ${answer.plastic.shots} shots: ${weigh(answer.plastic.mass)}, of it ${stirred(answer.plastic, weigh)}.`,
        ...(answer.decidedBy === null ? [] : [`Decided by ${reasonPhrase(answer.decidedBy)}.`]),
      ],
      // scales are made with steps of a gram's parts
      levers: answer.levers.map((lever) =>
        leverText(lever, lever.code === "finer_scale" ? "metric" : system),
      ),
    };
  },
};

/** The coarsest steps that scales are made with and that are no coarser than this, kg. */
function scaleSteps(most: number): string {
  const grams = most * 1000;
  const power = 10 ** Math.floor(Math.log10(grams) + 1e-9);
  const step = [5, 2, 1].find((digit) => digit * power <= grams * (1 + 1e-9)) ?? 1;
  return `${Number((step * power).toPrecision(1))} g`;
}

/** As the scale shows it, kg: whole steps. */
const onScale = (si: number, step: number) => Math.round(si / step) * step;

/** Figures after the point that show every step, three at the most. */
function figuresFor(step: number): number {
  const fits = [0, 1, 2].find((n) => Math.abs(step * 10 ** n - Math.round(step * 10 ** n)) < 1e-6);
  return fits ?? 3;
}

/** Figures after the point that tell one step from the next with something to spare. */
const finestFor = (step: number): number => Math.max(0, Math.ceil(-Math.log10(step / 4)));

/** A mass as the scale shows it, in whole steps; in grams and in ounces it is the same one. */
function weighedText(si: number, step: number, system: UnitSystem): string {
  const shown = onScale(si, step);
  // of the steps of an ounce scale a gram more or less shows which it is, not its hundredths
  const grams = `${Number((shown * 1000).toFixed(Math.min(finestFor(step * 1000), figuresFor(step * 1000))))} g`;
  // between the steps of a gram scale an ounce has no figures of its own
  const figures = figuresFor(toUnit(step, "oz"));
  const ounces = `${Number(toUnit(shown, "oz").toFixed(figures === 3 ? 2 : figures))} oz`;
  return system === "shop-us" ? `${ounces} (${grams})` : `${grams} (${ounces})`;
}

/** What is stirred together, by weight. */
function stirred(plastic: MixAnswer["answer"]["plastic"], weigh: (si: number) => string): string {
  const parts = (["color", "hardener", "softener", "glitter"] as const).filter(
    (name) => plastic[name] > 0,
  );
  return [
    `${weigh(plastic.plain)} plain`,
    ...parts.map((name) => `${weigh(plastic[name])} ${name}`),
  ].join(", ");
}

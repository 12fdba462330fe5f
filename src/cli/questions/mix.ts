import { checkJob } from "../../../lib/job/job.ts";
import { type MixAnswer, mix } from "../../../lib/questions/mix/mix.ts";
import { formatQuantity } from "../../../lib/units/format.ts";
import { type Problem, tried } from "../../../lib/units/problem.ts";
import { reasonPhrase } from "../../messages/reasons.ts";
import {
  leastWeighedText,
  mixedText,
  potLifeText,
  smallestBatchText,
  tooSmallLine,
  weighedText,
  worstErrorText,
} from "../../messages/weighing.ts";
import { leverText } from "../report.ts";
import { tableText, wrapped } from "../table.ts";
import type { Telling } from "./question.ts";

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

export const mixQuestion: Telling<MixAnswer> = {
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
  alsoWrong: wrongPours,
  text({ answer }, job, system) {
    const step = job.mix.scale;
    const weigh = (si: number) => weighedText(si, step, system);
    return {
      headline: answer.pours.flatMap((p) => {
        const short = tooSmallLine(p, step, system);
        return [
          ...(p.canBeWeighed
            ? [`${p.name}: ${weigh(p.massA)} of A and ${weigh(p.massB)} of B.`]
            : []),
          ...(short === undefined ? [] : [short]),
        ];
      }),
      body: [
        ...tableText(
          ["pour", "to fill", "to mix", "A", "B", "smallest batch", "error of ratio"],
          answer.pours.map((p) => [
            p.name,
            formatQuantity(p.volume, "volume", { system }),
            mixedText(p, step, system),
            weigh(p.massA),
            weigh(p.massB),
            smallestBatchText(p, step, system),
            worstErrorText(p.ratioError),
          ]),
        ),
        "",
        `All weighed on a scale with steps of ${weigh(step)}.`,
        ...answer.pours.flatMap((p) => [
          `${p.name}: ${Number(p.byMass.toPrecision(3))} of B to 100 of A by weight${p.byVolume === null ? "" : `, ${Number(p.byVolume.toPrecision(3))} by volume`}.`,
          ...(p.mixedUp === null
            ? []
            : wrapped(
                `${p.name}: weight taken for volume, or the other way round, puts the ratio ${formatQuantity(Number(p.mixedUp.toPrecision(2)), "ratio")} off.`,
                96,
              )),
        ]),
        "",
        "Smallest batch for this scale, by the error of the ratio",
        ...tableText(
          ["pour", "3 %", "5 %", "pot life"],
          answer.pours.map((p) => [
            p.name,
            ...p.smallestBy.map(({ mass }) => leastWeighedText(mass, step, system)),
            potLifeText(p, system),
          ]),
        ),
        ...wrapped(
          `A ratio 5 to 10 % off leaves it soft or greasy. The pot life counts from the moment of mixing; it halves for every ${formatQuantity(10, "temperatureDifference", { system })} warmer, and a larger cup has less.`,
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

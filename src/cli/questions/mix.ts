import { mixKinds } from "../../../lib/questions/mix/kinds.ts";
import { type MixAnswer, mix } from "../../../lib/questions/mix/mix.ts";
import { formatQuantity, rangeInWords } from "../../../lib/units/format.ts";
import { reasonPhrase } from "../../messages/reasons.ts";
import { ABOUT } from "../about.ts";
import { inBoth, leverText } from "../report.ts";
import { tableText, wrapped } from "../table.ts";
import type { Question } from "./question.ts";

export const mixQuestion: Question<MixAnswer> = {
  name: "mix",
  about: ABOUT.mix,
  // without a list of its own it is asked about all pours on the way to its bait
  reads: ({ mix: { pours } }) => {
    const plastic = ["mix", "bait", "run.shots", "run.molds", "shot.material"];
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
  text({ answer }, job, system) {
    const step = job.mix.scale;
    // a kitchen scale shows grams, whatever the reader's units
    const weigh = (si: number) => inBoth(si, "mass", system, step);
    const share = (si: number) => formatQuantity(si, "ratio", { step: 0.001 });
    return {
      headline: answer.pours.map(
        (p) => `${p.name}: ${weigh(p.massA)} of A and ${weigh(p.massB)} of B.`,
      ),
      body: [
        ...tableText(
          ["pour", "to fill", "to mix", "A", "B", "smallest batch", "error of ratio"],
          answer.pours.map((p) => [
            p.name,
            formatQuantity(p.volume, "volume", { system }),
            weigh(p.mass),
            weigh(p.massA),
            weigh(p.massB),
            weigh(p.smallestBatch),
            share(p.ratioError),
          ]),
        ),
        "",
        `All weighed on a scale with steps of ${formatQuantity(step, "mass")}.`,
        ...answer.pours.flatMap((p) => [
          `${p.name}: ${Number(p.byMass.toPrecision(3))} of B to 100 of A by weight${p.byVolume === null ? "" : `, ${Number(p.byVolume.toPrecision(3))} by volume`}.`,
          ...(p.scaleIsEnough
            ? []
            : [
                `${p.name}: too little for this scale; steps of ${formatQuantity(p.coarsestScale, "mass")} would do.`,
              ]),
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
            ...p.smallestBy.map(({ mass }) => weigh(mass)),
            p.potLife === null
              ? "see its sheet"
              : `${rangeInWords(p.potLife, "duration")} of ${formatQuantity(p.potLife.mass, "mass", { system })}`,
          ]),
        ),
        ...wrapped(
          "A ratio 5 to 10 % off leaves it soft or greasy. The pot life counts from the moment of mixing, at 25 °C; it halves for every 10 K warmer, and a larger cup has less.",
          96,
        ),
        "",
        `Plastic for ${answer.plastic.shots} shots: ${inBoth(answer.plastic.mass, "mass", system)}, of it ${stirred(answer.plastic, weigh)}.`,
        ...(answer.decidedBy === null ? [] : [`Decided by ${reasonPhrase(answer.decidedBy)}.`]),
      ],
      levers: answer.levers.map((lever) => leverText(lever, system)),
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

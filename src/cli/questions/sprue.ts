import type { Quantified } from "../../../lib/answers/answer.ts";
import { sprueProblems } from "../../../lib/questions/sprue/problems.ts";
import type { SprueAnswer } from "../../../lib/questions/sprue/sprue.ts";
import { formatQuantity, rangeInWords, timeText } from "../../../lib/units/format.ts";
import { inputName } from "../../messages/inputs.ts";
import { reasonPhrase } from "../../messages/reasons.ts";
import { causeText, leverText, rangeInBoth } from "../report.ts";
import { lengthsOf, tableText, wrapped } from "../table.ts";
import type { Telling } from "./question.ts";

const DEFECT = { none: "no dent to speak of", dent: "a dent", void: "a void inside" } as const;
/** What is known of a skin, m. */
const SKIN_STEP = { metric: 1e-4, "shop-us": 0.0254 / 200 } as const;
const FILLS = { surely: "fills", perhaps: "may not fill", hardly: "will hardly fill" } as const;

const thicknesses = (bodies: readonly { readonly thickness: number }[]): number[] =>
  bodies.map(({ thickness }) => thickness);

export const sprueQuestion: Telling<SprueAnswer> = {
  reads: ["room", "bait", "mold", "shot", "sprue", "limits.set", "run.preheat", "uncertainty"],
  problems: (_, job) => sprueProblems(job),
  text({ answer }, job, system) {
    const { closes, bodyMean, shrinkLeft, unfed, defect, fill, diameterNeeded, noneSuffices } =
      answer;
    const hot = (si: number) => formatQuantity(si, "temperature", { system });
    const long = (si: number) => formatQuantity(si, "length", { system, fractions: true });
    const thick = lengthsOf(thicknesses(answer.stations), system);
    const sheet = lengthsOf(thicknesses(answer.fill.table.rows), system);
    const skin = (si: number) => formatQuantity(si, "length", { system, step: SKIN_STEP[system] });
    const wait = timeText;
    const share = (si: number) => formatQuantity(si, "ratio", { step: 0.001 });
    const inWords = (range: Quantified) =>
      Number.isFinite(range.high)
        ? rangeInBoth(range, range.kind, system)
        : `${formatQuantity(range.value, range.kind, { system })}, in a warm mold without end`;
    return {
      headline: [
        `The way in closes ${inWords(closes)} after filling.`,
        `Decided by ${reasonPhrase(answer.decidedBy)}.`,
        `Left to shrink then: ${rangeInWords(shrinkLeft, "ratio")} of the fattest part's volume; expect ${DEFECT[defect]}.`,
        ...causeText(answer.cause, answer.closes),
      ],
      body: [
        `The body is then at ${inWords(bodyMean)} on average.`,
        `Never fed: ${rangeInWords(unfed, "ratio")} of the volume.`,
        `Hold the injector for ${inWords(answer.hold)}.`,
        `To have ready for topping off: ${inWords(answer.topOffMass)}.`,
        diameterNeeded === null
          ? `No sprue feeds it to the end, because of ${noneSuffices === null ? "the body" : reasonPhrase(noneSuffices)}.`
          : `A sprue of ${inWords(diameterNeeded)}, with a gate as wide, would feed it to the end; it has ${long(job.sprue.diameter)}.`,
        "",
        ...tableText(
          ["station", "taken as", "mean then", "skin", "left to shrink", "not fed", "expect"],
          answer.stations.map((s) => [
            s.name,
            `${s.form} ${thick(s.thickness)}`,
            hot(s.mean),
            skin(s.skin),
            share(s.shrinkLeft),
            share(s.unfed),
            DEFECT[s.defect],
          ]),
        ),
        "",
        `The thinnest part (${fill.station}) ${FILLS[fill.fills]}: it stays open ${inWords(fill.until)}, filling takes ${wait(fill.need)}.`,
        ...(closes.low < fill.need
          ? wrapped(
              "The way in closes before the cavity is full, unless what runs through it keeps it hot: it is thin for this shot.",
              96,
            )
          : []),
        ...(fill.preheat === null || fill.fills === "surely"
          ? []
          : wrapped(
              `A mold at ${hot(fill.preheat)} most likely buys half as much time again, but none for bad luck; the fattest part then opens after ${fill.opensPreheated === null ? "longer" : wait(fill.opensPreheated)} instead of ${wait(fill.opensAt)}.`,
              96,
            )),
        "",
        "Time to fill, by thickness and mold temperature",
        ...tableText(
          ["thickness", ...fill.table.moldTemperature.map(hot)],
          fill.table.rows.map((row) => [
            `${row.form} ${sheet(row.thickness)}`,
            ...row.until.map((t) => timeText(t, "down")),
          ]),
        ),
        "",
        ...wrapped(`Guessed: ${answer.guesses.map(inputName).join("; ")}.`, 96),
      ],
      levers: answer.levers.map((lever) => leverText(lever, system)),
      leversGive: "the share of its volume that is never fed then",
    };
  },
};

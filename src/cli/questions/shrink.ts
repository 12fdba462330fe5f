import { shrinkKinds } from "../../../lib/questions/shrink/kinds.ts";
import { type ShrinkAnswer, shrink } from "../../../lib/questions/shrink/shrink.ts";
import { formatRange, rangeInWords } from "../../../lib/units/format.ts";
import { reasonPhrase } from "../../messages/reasons.ts";
import { ABOUT } from "../about.ts";
import { rangeInBoth } from "../report.ts";
import { rulerSvg } from "../ruler.ts";
import { tableText } from "../table.ts";
import type { Question } from "./question.ts";

export const shrinkQuestion: Question<ShrinkAnswer> = {
  name: "shrink",
  about: ABOUT.shrink,
  reads: ["shrink", "bait.length"],
  kinds: shrinkKinds,
  run: (job) => shrink(job),
  text({ answer }, _job, system) {
    const { scale, masterLength, steps, decidedBy } = answer;
    const larger = { value: scale.value - 1, low: scale.low - 1, high: scale.high - 1 };
    return {
      headline: [
        `Sculpt it ${rangeInWords(larger, "ratio")} larger.`,
        `The first master is ${rangeInBoth(masterLength, "length", system)} long.`,
        ...(decidedBy === null ? [] : [`Decided by ${reasonPhrase(decidedBy)}.`]),
      ],
      body: tableText(
        ["step", "material", "shrinks", "from", "to", "size left", "is then long"],
        steps.map((s) => {
          const { value, low, high } = formatRange(s.shrinkage, "ratio");
          return [
            s.name,
            s.material,
            value,
            low,
            high,
            formatRange(s.size, "ratio").value,
            formatRange(s.length, "length", { system }).value,
          ];
        }),
      ),
    };
  },
  files: ({ answer }, job, system) => [
    {
      name: "shrink-ruler.svg",
      text: rulerSvg(answer.scale.value, job.bait.length, system),
    },
  ],
};

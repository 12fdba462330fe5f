import type { ShrinkAnswer } from "../../../lib/questions/shrink/shrink.ts";
import {
  formatQuantity,
  formatRange,
  rangeInWords,
  type Shown,
} from "../../../lib/units/format.ts";
import { reasonPhrase } from "../../messages/reasons.ts";
import { CALIPER_STEPS, SHARE_STEP, sculptedText } from "../../messages/shrinking.ts";
import { rulerSvg } from "../ruler.ts";
import { tableText } from "../table.ts";
import type { Telling } from "./question.ts";

export const shrinkQuestion: Telling<ShrinkAnswer> = {
  reads: ["shrink", "bait.length"],
  text({ answer }, _job, system) {
    const { scale, masterLength, steps, decidedBy } = answer;
    const length = (range: Shown) =>
      formatRange(range, "length", { system, step: CALIPER_STEPS[system] });
    return {
      headline: [
        `Sculpt it ${sculptedText(scale)}.`,
        `The first master is ${rangeInWords(masterLength, "length", { system, step: CALIPER_STEPS[system] })} long.`,
        ...(decidedBy === null ? [] : [`Decided by ${reasonPhrase(decidedBy)}.`]),
      ],
      body: tableText(
        ["step", "material", "shrinks", "from", "to", "size left", "is then long"],
        steps.map((s) => {
          const { value, low, high } = s.shrinkage;
          return [
            s.name,
            s.material,
            ...[value, low, high].map((x) => formatQuantity(x, "ratio")),
            formatQuantity(s.size.value, "ratio", { step: SHARE_STEP }),
            length(s.length).value,
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

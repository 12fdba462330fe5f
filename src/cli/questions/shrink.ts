import { shrinkKinds } from "../../../lib/questions/shrink/kinds.ts";
import { type ShrinkAnswer, shrink } from "../../../lib/questions/shrink/shrink.ts";
import type { UnitSystem } from "../../../lib/units/display.ts";
import {
  formatQuantity,
  formatRange,
  rangeInWords,
  type Shown,
} from "../../../lib/units/format.ts";
import { reasonPhrase } from "../../messages/reasons.ts";
import { ABOUT } from "../about.ts";
import { rulerSvg } from "../ruler.ts";
import { tableText } from "../table.ts";
import type { Question } from "./question.ts";

/** Shares are the catalog's or the user's, with the digits that they were written with; what is made of them has these. */
const SHARE_STEP = 0.001;
/** What a caliper shows without a doubt: 0.1 mm, 0.01 in. */
const LENGTH_STEPS: Readonly<Record<UnitSystem, number>> = { metric: 1e-4, "shop-us": 2.54e-4 };

export const shrinkQuestion: Question<ShrinkAnswer> = {
  name: "shrink",
  about: ABOUT.shrink,
  reads: ["shrink", "bait.length"],
  kinds: shrinkKinds,
  run: (job) => shrink(job),
  text({ answer }, _job, system) {
    const { scale, masterLength, steps, decidedBy } = answer;
    const length = (range: Shown) =>
      formatRange(range, "length", { system, step: LENGTH_STEPS[system] });
    const larger = { value: scale.value - 1, low: scale.low - 1, high: scale.high - 1 };
    return {
      headline: [
        `Sculpt it ${rangeInWords(larger, "ratio", { step: SHARE_STEP })} larger.`,
        `The first master is ${rangeInWords(masterLength, "length", { system, step: LENGTH_STEPS[system] })} long.`,
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

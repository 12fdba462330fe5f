import type { DemoldAnswer } from "../../../lib/questions/demold/demold.ts";
import { demoldProblems } from "../../../lib/questions/demold/problems.ts";
import { formatQuantity, timeText } from "../../../lib/units/format.ts";
import { reasonPhrase } from "../../messages/reasons.ts";
import { courseFigure } from "../figures.ts";
import {
  causeText,
  inBoth,
  leverText,
  rangeInBoth,
  sprueHold,
  wallLines,
  wallWarning,
} from "../report.ts";
import { lengthsOf, tableText } from "../table.ts";
import { OF_ONE_SHOT, type Telling } from "./question.ts";

export const demoldQuestion: Telling<DemoldAnswer> = {
  reads: [
    ...[...OF_ONE_SHOT, "sprue.diameter"],
    ...["limits.demold", "limits.set", "limits.wall", "uncertainty"],
  ],
  problems: (_, job) => demoldProblems(job),
  text({ answer }, _job, system) {
    const { time, decidedBy, stations, limit, mean, skin, table, difference, full } = answer;
    const hot = (si: number) => formatQuantity(si, "temperature", { system });
    const size = lengthsOf(
      stations.flatMap((s) => [s.width, s.height, s.standIn]),
      system,
    );
    const thick = lengthsOf(
      table.flatMap((row) => (full ? [row.thickness, row.width] : [row.thickness])),
      system,
    );
    const wait = timeText;
    return {
      headline: Number.isFinite(time.value)
        ? [
            `Open ${rangeInBoth(time, "duration", system)} after the shot.`,
            ...sprueHold(answer.sprueUntil),
            ...wallWarning(answer.wallPeak, answer.wallLimit, system, true),
            `Decided by ${reasonPhrase(decidedBy)}.`,
            ...causeText(answer.cause, answer.time),
          ]
        : [`Never: it does not get down to ${inBoth(limit, "temperature", system)}.`],
      body: [
        `Opened when its hottest point is at ${inBoth(limit, "temperature", system)}; then it is ${hot(mean)} on average, ${hot(skin)} at the skin.`,
        ...wallLines(answer.wallPeak, answer.wallLimit, system),
        full === null || difference === null
          ? "The quick look: each station as a round bar or a sheet."
          : `The true cross-section in its block takes ${percent(difference)} than the quick look as a bar or sheet.`,
        "",
        ...tableText(
          ["station", "width", "height", "quick look as", "open after", "face peaks at"],
          stations.map((s) => [
            s.name,
            size(s.width),
            size(s.height),
            `${s.form} ${size(s.standIn)}`,
            wait(s.time),
            hot(s.wallPeak),
          ]),
        ),
        ...(table.length === 0
          ? []
          : [
              "",
              `Sheets, such as tails and fins, and round bodies: first shot into this mold${full ? "" : ", as the quick look has it"}`,
              ...tableText(
                ["form", "thickness", ...(full ? ["width"] : []), "open after", "mean then"],
                table.map((row) => [
                  row.form === "flat" ? "sheet" : "round",
                  thick(row.thickness),
                  ...(full ? [thick(row.width)] : []),
                  wait(row.time),
                  hot(row.mean),
                ]),
              ),
            ]),
      ],
      levers: answer.levers.map((lever) => leverText(lever, system)),
    };
  },
  drawings: ({ answer }) => [
    {
      name: "demold",
      figure: courseFigure("The slowest station until it is opened", answer.course, answer.limit, [
        ["hottest", "warm", "hottest point"],
        ["mean", "ink", "mean"],
        ["skin", "skin", "skin"],
        ["wall", "wall", "mold face"],
      ]),
    },
  ],
};

function percent(share: number): string {
  const size = Math.round(Math.abs(share) * 100);
  return size === 0 ? "no longer and no less" : `${size} % ${share > 0 ? "longer" : "less"}`;
}

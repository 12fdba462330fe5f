import type { Job } from "../../../lib/job/types.ts";
import { shotsProblems } from "../../../lib/questions/shots/problems.ts";
import type { ShotsAnswer } from "../../../lib/questions/shots/shots.ts";
import type { UnitSystem } from "../../../lib/units/display.ts";
import { formatQuantity, timeText } from "../../../lib/units/format.ts";
import { reasonPhrase } from "../../messages/reasons.ts";
import { timerLines } from "../../messages/timer.ts";
import {
  causeText,
  inBoth,
  leverText,
  rangeInBoth,
  sprueHold,
  wallLines,
  wallWarning,
} from "../report.ts";
import { tableText } from "../table.ts";
import type { Telling } from "./question.ts";

/** Rows of the table; of a longer run its last shot, too. */
const MOST_ROWS = 30;

/** Whole baits; tenths where there are few. */
const baits = (perHour: number) => perHour.toFixed(perHour < 5 ? 1 : 0);

export const shotsQuestion: Telling<ShotsAnswer> = {
  reads: [
    ...["room", "bait", "mold", "shot", "run", "sprue.diameter"],
    ...["limits.demold", "limits.set", "limits.wall", "uncertainty"],
  ],
  problems: (answer, job) => shotsProblems(job, answer),
  text({ answer }, job, system) {
    const { steady, timer, first, settled, baitsPerHour, handsBindFrom, fastest } = answer;
    const hot = (si: number) => formatQuantity(si, "temperature", { system });
    const wait = timeText;
    const listed = answer.shots.filter(
      ({ number }) => number <= MOST_ROWS || number === answer.shots.length,
    );
    const hotFirst =
      (answer.shots[0]?.wallPeak ?? 0) > (answer.wallLimit ?? Number.POSITIVE_INFINITY);
    return {
      headline: [
        `First shot: open ${rangeInBoth(first, "duration", system)} after it.`,
        `Once the mold has settled: ${rangeInBoth(settled, "duration", system)}.`,
        ...sprueHold(answer.sprueUntil),
        ...timerText(answer, job, system),
        ...wallWarning(answer.wallPeak, answer.wallLimit, system, hotFirst),
        `Decided by ${reasonPhrase(answer.decidedBy)}.`,
        ...causeText(answer.cause, answer.settled),
      ],
      body: [
        ...wallLines(answer.wallPeak, answer.wallLimit, system),
        "",
        ...tableText(
          [
            "shot",
            "open after",
            "face before",
            "face peak",
            `hottest at ${job.run.timer === null ? wait(timer) : formatQuantity(timer, "duration")}`,
          ],
          [
            ...listed.map((s) => [
              String(s.number),
              wait(s.demold),
              hot(s.wallBefore),
              hot(s.wallPeak),
              hot(s.hottestByTimer),
            ]),
            [
              "settled",
              wait(steady.demold),
              hot(steady.wallBefore),
              hot(steady.wallPeak),
              hot(steady.hottestByTimer),
            ],
          ],
        ),
        ...(listed.length > MOST_ROWS && answer.shots.length > MOST_ROWS + 1
          ? [
              `Shots ${MOST_ROWS + 1} to ${answer.shots.length - 1} are not listed; --json has them.`,
            ]
          : []),
        job.run.timer === null
          ? "The last column: opened each time as soon as the first shot was."
          : "The last column: opened each time by the fixed timer.",
        "",
        ...tableText(
          ["molds", "baits an hour", "between", "in the session", "open after", "bound by"],
          baitsPerHour.map((r) => [
            String(r.molds),
            baits(r.perHour),
            `${baits(r.perHourRange.low)} and ${baits(r.perHourRange.high)}`,
            String(Math.floor(r.perSession)),
            wait(r.demold),
            r.boundBy,
          ]),
        ),
        ...(handsBindFrom === null
          ? []
          : [`From ${handsBindFrom} molds on the hands set the pace, not the heat.`]),
        fastest === null
          ? "No pace keeps the cavity face below its limit."
          : `Fastest with one mold: ${wait(fastest.open)} open between shots, about ${baits(fastest.perHour)} baits an hour.`,
      ],
      levers: answer.levers.map((lever) => leverText(lever, system)),
      leversGive: "time for each bait then, most gain for the effort first",
    };
  },
  drawings: ({ answer }) => [
    {
      name: "shots",
      figure: {
        kind: "figure",
        caption: "Open time by shot",
        x: { label: "Shot" },
        y: { label: "Open after", unit: "s" },
        marks: [
          {
            mark: "rule-y",
            data: [],
            y: answer.steady.demold,
            stroke: "quiet",
            strokeDasharray: "4 4",
          },
          {
            mark: "line",
            data: {
              n: answer.shots.map((s) => s.number),
              t: answer.shots.map((s) => (Number.isFinite(s.demold) ? s.demold : null)),
            },
            x: "n",
            y: "t",
            stroke: "accent",
          },
        ],
      },
    },
  ],
};

/** The timer's warning, with how hot it is when it rings. */
function timerText(
  { tooEarly }: ShotsAnswer["answer"],
  { limits }: Job,
  system: UnitSystem,
): string[] {
  const lines = timerLines(tooEarly);
  if (tooEarly === null || !tooEarly.likely) return lines;
  const [hottest, limit] = [tooEarly.hottest, limits.demold].map((si) =>
    inBoth(si, "temperature", system),
  );
  return [...lines, `Its hottest point is then at up to ${hottest}; it opens well at ${limit}.`];
}

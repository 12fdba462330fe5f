import type { WallsAnswer } from "../../../lib/questions/walls/walls.ts";
import {
  boundText,
  formatQuantity,
  formatRange,
  type Shown,
  type Towards,
  timeText,
} from "../../../lib/units/format.ts";
import { leverLine } from "../../messages/levers.ts";
import { reasonPhrase } from "../../messages/reasons.ts";
import { wallSide } from "../../messages/wall-side.ts";
import { boundInBoth, changeText } from "../report.ts";
import { tableText } from "../table.ts";
import type { Telling } from "./question.ts";

/** A half of a few grams is told by the gram, kg. */
const massStep = (kg: number): number => (kg < 0.1 ? 1e-3 : 0.01);

export const wallsQuestion: Telling<WallsAnswer> = {
  reads: ["room", "bait", "mold", "shot", "run", "pour", "limits", "uncertainty"],
  text({ answer }, job, system) {
    const { least, most, recommended, inLayers, mass, points, face, opens } = answer;
    const hot = (si: number) => formatQuantity(si, "temperature", { system });
    const long = (si: number) =>
      formatQuantity(si, "length", { system, step: 0.001, fractions: true });
    const weight = (kg: number | null) =>
      kg === null
        ? ""
        : `, ${formatQuantity(kg, "mass", { system, step: massStep(kg) })} of resin a half`;
    const reach = (range: Shown, towards: Towards, none: string) => {
      const { value, low, high } = range;
      if (!Number.isFinite(value)) return none;
      if (low === high)
        return low > 0 ? boundText(value, "length", towards, system) : "no wall at all";
      const {
        low: from,
        value: likely,
        high: to,
      } = formatRange(range, "length", { system, towards });
      const most = Number.isFinite(high) ? to : "no limit";
      if (low > 0) return `between ${from} and ${most}, most likely ${likely}`;
      return `most likely ${value > 0 ? likely : "none"}, between no wall at all and ${most}`;
    };
    const wall = (si: number) => boundInBoth(si, "length", wallSide(si, least.value), system);
    return {
      headline: [
        recommended === null
          ? inLayers === null
            ? Number.isFinite(least.value)
              ? "No wall that bears these shots is safe to pour with bad luck, neither at once nor in layers of 6 mm (1/4 in) or more."
              : "No wall of up to 80 mm bears these shots."
            : `No wall is safe in one pour with bad luck. In layers: make it ${wall(inLayers)} thick.`
          : `Make the wall ${wall(recommended)} thick${weight(mass.recommended)}.`,
        ...(answer.hardens
          ? []
          : [
              "In this room the pour does not harden within a week: what follows holds for its heat alone; ask `pour` how to warm it.",
            ]),
        `At least: ${reach(least, "up", "no wall of up to 80 mm holds")}. Decided by ${
          answer.leastDecidedBy === "stiffness"
            ? "the clamp: a thinner wall bends or cracks (limits.stiff; the usual value is common practice, no source)"
            : reasonPhrase({ code: answer.leastDecidedBy })
        }.`,
        `At most, poured in one go: ${reach(most, "down", "no limit from its heat")}. ${
          answer.mostDecidedBy === "size_looked_at"
            ? "Thicker ones were not looked at."
            : `Decided by ${reasonPhrase({ code: answer.mostDecidedBy })}.`
        }`,
        ...(Number.isFinite(answer.mostWithBadLuck)
          ? [
              `With everything unlucky at once: ${answer.mostWithBadLuck > 0 ? `at most ${boundText(answer.mostWithBadLuck, "length", "down", system)}` : "no wall at all"}.`,
            ]
          : []),
      ],
      body: [
        `Over a run of ${answer.shots} shots, in the quick look of one dimension. ${wallVerdict(answer, job.mold.wall, long)}`,
        ...(answer.wallLimit === null
          ? []
          : [
              `The cavity face bears ${hot(answer.wallLimit)}, the pour may get to ${hot(answer.pourLimit)}.`,
            ]),
        ...(face === null
          ? []
          : [
              `Hottest face then ${hot(face.wallPeak)}; this resin stays hard up to ${hot(face.glass)}${face.holds ? "" : ": post-cure it"}.`,
            ]),
        "",
        ...tableText(
          ["wall", "face in the run", "last shot opens after", "pour gets to", "one half weighs"],
          points.map((p) => [
            long(p.wall),
            hot(p.wallPeak),
            Number.isFinite(p.lastDemold) ? timeText(p.lastDemold) : "never",
            hot(p.pourPeak),
            formatQuantity(p.mass, "mass", { system, step: massStep(p.mass) }),
          ]),
        ),
      ],
      levers: opens.map(({ code, change, gives, moves, hardens }) => {
        const side = moves === "least" ? "up" : "down";
        const to = (si: number) =>
          Number.isFinite(si) ? boundText(si, "length", side, system) : "no limit";
        const result = gives ? `: ${moves} ${to(gives.value)}` : `: moves the ${moves}`;
        return `${leverLine(code)}${changeText(change, system)}${result}${hardens === false ? ", but it would not harden within a week" : ""}`;
      }),
      leversGive: "the most or the least wall then",
    };
  },
  drawings: ({ answer: { points, wallLimit, pourLimit } }) => [
    {
      name: "walls",
      figure: {
        kind: "figure",
        caption: "Hottest cavity face in the run and hottest place of the pour, by wall",
        x: { label: "Wall", unit: "mm" },
        y: { label: "Temperature", unit: "degC" },
        marks: [
          ...(wallLimit === null
            ? []
            : [
                {
                  mark: "rule-y" as const,
                  data: [],
                  y: wallLimit,
                  stroke: "wall" as const,
                  strokeDasharray: "4 4",
                },
              ]),
          { mark: "rule-y", data: [], y: pourLimit, stroke: "warm", strokeDasharray: "4 4" },
          {
            mark: "line",
            data: { wall: points.map((p) => p.wall), T: points.map((p) => p.wallPeak) },
            x: "wall",
            y: "T",
            stroke: "wall",
            label: "face in the run",
          },
          {
            mark: "line",
            data: { wall: points.map((p) => p.wall), T: points.map((p) => p.pourPeak) },
            x: "wall",
            y: "T",
            stroke: "warm",
            label: "pour",
          },
        ],
      },
    },
  ],
};

/** What becomes of the wall that the job has. */
function wallVerdict(
  { least, most, mostWithBadLuck }: WallsAnswer["answer"],
  wall: number,
  long: (si: number) => string,
): string {
  const yours = `Your wall of ${long(wall)}`;
  if (!Number.isFinite(least.value))
    return `${yours} does not serve either${wall > most.value ? ", and most likely gets too hot in one pour" : ""}.`;
  if (wall < least.value) return `${yours} is too thin.`;
  if (wall > most.value) return `${yours} most likely gets too hot in one pour.`;
  if (wall > mostWithBadLuck)
    return `${yours} serves if nothing turns out badly; with bad luck it gets too hot in one pour.`;
  if (wall < least.high) return `${yours} serves if nothing turns out badly in the run.`;
  return `${yours} serves, with bad luck, too.`;
}

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
import { tableText, wrapped } from "../table.ts";
import type { Telling } from "./question.ts";

/** A half of a few grams is told by the gram, kg. */
const massStep = (kg: number): number => (kg < 0.1 ? 1e-3 : 0.01);

export const wallsQuestion: Telling<WallsAnswer> = {
  reads: ["room", "bait", "mold", "shot", "run", "pour", "limits", "uncertainty"],
  text({ answer, ignored }, job, system) {
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
        `Over a run of ${answer.shots} shots: your own wall as \`shots\` has it, others carried over from there.`,
        ...wrapped(wallVerdict(answer, ignored.includes("neighbor_cavities"), long, hot), 96),
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

/**
 * What becomes of the wall that the job has.
 *
 * @param alone its neighbor cavities were left out
 */
function wallVerdict(
  answer: WallsAnswer["answer"],
  alone: boolean,
  long: (si: number) => string,
  hot: (si: number) => string,
): string {
  const { least, most, mostWithBadLuck, own, wallLimit, shots } = answer;
  const { wall, wallPeak, settledPeak, lastDemold } = own;
  const opens = Number.isFinite(lastDemold)
    ? `its last shot opens after ${timeText(lastDemold)}`
    : "its last shot never gets cool enough to open";
  const yours = `Your wall of ${long(wall)}`;
  const limit = wallLimit ?? Number.POSITIVE_INFINITY;
  const found = `Its face gets to ${hot(wallPeak)} in the run, ${opens}.`;
  const says = (verdict: string) => `${yours} ${verdict}. ${found}`;
  if (wallPeak > limit || !Number.isFinite(lastDemold)) {
    const pourToo = wall > most.value ? ", and most likely gets too hot in one pour" : "";
    return says(
      Number.isFinite(least.value) && wall < least.value
        ? `is too thin${pourToo}`
        : `does not serve${Number.isFinite(least.value) ? "" : " either"}${pourToo}`,
    );
  }
  if (wall < least.value) return says("is too thin");
  if (wall > most.value) return says("most likely gets too hot in one pour");
  if (settledPeak !== null)
    return says(
      `serves for ${shots === 1 ? "one shot" : `${shots} shots`} and not for many more: once it has settled its face gets to ${hot(settledPeak)}`,
    );
  if (alone)
    return says("is not judged: its cavities warm each other, which this quick look leaves out");
  if (wall > mostWithBadLuck)
    return says("serves if nothing turns out badly; with bad luck it gets too hot in one pour");
  if (wall < least.high) return says("serves if nothing turns out badly in the run");
  return says("serves, with bad luck, too");
}

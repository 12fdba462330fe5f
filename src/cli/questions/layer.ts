import type { Quantified } from "../../../lib/answers/answer.ts";
import type { LayerAnswer, Layered } from "../../../lib/questions/layer/layer.ts";
import { layerProblems } from "../../../lib/questions/layer/problems.ts";
import type { UnitSystem } from "../../../lib/units/display.ts";
import { formatQuantity, timeText, windowTexts } from "../../../lib/units/format.ts";
import { reasonPhrase } from "../../messages/reasons.ts";
import { causeText, inBoth, leverText, rangeInBoth } from "../report.ts";
import { tableText, wrapped } from "../table.ts";
import { OF_ONE_SHOT, type Telling } from "./question.ts";

export const layerQuestion: Telling<LayerAnswer> = {
  reads: [...OF_ONE_SHOT, "layer", "limits.demold", "limits.set", "limits.bond", "uncertainty"],
  problems: (answer, job) => layerProblems(job, answer),
  text({ answer }, job, system) {
    const hot = (si: number) => formatQuantity(si, "temperature", { system });
    const { demold, joint, reason, folk, full, colors } = answer;
    return {
      headline: [...windowLines(answer, system), ...causeText(answer.causes.close, answer.close)],
      body: [
        ...(joint === null
          ? []
          : [
              `At the best moment the joint gets to ${inBoth(joint.temperature, "temperature", system)} and heals to ${Math.round(100 * joint.healing)} %.`,
              reason.remelt < LEAST_REMELT
                ? "The second color then melts nothing of the first."
                : `The second color then melts the first ${formatQuantity(reason.remelt, "length", { system, step: LEAST_REMELT })} deep.`,
            ]),
        ...(demold === null
          ? []
          : [
              `Open the mold ${whenText(demold, system)} after the ${job.layer.more.length > 0 && answer.noMomentFor === null ? "last" : "second"} color.`,
            ]),
        `The folk rule of ${folk.from} to ${folk.to} s between colors (common practice, no source): ${Math.round(100 * folk.share)} % of it lies in this window.`,
        full === null
          ? "The quick look: the first color as a flat layer, its times carried over to the section by its outline."
          : "In the cross-section; the joint is judged over the inner half of its width, for beside the mold it is always too cold.",
        "",
        ...tableText(
          ["rule", "from the first pour"],
          [
            ["the first color has set", momentText(reason.set)],
            ["its skin holds", momentText(reason.skin)],
            ["latest that still bonds", momentText(reason.bond)],
            ["latest that still heals", momentText(reason.healing)],
          ],
        ),
        ...(colors.length > 1
          ? [
              "",
              ...tableText(
                ["after color", "next from", "surely from", "until", "surely until", "best"],
                colors.map(({ number, open, close, injectAt }) => [
                  String(number),
                  momentText(open.value, "up"),
                  momentText(open.high, "up"),
                  momentText(close.value, "down"),
                  momentText(close.low, "down"),
                  injectAt === null ? "none" : windowTexts(injectAt).value,
                ]),
              ),
              "Times count from the pour of that color; those after the first are a quick look, carried over by what the first's own is off.",
            ]
          : []),
        ...whatIfLines(answer, job.layer.second.temperature, system, hot),
      ],
      levers: answer.levers.map((lever) => leverText(lever, system)),
      leversGive: "how long the window is then",
    };
  },
};

function momentText(seconds: number, towards?: "up" | "down"): string {
  if (seconds === 0) return "never";
  return Number.isFinite(seconds) ? timeText(seconds, towards) : "longer than looked at";
}

/** A depth less than this is none that could be seen, m. */
const LEAST_REMELT = 1e-4;

function whenText(range: Quantified, system: UnitSystem): string {
  if (Number.isFinite(range.high)) return rangeInBoth(range, range.kind, system);
  if (!Number.isFinite(range.low)) return momentText(range.value);
  const likely = Number.isFinite(range.value)
    ? `most likely ${timeText(range.value)}, perhaps`
    : "most likely";
  return `at least ${timeText(range.low, "down")}, ${likely} longer than looked at`;
}

/** The moment, and how far from it the bad cases are met as well as they can be: that span is not the window. */
function bestLine(injectAt: Quantified, { sure, open, close }: Layered): string {
  const { value, low: from, high: to } = windowTexts(injectAt);
  const best = `Inject the second color ${value} after the first was poured`;
  if (from === to) {
    const likely = windowTexts({ value: injectAt.value, low: open.value, high: close.value });
    return likely.low === likely.high
      ? `${best}, on the dot: there is hardly any room to either side.`
      : `${best}: with bad luck there is no room to either side.`;
  }
  return sure
    ? `${best}: from ${from} to ${to} it is right with bad luck, too.`
    : `${best}: from ${from} to ${to} leaves most room for bad luck.`;
}

/** A bait that cannot be shot whole is told first. */
const noMomentLine = (color: number): string =>
  `Color ${color} has no right moment: what is under it is too cold to bond before it may be closed in (see the table by color).`;

/** The big answer: the moment, or why there is none. */
function windowLines(answer: Layered, system: UnitSystem): string[] {
  const { open, close, injectAt, startClosing, empty, tooShort, sure, handling } = answer;
  if (empty)
    return [
      Number.isFinite(open.value)
        ? "There is no right moment: the joint is too cold before the first color may be closed in."
        : "There is no right moment: the first color does not set in the time looked at.",
      `It may be closed in after ${momentText(open.value)}, and bonds until ${momentText(close.value)}.`,
    ];
  const lines = [
    ...(answer.noMomentFor === null ? [] : [noMomentLine(answer.noMomentFor)]),
    injectAt === null
      ? "No moment is safe: see below what opens the window."
      : bestLine(injectAt, answer),
    `Earliest to close it in: ${whenText(open, system)}; latest that bonds: ${whenText(close, system)}.`,
    `It opens with ${reasonPhrase(answer.opensBy)}; it closes with ${reasonPhrase(answer.closesBy)}.`,
  ];
  if (startClosing !== null && startClosing > 0)
    lines.push(
      `Start closing at ${momentText(startClosing)}: it takes you ${formatQuantity(handling, "duration")} (layer.handling).`,
    );
  if (tooShort)
    lines.push(`The window is shorter than the ${timeText(handling)} that closing takes you.`);
  else if (!sure) lines.push("With your inputs at their bad ends there may be no right moment.");
  return lines;
}

/** The window by depth and mold temperature, for the job's own second color. */
function whatIfLines(
  { whatIf }: Layered,
  secondTemperature: number,
  system: UnitSystem,
  hot: (si: number) => string,
): string[] {
  const offset = (row: (typeof whatIf)[number]) =>
    Math.abs(row.secondTemperature - secondTemperature);
  const least = Math.min(...whatIf.map(offset));
  const rows = whatIf.filter((row) => offset(row) <= least + 0.5);
  if (rows.length === 0) return [];
  const molds = [...new Set(rows.map((row) => row.moldTemperature))];
  const depths = [...new Set(rows.map((row) => row.depth))];
  const long = (si: number) => formatQuantity(si, "length", { system, fractions: true });
  const cell = (depth: number, mold: number) => {
    const row = rows.find((r) => r.depth === depth && r.moldTemperature === mold);
    if (!row) return "none";
    // rounded inwards: what stands there is in the window
    const [from, until] = [Math.ceil(row.open), Math.floor(row.close)];
    if (!(until > from)) return "none";
    return `${from} to ${Number.isFinite(until) ? until : "..."}`;
  };
  return [
    "",
    ...wrapped(
      "Window in seconds by depth of the first color and mold temperature, quick look",
      96,
    ),
    ...tableText(
      ["depth", ...molds.map(hot)],
      depths.map((depth) => [long(depth), ...molds.map((mold) => cell(depth, mold))]),
    ),
  ];
}

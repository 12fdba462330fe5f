import type { Job } from "../../../lib/job/types.ts";
import { isRubber } from "../../../lib/models/pour/course.ts";
import type { RoomDepth } from "../../../lib/models/pour/safe.ts";
import type { Alternative } from "../../../lib/questions/pour/alternatives.ts";
import type { PourAnswer, PourContent } from "../../../lib/questions/pour/pour.ts";
import { pourProblems } from "../../../lib/questions/pour/problems.ts";
import type { UnitSystem } from "../../../lib/units/display.ts";
import {
  boundText,
  formatQuantity,
  rangeInWords,
  timeText,
  windowTexts,
} from "../../../lib/units/format.ts";
import { leverLine } from "../../messages/levers.ts";
import { pourReasonLine } from "../../messages/pour-reasons.ts";
import { causeText, changeText, rangeInBoth } from "../report.ts";
import { tableText, wrapped } from "../table.ts";
import type { Telling } from "./question.ts";

export const pourQuestion: Telling<PourAnswer> = {
  reads: [
    "room",
    "pour",
    "limits.peak",
    "uncertainty.room",
    // what the first shot does to it
    "shot.material",
    "shot.temperature",
    "mold.temperature",
  ],
  problems: (_, job) => pourProblems(job),
  text({ answer, ignored }, job, system) {
    const { recommended, peak, reasons, deepestSinglePour } = answer;
    return {
      headline: [
        recommended
          ? withoutRoom(reasons)
            ? "Most likely yes, in one go, but without room for bad luck."
            : "Yes, in one go."
          : reasons.includes("never_hardens")
            ? "Not in this room: it would not harden."
            : "No, not in one go.",
        ...hottestLines(answer, system),
        ...(ignored.includes("one_dimension")
          ? [
              "A quick look, as if no heat left by the box's walls: hotter than it will be, except where it runs away. Leave --quick out for the answer.",
            ]
          : []),
        ...(answer.worstPeak > peak.high + 1
          ? [
              `With everything unlucky at once: up to ${worst(answer.worstPeak, answer.limit, system)}.`,
            ]
          : []),
        ...reasons.map((code) => pourReasonLine(code, system)),
        ...causeText(answer.cause, answer.peak, system),
      ],
      body: [
        ...wrapped(safeDepthLine(answer, system), 96),
        `Deepest that stays below ${hot(answer.limit, system)}${typedLimit(job, answer, system)}: ${depthInWords(deepestSinglePour, system)}.`,
        ...cliffLines(answer, system),
        "",
        ...layerLines(answer, system),
        "",
        ...milestoneLines(answer),
        "",
        ...besideLines(answer, job, system),
        "",
        ...roomTable(answer, system),
        "",
        ...engineerLines(answer, system),
      ],
      levers: answer.alternatives.map((alternative) => {
        const { code, change, peak: gets, worstPeak } = alternative;
        const box = code === "warm_box_after_gel" ? answer.cold.warmBox : null;
        const to = box
          ? ` (at ${hot(box.to, system)}, from ${timeText(box.from, "up")} after mixing on)`
          : changeText(change, system);
        return `${leverLine(code)}${to}: ${hot(gets, system)}, at worst ${worst(worstPeak, answer.limit, system)}: ${enough(alternative, answer.limit)}`;
      }),
      leversGive: "hottest then",
    };
  },
  drawings: ({ answer: { course, curve, limit } }) => [
    {
      name: "pour-course",
      figure: {
        kind: "figure",
        caption: "The hottest place of the pour",
        x: { label: "After mixing", unit: "h" },
        y: { label: "Temperature", unit: "degC" },
        marks: [
          { mark: "rule-y", data: [], y: limit, stroke: "good", strokeDasharray: "4 4" },
          {
            mark: "line",
            data: { t: [...course.times], T: [...course.hot] },
            x: "t",
            y: "T",
            stroke: "warm",
          },
        ],
      },
    },
    {
      name: "pour-depth",
      figure: {
        kind: "figure",
        caption: "Hottest place by depth: likely, and at both ends",
        x: { label: "Depth", unit: "mm" },
        y: { label: "Temperature", unit: "degC" },
        marks: (["low", "peak", "high"] as const).map((name) => ({
          mark: "line" as const,
          data: { depth: [...curve.depth], T: [...curve[name]] },
          x: "depth",
          y: "T",
          stroke: name === "peak" ? ("warm" as const) : ("quiet" as const),
        })),
      },
    },
  ],
};

function hottestLines(
  { peak, peakTime, hottestAsPoured }: PourContent,
  system: UnitSystem,
): string[] {
  const hottest = `Hottest: ${rangeInBoth(peak, "temperature", system)}`;
  const when = `${timeInWords(peakTime)} after mixing.`;
  return hottestAsPoured
    ? [`${hottest}.`, `Most likely that is as it is poured; the reaction's own peak comes ${when}`]
    : [`${hottest}, ${when}`];
}

/** Whether a pour that most likely can be made must be told to have no room for bad luck. */
const withoutRoom = (reasons: PourContent["reasons"]): boolean =>
  reasons.includes("no_room_for_bad_luck") || reasons.includes("too_hot_with_bad_luck");

const hot = (si: number, system: UnitSystem) => formatQuantity(si, "temperature", { system });

/** Depths to the millimeter or the sixteenth: no pour is leveled better. */
function long(si: number, system: UnitSystem): string {
  return formatQuantity(si, "length", { system, step: 0.001, fractions: true });
}

function safeDepthLine(answer: PourContent, system: UnitSystem): string {
  const { heatDepth, recommendedDepth } = answer;
  const depth = boundText(heatDepth, "length", "down", system);
  // as it was given: to the millimeter it could read like one that is safe
  const own = formatQuantity(answer.depth, "length", { system, fractions: true });
  const none = `today none down to ${long(0.3, system)} is too deep`;
  if (recommendedDepth === null)
    return `For its heat alone, ${Number.isFinite(heatDepth) ? `up to ${depth} would be safe` : none}, with bad luck, too: no depth to pour while it does not harden.`;
  return Number.isFinite(heatDepth)
    ? `Deepest single pour today, with room for bad luck: ${depth}; this one is ${own} deep. ${deeperText(answer, system)}`
    : `This one is ${own} deep; ${none}, even with bad luck.`;
}

/** A limit that was typed and not taken. */
function typedLimit({ limits }: Job, { limit }: PourContent, system: UnitSystem): string {
  if (!(limits.peak > limit)) return "";
  return ` (${hot(limits.peak, system)} typed: no pour may get above ${hot(limit, system)})`;
}

/** What bounds the depth that has room for bad luck. */
function deeperText({ heatDepthBoundBy, limit }: PourContent, system: UnitSystem): string {
  switch (heatDepthBoundBy) {
    case null:
      return "";
    case "limit":
      return `Deeper, it gets above ${hot(limit, system)} when all turns out badly.`;
    case "climb":
      return "Deeper, it comes too near to the depth from which its peak climbs most steeply when all turns out badly.";
    case "runaway":
      return "Deeper, a little more depth makes it run away when all turns out badly.";
  }
}

function timeInWords(range: PourContent["peakTime"]): string {
  if (!Number.isFinite(range.value)) return "not within the time looked at";
  if (!Number.isFinite(range.high))
    return `${timeText(range.low, "down")} at least, likely ${timeText(range.value)}`;
  return rangeInWords(range, "duration");
}

function depthInWords({ value, low, high }: PourContent["deepestSinglePour"], system: UnitSystem) {
  if (!Number.isFinite(low)) return `any down to ${long(0.3, system)}`;
  const least = boundText(low, "length", "down", system);
  if (!Number.isFinite(value)) return `most likely any, at least ${least}`;
  return Number.isFinite(high)
    ? rangeInWords({ value, low, high }, "length", { system })
    : `most likely ${long(value, system)}, between ${least} and any depth`;
}

function cliffLines({ cliff }: PourContent, system: UnitSystem): string[] {
  if (cliff === null) return [];
  const left = cliff.depthLeft;
  return wrapped(
    `From about ${long(cliff.depth, system)} on it most likely runs away: ${
      left > 0 ? `${long(left, system)} from here` : "this pour is past that"
    }.`,
    96,
  );
}

function layerLines(answer: PourContent, system: UnitSystem): string[] {
  const { layers, layersPeak, layersWorstPeak, layersHarden, limit, sandBetween } = answer;
  if (layers.length === 0)
    return [
      "In layers of 6 mm (1/4 in) or more it is not safe with bad luck either: each heats the one below.",
    ];
  if (layers.length === 1 || layersPeak === null || layersWorstPeak === null) return [];
  const hardens = layersHarden === true;
  const plan = { peak: layersPeak, hardens, serves: hardens && layersWorstPeak <= limit };
  return [
    `In ${layers.length} layers: ${hot(layersPeak, system)}, at worst ${worst(layersWorstPeak, limit, system)}: ${enough(plan, limit)}.`,
    ...tableText(
      ["layer", "depth", "pour it after the one below", "hottest"],
      layers.map((l) => [
        String(l.number),
        long(l.depth, system),
        l.number === 1 ? "" : waitText(l),
        `${hot(l.peak, system)}${l.reheated ? ", under the next" : ""}`,
      ]),
    ),
    ...(sandBetween
      ? ["A layer is hard before it has cooled: sand it before the next, or it won't hold."]
      : []),
    "",
    ...momentTable("after the last layer", [
      ["may be left alone", answer.layersLeave],
      ["may be turned over", answer.layersTurn],
      ["may come off the bed", answer.layersDemold],
      ["may be clamped", answer.layersClamp],
    ]),
  ];
}

/** When a layer may follow, its ends rounded inwards. */
function waitText({ waitFrom: low, waitUntil: high }: PourContent["layers"][number]): string {
  if (!Number.isFinite(high)) return `${timeText(low, "up")} to any time later`;
  const wait = windowTexts({ value: (low + high) / 2, low, high });
  return wait.low === wait.high ? `about ${wait.value}` : `${wait.low} to ${wait.high}`;
}

function milestoneLines(answer: PourContent): string[] {
  // of a plan of layers each has its own wait
  return momentTable(answer.layers.length > 1 ? "in one pour, not in layers" : "", [
    ["begins to gel", answer.gelTime],
    ["gelled everywhere", answer.gelLast],
    ["past its peak, may be left alone", answer.leave],
    ["may be turned over", answer.turn],
    ["may come off the bed", answer.demold],
    [
      answer.firstShot?.holds === false ? "may be clamped" : "may be clamped and shot",
      answer.clamp,
    ],
  ]);
}

function momentTable(
  title: string,
  rows: readonly (readonly [string, PourContent["layersClamp"]])[],
): string[] {
  return tableText(
    [title, "after", "earliest", "latest"],
    rows.flatMap(([name, moment]) =>
      moment === null
        ? []
        : [[name, orNever(moment.value), orNever(moment.low, "down"), orNever(moment.high, "up")]],
    ),
  );
}

const orNever = (seconds: number, towards?: "down" | "up") =>
  Number.isFinite(seconds) ? timeText(seconds, towards) : "never";

function besideLines(
  answer: PourContent,
  { pour: { material } }: Job,
  system: UnitSystem,
): string[] {
  const { bed, master, secondHalf, postCure, filler, where } = answer;
  const lines = [
    `Hottest place: ${long(where.overBed, system)} over the bed${
      Number.isFinite(where.fromWall)
        ? `, ${long(where.fromWall, system)} from the nearer long wall`
        : ""
    }.`,
    ...(answer.frontOpen > 0
      ? wrapped(
          `That is more than all its heat alone would make of it, ${hot(answer.adiabaticPeak, system)}: a front of reaction warms the resin before it, by how much is known to within ${formatQuantity(answer.frontOpen, "temperatureDifference", { system, step: 5, towards: "up" })} only.`,
          96,
        )
      : []),
    `The bed gets to ${hot(bed.hottest.value, system)}${bed.bears === null ? "" : `, it bears ${hot(bed.bears, system)}`}.`,
  ];
  if (master !== null)
    lines.push(
      `The masters get to ${hot(master.hottest.value, system)}${master.bears === null ? "" : `, they bear ${hot(master.bears, system)}`}.`,
    );
  if (secondHalf !== null) lines.push(secondHalfLine(secondHalf, system));
  lines.push(...hardnessLines(answer, material, system), ...firstShotLines(answer, system));
  if (postCure !== null)
    lines.push(
      `After ${timeText(postCure.hold)} at ${hot(postCure.to, system)}: up to ${hot(postCure.glassReached, system)}${
        postCure.duration === Number.POSITIVE_INFINITY
          ? ""
          : `; take ${timeText(postCure.duration)} to heat it there`
      }.`,
      ...(postCure.outruns !== null && postCure.outruns > 0
        ? ["Your oven program heats faster than it hardens: the mold sags."]
        : []),
    );
  lines.push(...coldLines(answer, system));
  if (filler?.settled)
    lines.push(
      `Clear resin on top when it gels: ${thin(filler.settled.value, system)}, with coarse powder ${thin(filler.settled.high, system)}.`,
    );
  return lines.flatMap((line) => wrapped(line, 96));
}

/** What is liquid withstands no heat, whatever its glass transition. */
function nowText({ gelled, glass }: NonNullable<PourContent["now"]>, system: UnitSystem): string {
  if (gelled === "all") return `it withstands heat up to ${hot(glass, system)}`;
  return gelled === "partly" ? "it has not gelled everywhere yet" : "it is liquid: not gelled yet";
}

/** What heat it withstands: a rubber's is that of its entry, not of a glass. */
function hardnessLines(
  { now, glassReached }: PourContent,
  { resin, wallLimit }: Job["pour"]["material"],
  system: UnitSystem,
): string[] {
  if (resin && isRubber({ cured: resin.glassCured.value }))
    return wallLimit ? [`Cured, it bears ${hot(wallLimit.value, system)}.`] : [];
  return [
    ...(now === null ? [] : [`Now, ${timeText(now.age)} after mixing, ${nowText(now, system)}.`]),
    `Left in this room it withstands heat up to ${hot(glassReached.value, system)}.`,
  ];
}

const FIRST_FACE: Readonly<Record<NonNullable<PourContent["secondHalf"]>["holds"], string>> = {
  surely: "the first half's face stays hard",
  maybe:
    "the first half's face may soften under it and take its print with bad luck: post-cure the first half before, or let it harden for longer, and don't spare the release",
  no: "the first half's face goes soft and takes its print: post-cure it first",
};

function secondHalfLine(
  { peak, holds }: NonNullable<PourContent["secondHalf"]>,
  system: UnitSystem,
): string {
  const most = boundText(peak.high, "temperature", "up", system);
  return `The second half, poured on the first: ${hot(peak.value, system)}, at worst ${most}; ${FIRST_FACE[holds]}.`;
}

/** A mold that is hard enough to be clamped is not yet one that bears a shot. */
function firstShotLines({ firstShot }: PourContent, system: UnitSystem): string[] {
  if (firstShot === null || firstShot.holds) return [];
  const bears = boundText(firstShot.bears, "temperature", "down", system);
  return [
    `Before the first shot post-cure it (pour.postCure): a shot alone warms its face to about ${hot(firstShot.face, system)}, and when it may be clamped it bears ${bears}.`,
  ];
}

/** What warming a cold pour does, and what it does with bad luck. */
function coldLines({ cold: { warmBox, warmStock }, limit }: PourContent, system: UnitSystem) {
  const lines: string[] = [];
  if (warmBox !== null)
    lines.push(
      warmBox.worstPeak <= limit
        ? `Warm it to ${hot(warmBox.to, system)} only after ${timeText(warmBox.from, "up")}: then it peaks at ${hot(warmBox.peak, system)}, at worst ${worst(warmBox.worstPeak, limit, system)}, warm from the start at ${hot(warmBox.peakAtOnce, system)}.`
        : `Do not warm it to ${hot(warmBox.to, system)}, however long it has stood: most likely it then peaks at ${hot(warmBox.peak, system)}, at worst ${worst(warmBox.worstPeak, limit, system)}.`,
    );
  if (warmStock !== null)
    lines.push(
      `Warming resin and hardener to ${hot(warmStock.stock, system)} before mixing: it peaks at ${hot(warmStock.peak, system)}, at worst ${worst(warmStock.worstPeak, limit, system)}${
        warmStock.atEdge ? ", and a little deeper it runs away then" : ""
      }.`,
    );
  return lines;
}

/** A depth known to a digit or two at best. */
function thin(si: number, system: UnitSystem): string {
  return formatQuantity(si, "length", { system, step: si < 0.002 ? 1e-4 : 1e-3 });
}

function roomTable({ byRoom }: PourContent, system: UnitSystem): string[] {
  if (byRoom.length === 0) return [];
  const hardens = byRoom.every((row) => row.hardens);
  return [
    "Deepest single pour with room for bad luck, by the temperature of the room:",
    ...tableText(
      byRoom.map(({ room }) => hot(room, system)),
      [byRoom.map((row) => roomDepthText(row, system))],
    ),
    ...(hardens ? [] : ["In brackets: for its heat alone, it does not harden there in a week."]),
  ];
}

function roomDepthText({ deepest, hardens }: RoomDepth, system: UnitSystem): string {
  const depth = Number.isFinite(deepest) ? boundText(deepest, "length", "down", system) : "any";
  return hardens ? depth : `(${depth})`;
}

function engineerLines(answer: PourContent, system: UnitSystem): string[] {
  const { runawayNumber, criticalNumber, adiabaticPeak, energy, hardenerKnown, mass } = answer;
  return [
    `${formatQuantity(mass, "mass", { system })} of resin; ${
      hardenerKnown
        ? "the hardener's speed is from your job."
        : "the hardener's speed is the usual one: give pour.potLife or pour.thinFilm."
    }`,
    ...wrapped(
      `For an engineer: runaway number ${two(runawayNumber)}, critical ${two(criticalNumber)} (for a resin that is never used up); nothing lost it would reach ${hot(adiabaticPeak, system)}; activation energy ${Math.round(energy / 1000)} kJ/mol.`,
      96,
    ),
  ];
}

const two = (x: number) => String(Number(x.toPrecision(2)));

/** What it may come to, beside the limit that it is held to. */
const worst = (peak: number, limit: number, system: UnitSystem): string =>
  boundText(peak, "temperature", "up", system, limit);

function enough(
  { peak, serves, hardens }: Pick<Alternative, "peak" | "serves" | "hardens">,
  limit: number,
): string {
  if (!hardens)
    return peak <= limit
      ? "stays cool, but would not harden within a week"
      : "too hot, and would not harden within a week";
  if (serves) return "that will do";
  return peak <= limit ? "only if nothing turns out badly" : "not enough by itself";
}

/**
 * Ranges of a pour: how fast its resin reacts, how much faster when warmer, its heat, how well it conducts and the room are
 * drawn together. Members are looked at far from the walls, at the depth that gets as hot there as the pour does in its box.
 * Depths m, T K, times s.
 */
import { type Spreading, spread } from "../../confidence/spread.ts";
import type { Uncertain } from "../../confidence/uncertain.ts";
import { NINE_OF_TEN } from "../../numerics/deviates.ts";
import { makeForecast } from "../../numerics/forecast.ts";
import type { PourCorner } from "./corners.ts";
import { makeRoughSearch } from "./line-depth.ts";
import { type PourSetting, settingOf } from "./problem.ts";
import { LIKELY_RESIN, type ResinChange, type ResinCorner } from "./resin.ts";
import type { PourRuns } from "./runs.ts";

/** A case of what is not known of a pour. */
interface PourMember {
  readonly corner: ResinCorner;
  /** Room and stock, against what was given, K. */
  readonly warmer: number;
}

const LIKELY: PourMember = { corner: LIKELY_RESIN, warmer: 0 };

function ofResin(name: string, key: keyof ResinCorner): Uncertain<PourMember> {
  return { name, at: (member, z) => ({ ...member, corner: { ...member.corner, [key]: z } }) };
}

/** With both times of a data sheet the energy follows from them. */
function uncertainPour({
  job: { pour, uncertainty },
  likelyOnly,
}: PourRuns): Uncertain<PourMember>[] {
  if (likelyOnly) return [];
  const width = uncertainty.roomTemperature / NINE_OF_TEN;
  return [
    ofResin("pour.speed", "speed"),
    ...(pour.potLife && pour.thinFilm ? [] : [ofResin("pour.energy", "energy")]),
    ...(pour.peakExotherm ? [] : [ofResin("pour.heat", "heat")]),
    ofResin("pour.material", "conductivity"),
    { name: "room.temperature", at: (member, z) => ({ ...member, warmer: width * z }) },
  ];
}

function memberOf(
  runs: PourRuns,
  { corner, warmer }: PourMember,
  depth: number,
  change?: ResinChange,
) {
  const { room, stock, ...setting } = settingOf(runs.job);
  const there: PourSetting = { ...setting, depth, room: room + warmer, stock: stock + warmer };
  return { resin: runs.resin(corner, change), setting: there };
}

/** Members of each range, always as many: where they were added as wanted, ends would leap. Some that never harden need more. */
const COURSES = 40;
const COURSES_ENDLESS = 80;
const DEPTHS = 24;

const COURSE = [
  "peak",
  "peakTime",
  "gelFirst",
  "gelLast",
  "leave",
  "turn",
  "comesOff",
  "clamp",
  "glassReached",
] as const;
export type CourseNumber = (typeof COURSE)[number];

/** @param share what the walls leave of the depth */
export function courseSpread(runs: PourRuns, share: number): Record<CourseNumber, Spreading> {
  const never = Number.POSITIVE_INFINITY;
  const depth = share * settingOf(runs.job).depth;
  const evaluate = (member: PourMember): number[] => {
    const { resin, setting } = memberOf(runs, member, depth);
    const { milestones, ...course } = runs.draftCourse(resin, setting);
    const numbers = { ...course, ...milestones };
    return COURSE.map((name) => numbers[name] ?? never);
  };
  const found = spread(LIKELY, uncertainPour(runs), evaluate, {
    least: COURSES,
    most: COURSES,
    mostEndless: COURSES_ENDLESS,
  });
  return Object.fromEntries(COURSE.map((name, i) => [name, found[i]])) as Record<
    CourseNumber,
    Spreading
  >;
}

/**
 * Depth far from walls at which the peak reaches `limit`; 0: every depth does, Infinity: none. What the members so far say of
 * the next is where its search begins.
 */
export function depthSpread(
  runs: PourRuns,
  limit: number,
  { resin, setting }: PourCorner,
): Spreading {
  const from = ({ room, stock }: PourSetting) => Math.max(room, stock);
  const roughDepthFor = makeRoughSearch();
  const likely = roughDepthFor((depth) => runs.linePeak(resin, { ...setting, depth }).value, {
    limit,
    from: from(setting),
    near: setting.depth,
    setting,
  });
  const near = likely > 0 && Number.isFinite(likely) ? likely : setting.depth;
  const forecast = makeForecast(5);
  const width = runs.job.uncertainty.roomTemperature;
  const evaluate = (member: PourMember): number[] => {
    const { speed, energy, heat, conductivity } = member.corner;
    const moved = [speed, energy, heat, conductivity].map((z) => (typeof z === "number" ? z : 0));
    moved.push(width > 0 ? member.warmer / width : 0);
    const { resin, setting } = memberOf(runs, member, near);
    const peakAt = (depth: number) => runs.draftPeak(resin, { ...setting, depth });
    const start = near * Math.exp(forecast.at(moved));
    const depth = roughDepthFor(peakAt, { limit, from: from(setting), near: start, setting });
    if (depth > 0 && Number.isFinite(depth)) forecast.learn(moved, Math.log(depth / near));
    return [depth];
  };
  return spread(LIKELY, uncertainPour(runs), evaluate, { least: DEPTHS, most: DEPTHS })[0];
}

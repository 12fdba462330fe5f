/**
 * How thick the wall: thin enough that the pour does not overheat itself, thick enough that the shots don't overheat
 * the mold. SI and K.
 */

import type {
  Answer,
  CautionCode,
  IgnoredCode,
  Lever,
  Quantified,
  ReasonCode,
} from "../../answers/answer.ts";
import type { Job } from "../../job/types.ts";
import {
  castingCautions,
  faceCautions,
  moldCautions,
  plasticCautions,
  postCureCautions,
} from "../../models/cautions.ts";
import { ignoredByBar } from "../../models/cooling.ts";
import { GRANULES, inCoolerRoom, SLOWER, unwarmed } from "../../models/pour/changes.ts";
import { pourCorners } from "../../models/pour/corners.ts";
import { type GlassMargin, glassMargin } from "../../models/pour/glass-margin.ts";
import { hardens } from "../../models/pour/hardening.ts";
import { fewestLayers, type RatedPlan } from "../../models/pour/layers.ts";
import { pouredVolume, settingOf } from "../../models/pour/problem.ts";
import {
  ignoredByFiller,
  ignoredByPeak,
  ignoredBySheet,
  LIKELY_RESIN,
  peakLimit,
  type ResinChange,
  resinMaker,
} from "../../models/pour/resin.ts";
import { progressOf, type QuestionOptions } from "../../models/question-options.ts";
import { EffortSum, quantified } from "../../models/ranged.ts";
import { scenarioOf } from "../../models/scenario.ts";
import { slowestStation } from "../../models/shots/slowest-station.ts";
import { atStart } from "../../models/start.ts";
import { asPoured, wallLimitOf } from "../../models/wall-limit.ts";
import { InputError } from "../../units/problem.ts";
import type { OwnWall } from "./carried.ts";
import { type Casting, halfHardens, likelyMost, type Most, mostOf } from "./thickest.ts";
import { serves, THICKEST, type Thinnest, thinnestOf, wallsFor } from "./thinnest.ts";

/** A wall, with what a run of shots and its own pour do to it. */
export interface WallPoint {
  readonly wall: number; // m
  /** Hottest cavity face over the planned run of shots, K. */
  readonly wallPeak: number;
  /** Of the last shot, s; Infinity: never cool enough to open. */
  readonly lastDemold: number;
  /** Of one half poured in one go, K. */
  readonly pourPeak: number;
  /** Resin of one half, kg. */
  readonly mass: number;
}

/** What moves a limit; `hardens`: whether the pour of the wall that it comes to does, within a week. */
interface WallLever extends Lever {
  readonly moves: "least" | "most";
  readonly hardens?: boolean;
}

/** How thick a wall must and may be. SI and K. */
export interface WallsContent {
  /** Thinnest that bears the clamp (`limits.stiff`) and that the planned shots don't overheat, m; Infinity: none of up to 80 mm. */
  readonly least: Quantified;
  /** Thickest that may be poured in one go, m; 0: none; Infinity: no limit from its heat. */
  readonly most: Quantified;
  /** The same with pot life, heat, energy, conductivity and room all unlucky at once, m. */
  readonly mostWithBadLuck: number;
  /**
   * The pour holds with bad luck, too, and the shots where a wall allows both, m; null: no wall can be poured so; see
   * `opens` and `inLayers`.
   */
  readonly recommended: number | null;
  /**
   * Where no wall may be poured in one go: what the shots ask of one poured in layers, which are safe with bad luck, too, m;
   * null: none serves, not in layers either, or not needed.
   */
  readonly inLayers: number | null;
  /** Whether the pour of that wall, or of the job's own, hardens in this room within a week: the limits are for its heat alone. */
  readonly hardens: boolean;
  readonly leastDecidedBy: ReasonCode | "stiffness";
  readonly mostDecidedBy: ReasonCode | "size_looked_at";
  /** Resin for one half at the three walls, kg; null where there is no such wall. */
  readonly mass: {
    readonly least: number | null;
    readonly most: number | null;
    readonly recommended: number | null;
  };
  /** Hottest that the face may get, and the pour, K; null: the mold's own limit is not known. */
  readonly wallLimit: number | null;
  readonly pourLimit: number;
  /** At the recommended wall, or the one in layers: hottest face over the run, and what is left to the glass transition of the mold, K. */
  readonly face: ({ readonly wallPeak: number; readonly glass: number } & GlassMargin) | null;
  /** Both limits over thickness: data of the plot. */
  readonly points: readonly WallPoint[];
  /** The job's own wall over the run, as `shots` has it, and its hottest face once the mold has settled, K. */
  readonly own: Pick<OwnWall, "wall" | "wallPeak" | "lastDemold" | "settledPeak">;
  /** What moves a limit, and to where (m): first of all when the limits cross. */
  readonly opens: readonly WallLever[];
  readonly shots: number;
}

/** The answer to `walls`. */
export type WallsAnswer = Answer<"walls", WallsContent>;

/** After the shots behind every wall: bad luck in them, the thickest, the pours behind every wall, what moves the limits. */
const PARTS_AFTER = 4;
/**
 * More wall is worth its resin while each percent of it saves this share of a percent of the last shot's time: a guess,
 * and a matter of prices.
 */
const WORTH = 0.12;

/**
 * The walls of a mold between two limits: overheated over the planned run of shots when too thin, overheated by its own
 * cure when too thick to be poured in one go.
 *
 * Each half is poured as deep as half the bait and the wall, in a box as large as the cavities and the wall around
 * them. Shots behind the job's own wall are marched in its section, as `shots` does; behind others in one dimension, carried over by
 * what the section adds. `quick` leaves the section out.
 *
 * @param given `bait`, `mold`, `shot`, `run`, `pour`, `limits`, `room` and `uncertainty` are read
 * @throws InputError when the pour's material does not cure, or is not the mold's
 * @example walls(readJob("bait: { thickness: 16 mm }").job).answer.inLayers // 0.016
 */
export function walls(given: Job, options: QuestionOptions = {}): WallsAnswer {
  const job = ofOneResin(atStart(given));
  const effort = new EffortSum();
  const wallLimit = wallLimitOf(job);
  const done = progressOf(options, wallsFor(job).length + PARTS_AFTER);
  // the same station for every wall, and for bad luck
  const station = slowestStation(scenarioOf(job, options));
  const { likely, own, least, unlucky, lucky, leastWith } = thinnestOf(job, station, {
    options,
    effort,
    done,
  });
  const casting = { job, options, effort, make: resinMaker(job) };
  const most = mostOf(casting);
  done();
  const massOf = (wall: number) => {
    const { job: cast, runs } = most.at(wall);
    return pouredVolume(cast) * runs.resin(LIKELY_RESIN).density;
  };
  const masses = (wall: number | null) =>
    wall === null || !Number.isFinite(wall) ? null : massOf(wall);

  const points = likely.map(({ wall, wallPeak, lastDemold }): WallPoint => {
    const { job: cast, runs } = most.at(wall);
    const resin = runs.resin(LIKELY_RESIN);
    const setting = settingOf(cast);
    const line = { ...setting, depth: setting.depth * most.share };
    return {
      wall,
      wallPeak,
      lastDemold,
      pourPeak: runs.linePeak(resin, line).value,
      mass: massOf(wall),
    };
  });
  // never past the pessimistic end: a wall that most likely can be poured is one that may smoke
  const top = Math.min(most.safe, THICKEST);
  const bottom = unlucky.wall <= top ? unlucky.wall : least.wall;
  const serving = points.filter((point) => serves(point, wallLimit));
  const recommended = bottom <= top ? chosen(serving, bottom, top) : null;
  const layersAt = (wall: number) => layersFor(most, wall);
  const inLayers = recommended === null ? layeredWall(serving, least.wall, layersAt) : null;
  done();
  const half = most.at(recommended ?? inLayers ?? job.mold.wall);
  const likelyResin = half.runs.resin(LIKELY_RESIN);
  const now = { least: least.wall, most: most.range.value, share: most.share };
  // where the first shot alone takes the face past its limit behind every wall, a rest can't help
  const restHelps = likely.some(({ firstPeak }) => wallLimit === null || firstPeak <= wallLimit);
  // where none may be poured at once the answer itself is in layers, or that none are safe
  const further = recommended === null ? () => null : layersAt;
  const wallFor = (value: number) =>
    wallWith(value, { least: least.wall, most, points: serving }) ?? job.mold.wall;
  const opens = options.likelyOnly
    ? []
    : opensOf(casting, leastWith, { ...now, restHelps, wallFor, layersAt: further });
  const face = faceAt(job, points, recommended ?? inLayers);
  return {
    question: "walls",
    answer: {
      least: inOrder(least.wall, lucky.wall, unlucky.wall),
      most: quantified(most.range, "length"),
      mostWithBadLuck: most.safe,
      recommended,
      inLayers,
      hardens: hardens(half.runs, likelyResin, settingOf(half.job)),
      leastDecidedBy: least.overheats ? "overheating" : "stiffness",
      mostDecidedBy: most.range.value < THICKEST ? "exotherm" : "size_looked_at",
      mass: {
        least: masses(least.wall),
        most: masses(most.range.value),
        recommended: masses(recommended),
      },
      wallLimit,
      pourLimit: peakLimit(job),
      face,
      points,
      own: {
        wall: own.wall,
        wallPeak: own.wallPeak,
        settledPeak: own.settledPeak,
        lastDemold: own.lastDemold,
      },
      opens,
      shots: job.run.shots,
    },
    cautions: cautionsFor(job, { face, points, recommended, opens, least, unlucky }),
    ignored: ignoredIn(job, options.quick === true),
    effort: effort.done(),
  };
}

function ignoredIn(job: Job, quick: boolean): IgnoredCode[] {
  return [
    ...(quick ? ignoredByBar(job, true) : (["other_walls"] as const)),
    "mixing_faults",
    ...ignoredByPeak(job),
    ...ignoredBySheet(job),
    ...ignoredByFiller(job),
  ];
}

function cautionsFor(
  job: Job,
  {
    face,
    points,
    recommended,
    opens,
    least,
    unlucky,
  }: Pick<WallsContent, "face" | "points" | "recommended" | "opens"> & {
    readonly least: Thinnest;
    readonly unlucky: Thinnest;
  },
): CautionCode[] {
  const cautions: CautionCode[] = [
    recommended === null ? "pour_not_recommended" : "pour_unattended",
    ...castingCautions(job.pour.material),
    ...plasticCautions(job, [job.shot]).filter((code) => code === "plastisol_fumes"),
    ...moldCautions(job, Math.max(least.wallOpened, unlucky.wallOpened)),
  ];
  // what is advised has its caution, too
  if (opens.some(({ code }) => code === "granules") && !cautions.includes("metal_powder"))
    cautions.push("metal_powder");
  if (!Number.isFinite(least.wall)) cautions.push(...faceCautions(job, Number.POSITIVE_INFINITY));
  // where no wall is named, as behind the coolest of all
  else
    cautions.push(
      ...postCureCautions(job, face?.wallPeak ?? Math.min(...points.map((p) => p.wallPeak))),
    );
  return cautions;
}

/** The wall is poured of the resin whose face then bears the shots: two materials would be judged as one. */
function ofOneResin(job: Job): Job {
  const { mold, pour } = job;
  if (asPoured(mold.material.name) === asPoured(pour.material.name)) return job;
  throw new InputError([
    {
      code: "materials_differ",
      path: "pour.material",
      given: pour.material.name,
      ...(mold.material.resin && { possible: [mold.material.name] }),
    },
  ]);
}

function faceAt(
  job: Job,
  points: readonly WallPoint[],
  recommended: number | null,
): WallsContent["face"] {
  const glass = job.mold.material.resin?.glassReached.value;
  if (recommended === null || glass === undefined || glass < 270) return null;
  const { wallPeak } = points.reduce((a, b) =>
    Math.abs(b.wall - recommended) < Math.abs(a.wall - recommended) ? b : a,
  );
  return { wallPeak, glass, ...glassMargin(glass, wallPeak) };
}

function inOrder(value: number, a: number, b: number): Quantified {
  return { value, low: Math.min(value, a, b), high: Math.max(value, a, b), kind: "length" };
}

/** What moves the thickest wall by less is no way out. */
const WORTH_MORE = 1.05;

/** From the thinnest that serves up to where more wall buys no time. */
function chosen(points: readonly WallPoint[], least: number, most: number): number {
  const inside = points.filter((p) => p.wall >= least && p.wall <= most);
  const [first] = inside;
  if (!first) return (least + most) / 2;
  for (let i = 0; i + 1 < inside.length; i++) {
    const saved = 1 - inside[i + 1].lastDemold / inside[i].lastDemold;
    if (saved < WORTH * Math.log(inside[i + 1].mass / inside[i].mass)) return inside[i].wall;
  }
  return inside[inside.length - 1].wall;
}

/** What the shots ask of a wall in layers, or the least that they do; null: no layers of either are safe. */
function layeredWall(
  points: readonly WallPoint[],
  least: number,
  layersAt: Now["layersAt"],
): number | null {
  if (!Number.isFinite(least)) return null;
  const asked = [chosen(points, least, THICKEST), least];
  return asked.find((wall) => layersAt(wall) !== null) ?? null;
}

/** The wall that would be chosen if so thick a one could most likely be poured; null: none bears the shots. */
function wallWith(
  value: number,
  {
    least,
    most,
    points,
  }: { readonly least: number; readonly most: Most; readonly points: readonly WallPoint[] },
): number | null {
  if (!Number.isFinite(least)) return null;
  const now = most.range.value;
  // with bad luck as much less as now
  const safe = now > 0 && Number.isFinite(now) ? most.safe / now : 1;
  const highest = Math.min(value * safe, THICKEST);
  return chosen(points, least, least <= highest ? highest : THICKEST);
}

/** What is known of the walls as they are. */
interface Now {
  readonly least: number;
  readonly most: number;
  readonly share: number;
  readonly restHelps: boolean;
  /** The wall that would be chosen if so thick a one could be poured. */
  readonly wallFor: (most: number) => number;
  readonly layersAt: (wall: number) => RatedPlan | null;
}

/** Layers of one half with this wall that stay below the limit with bad luck, too; null: none that are worth their work. */
function layersFor({ at, share }: Most, wall: number): RatedPlan | null {
  const { job, runs } = at(wall);
  const limit = peakLimit(job);
  const plan = fewestLayers(runs, pourCorners(runs), limit, share);
  return plan !== null && plan.worstPeak <= limit ? plan : null;
}

/** What lets a thicker wall be poured. */
function thickerOf(casting: Casting, now: Now): WallLever[] {
  const { job } = casting;
  const found: WallLever[] = [];
  // the next thicker wall that is looked at
  const next = wallsFor(job).find((wall) => wall > now.most * WORTH_MORE);
  const plan = next === undefined ? null : now.layersAt(next);
  if (next !== undefined && plan !== null)
    found.push({
      code: "layers",
      moves: "most",
      gives: { kind: "length", value: next },
      hardens: plan.hardens,
    });
  const add = (lever: Lever, changed: Job, change?: ResinChange) => {
    const other = { ...casting, job: changed };
    const start = { wall: Math.max(now.most, job.limits.stiff), share: now.share };
    const value = likelyMost(other, start, change);
    if (value > now.most * WORTH_MORE)
      found.push({
        ...lever,
        moves: "most",
        gives: { kind: "length", value },
        hardens: halfHardens(other, now.wallFor(value), change),
      });
  };
  add({ code: "slower_hardener" }, job, { slower: SLOWER });
  add({ code: "granules" }, job, { granules: GRANULES });
  for (const changed of [unwarmed(job), inCoolerRoom(job)])
    if (changed !== null) add(changed.lever, changed.job);
  return found;
}

function opensOf(
  casting: Casting,
  leastWith: (changed: Job) => { readonly wall: number },
  now: Now,
): WallsContent["opens"] {
  const { job } = casting;
  const { stiff } = job.limits;
  const found = now.most < THICKEST ? thickerOf(casting, now) : [];
  if (now.least > stiff) {
    const fanned: Job = {
      ...job,
      run: { ...job.run, fan: true },
      room: { ...job.room, air: "fan" },
    };
    const { wall } = leastWith(fanned);
    if (wall < now.least)
      found.push({ code: "fan", moves: "least", gives: { kind: "length", value: wall } });
    if (now.restHelps) found.push({ code: "longer_open", moves: "least" });
    found.push({ code: "post_cure", moves: "least" });
  }
  return found;
}

/** A bait out of its mold: the skin is cool, the core reheats it. T K, t s after opening. */
import type { Boundary, Effort, HeatProblem } from "../../heat/problem.ts";
import { simulate } from "../../heat/simulate.ts";
import { barModel, type StandIn } from "../../models/bait/bar.ts";
import { DRAFTING, LONGEST_COOLING, type Solving } from "../../models/cooling.ts";
import type { Scenario } from "../../models/scenario.ts";
import { faceAt } from "../../models/wall-peak.ts";

/** A bar or sheet that is taken out of its mold `opening` s after the mold was full. */
export interface Opened {
  readonly scenario: Scenario;
  readonly body: StandIn;
  readonly opening: number;
  /** Left out: that of the job. */
  readonly moldOfBar?: MoldOfBar;
  /** The long side of a flat section, m, for what its middle loses to its edges; left out: a sheet without edges. */
  readonly wide?: number;
  /** Air or water, as an exchange. */
  readonly around: Boundary;
  readonly shouldStop?: () => boolean;
}

/** What a section's neighbors and corners keep in its mold, as the mold of its bar has it. */
export interface MoldOfBar {
  /** It starts so much warmer than the job's, K. */
  readonly warmer: number;
  /** Its contact with the plastic, as a share of the job's: less where no warm mold keeps a bar so even. */
  readonly contactShare: number;
}

/** The bar or sheet in such a mold. */
export function inMold<P extends Pick<HeatProblem, "layers">>(problem: P, mold: MoldOfBar): P {
  const layers = problem.layers?.map((layer) =>
    layer.name === "bait"
      ? { ...layer, ...(layer.contact && { contact: layer.contact * mold.contactShare }) }
      : { ...layer, initial: layer.initial + mold.warmer },
  );
  return { ...problem, layers };
}

export function openedProblem({
  scenario,
  body,
  opening,
  moldOfBar,
  wide = Number.POSITIVE_INFINITY,
  around,
  shouldStop,
}: Opened): HeatProblem {
  const bar = barModel(scenario, body).problem;
  const problem = moldOfBar ? inMold(bar, moldOfBar) : bar;
  const mold = problem.layers!.map(({ name }) => name).filter((name) => name !== "bait");
  return {
    ...problem,
    probes: {
      skin: { kind: "point", x: body.across / 2, side: "left" },
      mean: { kind: "mean", region: "bait" },
      core: { kind: "point", x: 0 },
    },
    stages: [
      { until: opening },
      {
        until: opening + LONGEST_COOLING,
        absent: mold,
        exposed: withEdges(around, scenario, body, wide),
      },
    ],
    ...(shouldStop && { shouldStop }),
  };
}

/**
 * Of what a middle loses sideways while its edges are as cold as what is around them: they are cooler than it, not so cold.
 * Measured: held 1.0 to 1.3 times as late as the middle of eighteen sections, 1.5 to 6 times as wide as thick.
 */
const TO_EDGES = 0.6;

/**
 * What a sheet exchanges for the middle of a flat section so wide: k (pi/wide)^2 (T - ambient) W/m3, the slowest mode
 * sideways, joins what goes out through its two faces.
 */
function withEdges(
  around: Boundary,
  { job }: Scenario,
  { form, across }: StandIn,
  wide: number,
): Boundary {
  if (form !== "flat" || around.kind !== "exchange" || typeof around.h !== "number") return around;
  const sideways = job.shot.material.conductivity.value * (Math.PI / wide) ** 2;
  return { ...around, h: around.h + (TO_EDGES * sideways * across) / 2 };
}

/**
 * Times in s after opening from which on the mean is below each limit, and the core below `coolTo`.
 *
 * @returns 0 where it is below already; Infinity where it never gets there
 */
export function cooledBelow(
  opened: Opened,
  limits: readonly number[],
  coolTo: number,
  solving: Solving = {},
): { readonly limits: readonly number[]; readonly core: number; readonly effort: Effort } {
  const problem = openedProblem(opened);
  const [closed, open] = problem.stages;
  const { crossings, effort } = simulate({
    ...problem,
    ...solving,
    // on past the crossing by a little: both grids have to meet it
    stages: [
      closed,
      { ...open, stop: { probe: "core", below: Math.min(coolTo, ...limits) - 0.2 } },
    ],
    crossings: [
      ...limits.map((below) => ({ probe: "mean", below })),
      { probe: "core", below: coolTo },
    ],
  });
  const since = (t: number | null) =>
    t === null ? Number.POSITIVE_INFINITY : Math.max(0, t - opened.opening);
  const all = crossings.map(({ time }) => since(time));
  return { limits: all.slice(0, -1), core: all[all.length - 1], effort };
}

/** Cavity face of the bar's mold as it is opened, K. */
export function faceAsOpened({ scenario, body, opening, moldOfBar }: Opened): number {
  const bar = barModel(scenario, body).problem;
  const problem = moldOfBar ? inMold(bar, moldOfBar) : bar;
  const { trace } = simulate({ ...problem, ...DRAFTING, stages: [{ until: opening }] });
  return faceAt(trace, opening);
}

/** Skin, mean and core over the time since the mold was opened. */
export interface OutOfMold {
  readonly times: readonly number[];
  readonly skin: readonly number[];
  readonly mean: readonly number[];
  readonly core: readonly number[];
  readonly effort: Effort;
}

const POINTS = 121;

/** The course from opening on, denser at its start, where the skin moves fast. */
export function outOfMold(opened: Opened, until: number, solving: Solving = {}): OutOfMold {
  const problem = openedProblem(opened);
  const [closed, open] = problem.stages;
  const { opening } = opened;
  const times = Array.from({ length: POINTS }, (_, k) => until * (k / (POINTS - 1)) ** 2);
  const { probes, effort } = simulate({
    ...problem,
    ...solving,
    stages: [closed, { ...open, until: opening + until }],
    times: times.map((t) => opening + t),
  });
  const { skin, mean, core } = probes;
  return { times, skin: [...skin], mean: [...mean], core: [...core], effort };
}

/**
 * For how long, s, a mean that is cool enough as the mold is opened has been so, about: as long as it takes from there to get as
 * much nearer to the room as it is already. A range that is drawn of times which are 0 for many would bend at 0; with this they go
 * on below it as evenly as they come down to it.
 *
 * @returns 0 where the mean is not between the limit and what is around it
 */
export function coolSince({ times, mean }: OutOfMold, limit: number, ambient: number): number {
  const [now] = mean;
  if (!(now > ambient && limit >= now)) return 0;
  const wanted = ambient + (now - ambient) ** 2 / (limit - ambient);
  const next = mean.findIndex((T) => T <= wanted);
  if (next === 0) return 0;
  if (next < 0) return times[times.length - 1];
  const share = (mean[next - 1] - wanted) / (mean[next - 1] - mean[next]);
  return times[next - 1] + share * (times[next] - times[next - 1]);
}

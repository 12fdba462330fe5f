/** Truths drawn from the spreads of a job, question by question: what its range ought to hold eight times of ten. */
import type { Uncertain } from "../../../lib/confidence/uncertain.ts";
import { calibrateCure } from "../../../lib/cure/calibrate.ts";
import { makeTabulatedRateLaw } from "../../../lib/cure/tabulated.ts";
import type { Job } from "../../../lib/job/types.ts";
import { barModel, standInOf } from "../../../lib/models/bait/bar.ts";
import { cool, SEARCHING } from "../../../lib/models/cooling.ts";
import { settingOf } from "../../../lib/models/pour/problem.ts";
import { LIKELY_RESIN, type PouredResin, resinMaker } from "../../../lib/models/pour/resin.ts";
import { pourRuns } from "../../../lib/models/pour/runs.ts";
import { EffortSum } from "../../../lib/models/ranged.ts";
import { type Scenario, scenarioOf, scenarioSurroundings } from "../../../lib/models/scenario.ts";
import { cycleProblem, paceOf, steadyShot } from "../../../lib/models/shots/cycle.ts";
import { slowestStation } from "../../../lib/models/shots/slowest-station.ts";
import { uncertainInputs } from "../../../lib/models/uncertain-inputs.ts";
import { drawn, drawnAsRatio, NINE_OF_TEN } from "../../../lib/numerics/deviates.ts";
import { layeredStation } from "../../../lib/questions/layer/layer.ts";
import { quickAnswer, quickLook } from "../../../lib/questions/layer/look.ts";
import { uncertainColors } from "../../../lib/questions/layer/uncertain-colors.ts";
import { feedOf } from "../../../lib/questions/sprue/feed.ts";
import { uncertainFeeding } from "../../../lib/questions/sprue/uncertain.ts";
import { likelyMost } from "../../../lib/questions/walls/thickest.ts";

/** A source of standard normal numbers. */
type Normals = () => number;
/** A truth's numbers, named like those of the answer. */
type Truth = Readonly<Record<string, number>>;

function movedBy(job: Job, more: readonly Uncertain<Scenario>[], normal: Normals): Scenario {
  return [...uncertainInputs(job), ...more].reduce(
    (at, input) => input.at(at, normal()),
    scenarioOf(job),
  );
}

/** A time is blurred by clock and hand. */
const blurred = (time: number, { uncertainty }: Job, normal: Normals) =>
  Math.max(0, time + (uncertainty.time / NINE_OF_TEN) * normal());

/** The resin of a pour with pot life, energy, heat and conductivity drawn. */
function drawnResin(job: Job, normal: Normals): PouredResin {
  const { pour } = job;
  const likely = resinMaker(job)(LIKELY_RESIN);
  const traits = pour.material.resin!;
  const share = likely.mix.resinMassShare;
  const energy = drawn({ value: likely.energy, low: 50e3, high: 65e3 }, normal());
  // as sold, nobody knows how much powder is in it either: a volume makes as much heat as there is resin in it
  const { volumeShare } = pour.material.filler ?? { volumeShare: null };
  const filled = pour.fillerMassShare === null && volumeShare !== null;
  const resinShare = filled ? (1 - drawn(volumeShare, normal())) / (1 - volumeShare.value) : 1;
  const heat = drawn(traits.heatOfReaction, normal()) * share * resinShare;
  const late = 1 + (0.15 / NINE_OF_TEN) * normal();
  const { specificHeat, density, gel, spec } = likely;
  const found = calibrateCure(
    { law: spec, heat, specificHeat, density, gel, energyLow: energy, energyHigh: energy },
    { thinFilm: { duration: pour.thinFilm!.time * late, at: pour.thinFilm!.at } },
  );
  const conductivity = drawnAsRatio(likely.mix.conductivity, normal());
  const cure = { ...likely.material.cure!, law: makeTabulatedRateLaw(found.spec), heat };
  return {
    ...likely,
    heat,
    conductivity,
    energy,
    spec: found.spec,
    material: { ...likely.material, conductivity, cure },
  };
}

const warmer = (job: Job, by: number): Job => ({
  ...job,
  room: { ...job.room, temperature: job.room.temperature + by },
  pour: { ...job.pour, stock: job.pour.stock + by },
});

/** One dimension throughout, as in the quick answers. */
export const truths: Readonly<Record<string, (job: Job, normal: Normals) => Truth>> = {
  demold(job, normal) {
    const at = movedBy(job, [], normal);
    const bar = barModel(at, standInOf(slowestStation(at)));
    return { time: blurred(cool(bar, job.limits.demold, SEARCHING).time, job, normal) };
  },
  shots(job, normal) {
    const at = movedBy(job, [], normal);
    const pace = { ...paceOf(at.job.run, job.limits.demold, 1), timer: null };
    const bar = barModel(at, standInOf(slowestStation(at)));
    const around = scenarioSurroundings(at);
    const problem = cycleProblem(bar, pace, at.job.shot.temperature, around, SEARCHING);
    const { opensAfter } = steadyShot(problem, pace, { within: 0.05 });
    return { settled: blurred(opensAfter, job, normal) };
  },
  layer(job, normal) {
    const at = movedBy(job, uncertainColors(job), normal);
    const station = layeredStation(at.job);
    // as the quick answer: its times as those of the section are of it
    const { open, close } = quickAnswer(quickLook(at, station), station, at.job);
    return { open: blurred(open, job, normal), close: blurred(close, job, normal) };
  },
  sprue(job, normal) {
    const at = movedBy(job, uncertainFeeding(job), normal);
    return { closes: feedOf(at, { quick: true, draft: true, gateFactor: 1 }).closes };
  },
  pour(job, normal) {
    const there = warmer(job, (job.uncertainty.roomTemperature / NINE_OF_TEN) * normal());
    const runs = pourRuns(there, { quick: true });
    return { peak: runs.linePeak(drawnResin(there, normal), settingOf(there)).value };
  },
  walls(job, normal) {
    const there = warmer(job, (job.uncertainty.roomTemperature / NINE_OF_TEN) * normal());
    const resin = drawnResin(there, normal);
    const casting = { job: there, options: { quick: true }, effort: new EffortSum() };
    return { most: likelyMost({ ...casting, make: () => resin }, { wall: 0.03, share: 0.7 }) };
  },
};

/** Logs of invented shops, whose truth is known: drawn from the spreads of a job, with all that goes wrong with a log. */

import { sobolSequence } from "../../../../lib/confidence/sobol-sequence.ts";
import { simulate } from "../../../../lib/heat/simulate.ts";
import { jobInputs } from "../../../../lib/job/inputs.ts";
import type { Job } from "../../../../lib/job/types.ts";
import { barModel, standInOf } from "../../../../lib/models/bait/bar.ts";
import { cool, SEARCHING } from "../../../../lib/models/cooling.ts";
import { slowestStation } from "../../../../lib/models/shots/slowest-station.ts";
import { normalQuantile } from "../../../../lib/numerics/special-functions.ts";
import type { TemperatureLog } from "../../../../lib/questions/fit/log.ts";
import type { ShopLine } from "../../../../lib/questions/fit/shop.ts";

/** Standard normal numbers, the same each time. */
export function normals(seed: number): () => number {
  let s = seed * 7919 + 17;
  const uniform = () => {
    s = (Math.imul(s, 1664525) + 1013904223) >>> 0;
    return (s + 0.5) / 2 ** 32;
  };
  return () => normalQuantile(uniform());
}

export interface Truth {
  readonly job: Job;
  /** All times are off the model's by this factor: what one dimension and constant contact leave out. */
  readonly off: number;
  /** Of the shop's bait with the job's mold temperature, s. */
  readonly demold: number;
}

const timeOf = (job: Job) => {
  const station = slowestStation({ job, airFactor: 1 });
  return cool(barModel({ job, airFactor: 1 }, standInOf(station)), job.limits.demold, SEARCHING)
    .time;
};

/** The `n`-th shop for which a job is as true as its spreads say. */
export function truthOf(job: Job, n: number): Truth {
  const inputs = jobInputs(job);
  const z = sobolSequence(inputs.length + 1, 4242)
    .point(n)
    .map(normalQuantile);
  const moved = inputs.reduce((at, input, i) => input.at(at, z[i]!), job);
  const off = Math.exp(0.03 * z[inputs.length]!);
  return { job: moved, off, demold: off * timeOf(moved) };
}

const warmer = (job: Job, by: number): Job => ({
  ...job,
  mold: {
    ...job.mold,
    temperature: job.mold.temperature + by,
    upperTemperature: job.mold.upperTemperature + by,
  },
});

/** A shop that opens somewhat sooner after a good bait and later after a soft one, its mold warming up. */
export function shopLog(
  job: Job,
  { job: real, off }: Truth,
  lines: number,
  seed: number,
): ShopLine[] {
  const next = normals(seed);
  let factor = 1;
  return Array.from({ length: lines }, (_, k) => {
    const by = 12 * (1 - Math.exp(-k / 4));
    const needed = off * timeOf(warmer(real, by)) * Math.exp(0.06 * next());
    // what the tool says for a mold that warm, times what the shop has found so far
    const opened = Math.round((factor * timeOf(warmer(job, by))) / 10) * 10;
    const good = opened >= needed;
    factor *= good ? 0.93 : 1.1;
    return {
      mold: Math.round(job.mold.temperature + by + 2 * next()),
      shot: null,
      opened,
      verdict: good ? "good" : "soft",
    };
  });
}

/** A probe in the middle of one bait: off as a whole, drifting, with a clock that was started too soon or too late. */
export function probeLog(
  { job, off }: Truth,
  count: number,
  step: number,
  seed: number,
): TemperatureLog {
  const next = normals(seed);
  const [offset, drift, clock] = [1.5 * next(), 1.5 * next(), 3 * next()];
  const time = Array.from({ length: count }, (_, k) => 15 + k * step);
  const station = slowestStation({ job, airFactor: 1 });
  const history = simulate({
    ...barModel({ job, airFactor: 1 }, standInOf(station)).problem,
    ...SEARCHING,
    stages: [{ until: time[count - 1]! * 1.3 + 60 }],
    times: time.map((t) => Math.max(0.5, (t + clock) / off)),
  });
  const temperature = Array.from(
    history.probes["hottest"]!,
    (T, k) => T + offset + (drift * k) / count + 0.5 * next(),
  );
  return { time, temperature };
}

import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { readJob } from "../../../../lib/job/job.ts";
import { EffortSum } from "../../../../lib/models/ranged.ts";
import { fit as fitLog, type TemperatureLog } from "../../../../lib/questions/fit/fit.ts";
import { type FitModel, fitBait, fitCup, fitPour } from "../../../../lib/questions/fit/models.ts";
import { InputError } from "../../../../lib/units/problem.ts";

const job = (name: string) =>
  readJob(readFileSync(new URL(`../../../../data/jobs/${name}.yaml`, import.meta.url), "utf8")).job;

/** Numbers within 0.5 of 0, the same each time (Lehmer's generator). */
function shaky(seed = 1): () => number {
  let s = seed;
  return () => {
    s = (s * 16807) % 2147483647;
    return s / 2147483647 - 0.5;
  };
}

const every = (count: number, step: number) =>
  Array.from({ length: count }, (_, i) => 5 + i * step);

/** A log made with known parameters and read with an error of up to 1 K. */
function logOf(model: FitModel, time: readonly number[], truth: readonly number[]): TemperatureLog {
  const error = shaky();
  return { time, temperature: model.values(truth).map((T) => T + 2 * error()) };
}

describe("a bait with a probe in its middle", () => {
  const given = job("two-tone-belly");
  const time = every(25, 20);
  const model = fitBait(given, { time, temperature: [] }, new EffortSum(), {});
  const truth = [-0.8, 0.5, 1, 0.3];

  test("gives back the conductivity, contact and temperatures it was made with", () => {
    const { answer } = fitLog(given, logOf(model, time, truth));
    expect(answer.of).toBe("bait");
    answer.parameters.forEach(({ fitted, before }, k) => {
      const made = model.parameters[k].at(truth[k]);
      expect(fitted.low).toBeLessThan(made);
      expect(fitted.high).toBeGreaterThan(made);
      expect(fitted.high - fitted.low).toBeLessThan(before.high - before.low);
    });
    expect(answer.residual).toBeLessThan(1);
    const conductivity = answer.parameters[0].fitted;
    expect(Math.abs(conductivity.value / model.parameters[0].at(truth[0]) - 1)).toBeLessThan(0.03);
  });
  test("says what it can't tell, more of it with a few readings at the end", () => {
    const late = every(5, 8).map((t) => t + 240);
    const end = fitBait(given, { time: late, temperature: [] }, new EffortSum(), {});
    const { answer } = fitLog(given, { ...logOf(end, late, truth), of: "bait" });
    expect(answer.cannotTell).toEqual(
      expect.arrayContaining([
        { code: "conductivity_or_heat" },
        { code: "prior_kept", name: "mold.contact" },
      ]),
    );
    const all = fitLog(given, logOf(model, time, truth)).answer;
    const width = (a: typeof answer) => a.means[0].value.high - a.means[0].value.low;
    expect(width(answer)).toBeGreaterThan(width(all));
  });
});

describe("resin", () => {
  test.each([
    ["four-kilo-half", 1080],
    ["hot-garage", 180],
  ])(
    "a pour like %s gives back speed, heat and energy",
    (name, step) => {
      const given = job(name);
      const time = every(40, step);
      const model = fitPour(given, { time, temperature: [] }, new EffortSum(), {});
      const truth = [0.6, -0.5, 0.3];
      const { answer } = fitLog(given, { ...logOf(model, time, truth), of: "pour" });
      answer.parameters.forEach(({ fitted }, k) => {
        const made = model.parameters[k].at(truth[k]);
        expect(fitted.low).toBeLessThan(made);
        expect(fitted.high).toBeGreaterThan(made);
      });
      expect(answer.parameters.every(({ told }) => told)).toBe(true);
      expect(answer.means.map(({ name: of }) => of)).toEqual(["gelAt25", "peak"]);
    },
    60_000,
  );
  test("a cup with a probe gives back speed and heat", () => {
    const given = job("hot-garage");
    const time = every(40, 150);
    const model = fitCup(given, { time, temperature: [311.15] }, 0.3);
    const truth = [0.6, -0.5, 0.3];
    const log = logOf(model, time, truth);
    const exact = [311.15, ...log.temperature.slice(1)];
    const { answer } = fitLog(given, { time, temperature: exact, of: "cup", cupMass: 0.3 });
    answer.parameters.forEach(({ fitted }, k) => {
      const made = model.parameters[k].at(truth[k]);
      expect(fitted.low).toBeLessThan(made);
      expect(fitted.high).toBeGreaterThan(made);
    });
  });
  test("a curve that no resin makes is called so", () => {
    const time = every(20, 600);
    const temperature = time.map((_, i) => (i % 2 === 0 ? 300 : 360));
    const { answer } = fitLog(job("hot-garage"), { time, temperature, of: "cup" });
    expect(answer.cannotTell).toContainEqual({ code: "model_misses" });
  });
});

test("a logger's hundred thousands of readings are fitted, not too many for a call", () => {
  const given = job("two-tone-belly");
  const time = every(300_000, 0.002);
  const sparse = every(61, 10);
  const { values } = fitBait(given, { time: sparse, temperature: [] }, new EffortSum(), {});
  const T = values([0, 0, 0, 0]);
  const between = (t: number) => {
    const k = Math.min(Math.floor((t - 5) / 10), T.length - 2);
    return T[k] + ((t - sparse[k]) / 10) * (T[k + 1] - T[k]);
  };
  const { answer } = fitLog(given, { time, temperature: time.map(between) });
  expect(answer.readings).toBe(300_000);
  // made by the model itself: what is left is the chord of its bends
  expect(answer.residual).toBeLessThan(1);
}, 60_000);

describe("a bad log", () => {
  const codes = (log: TemperatureLog): string[] => {
    try {
      fitLog(job("two-tone-belly"), log);
    } catch (error) {
      if (error instanceof InputError) return error.problems.map(({ code }) => code);
      throw error;
    }
    return [];
  };
  test("too short, uneven, backwards, not numbers, flat: each is told, all at once", () => {
    expect(codes({ time: [0, 1], temperature: [400, 390] })).toEqual(["too_small"]);
    expect(codes({ time: [0, 1, 2, 3], temperature: [400, 390, 380] })).toContain("not_a_pair");
    expect(codes({ time: [0, 2, 1, Number.NaN], temperature: [400, 390, 380, 900] })).toEqual([
      "not_rising",
      "not_a_number",
      "too_big",
    ]);
    expect(codes({ time: [0, 1, 2, 3], temperature: [300, 300.5, 300, 301] })).toEqual([
      "too_small",
    ]);
    expect(codes({ time: [], temperature: [] })).toEqual(["too_small"]);
  });
});

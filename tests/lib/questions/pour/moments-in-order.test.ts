/** When a pour peaks, may be left, turned and taken out, with stock that is warmer than its room, too. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { checkJob } from "../../../../lib/job/job.ts";
import { pourCorners } from "../../../../lib/models/pour/corners.ts";
import { horizonOf } from "../../../../lib/models/pour/course.ts";
import { pourLine } from "../../../../lib/models/pour/problem.ts";
import { pourRuns } from "../../../../lib/models/pour/runs.ts";
import { pour } from "../../../../lib/questions/pour/pour.ts";
import { pourQuestion } from "../../../../src/cli/questions/pour.ts";

const drawn = (seed: number, numRuns: number) =>
  fc
    .sample(
      fc.record({
        room: fc.integer({ min: 12, max: 30 }),
        warmer: fc.integer({ min: 0, max: 28 }),
        depth: fc.integer({ min: 10, max: 34 }),
        hours: fc.constantFrom(3, 6, 8, 14),
        layers: fc.constantFrom(1, 2, 3),
      }),
      { seed, numRuns },
    )
    .map(({ room, warmer, depth, hours, layers }) => {
      const raw = {
        bait: { thickness: "16 mm", length: "140 mm" },
        room: { temperature: `${room} degC` },
        pour: {
          depth: `${depth} mm`,
          box: { width: "140 mm", length: "220 mm" },
          thinFilm: { time: `${hours} h` },
          stock: `${room + warmer} degC`,
          layers,
        },
      };
      return { raw, job: checkJob(raw).job };
    });

test("the ends of the moments' ranges are in their order, and nothing is left before its reaction has peaked", () => {
  for (const { raw, job } of drawn(17, 12)) {
    const { answer } = pour(job, { quick: true, brief: true });
    const { peakTime, gelTime, gelLast, leave, turn, demold, clamp } = answer;
    const told = JSON.stringify(raw);
    const rows = [
      [gelTime, gelLast, turn, demold, clamp],
      [gelTime, leave, turn],
      [peakTime, leave],
    ];
    for (const row of rows)
      for (const end of ["low", "value", "high"] as const)
        row.slice(1).forEach((later, i) => {
          expect(later[end], `${told} ${end}`).toBeGreaterThanOrEqual(row[i]![end]);
        });
    // a reaction that has hardly begun does not peak
    expect(peakTime.low, told).toBeGreaterThan(0.2 * gelTime.low);
    expect(answer.hottestAsPoured, told).toBe(
      answer.peak.value <= job.pour.stock + 1 && job.pour.stock > job.room.temperature,
    );
  }
});

/** When the reaction has added most to what the same pour without a reaction is by then, s. */
function addedMostAt(job: ReturnType<typeof drawn>[number]["job"]): number {
  const runs = pourRuns(job, { quick: true });
  const { resin, setting } = pourCorners(runs).likely;
  const until = horizonOf(resin, setting.room, setting.stock) / 4;
  const times = Array.from({ length: 400 }, (_, i) => ((i + 1) / 400) * until);
  const options = { until, times, estimateGrid: false, estimateSteps: false };
  const whole = pourLine(job, resin, setting, options);
  const { cure: _, ...inert } = resin.material;
  const hot = (problem: typeof whole) => {
    const { trace } = runs.run(problem);
    return (time: number) => {
      const k = trace.times.findIndex((t) => t >= time);
      return trace.probes["hot"]![k]!;
    };
  };
  const reacting = hot({ ...whole, probes: { hot: whole.probes["hot"]! } });
  const cooling = hot({
    ...whole,
    probes: { hot: whole.probes["hot"]! },
    materials: { ...whole.materials, resin: inert },
  });
  const added = times.map((t) => reacting(t) - cooling(t));
  return times[added.indexOf(Math.max(...added))]!;
}

test("warm stock: the reaction peaks when it has added most to the same pour without one", () => {
  for (const { raw, job } of drawn(5, 8)) {
    if (job.pour.stock < job.room.temperature + 8) continue;
    const { answer } = pour(job, { quick: true, brief: true });
    const ratio = answer.peakTime.value / addedMostAt(job);
    // what still cools peaks somewhat before
    expect(ratio, JSON.stringify(raw)).toBeGreaterThan(0.7);
    expect(ratio, JSON.stringify(raw)).toBeLessThan(1.35);
  }
});

test("a pour that is hottest as it is poured says when its reaction peaks, and whose the times of a layered one are", () => {
  const { job } = checkJob({
    bait: { thickness: "20 mm", length: "150 mm" },
    pour: {
      box: { width: "140 mm", length: "220 mm" },
      depth: "24 mm",
      thinFilm: { time: "8 h" },
      stock: "45 degC",
      layers: 3,
    },
  });
  const found = pour(job, { brief: true });
  const { headline, body } = pourQuestion.text(found, job, "metric");
  expect(found.answer.hottestAsPoured).toBe(true);
  expect(headline.join(" ")).toMatch(/as it is poured; the reaction's own peak comes between \d h/);
  expect(body.join("\n")).toMatch(/in one pour, not in layers +after/);
});

test("the table's row of today's room is the answer", () => {
  for (const room of ["68 degF", "25 degC", "10 degC"]) {
    const { job } = checkJob({
      bait: { thickness: "20 mm" },
      room: { temperature: room },
      pour: { depth: "20 mm", thinFilm: { time: "8 h" } },
    });
    const { byRoom, heatDepth } = pour(job, { brief: true }).answer;
    const row = byRoom.find((one) => Math.abs(one.room - job.room.temperature) < 0.01)!;
    expect(row.deepest).toBe(heatDepth);
  }
}, 60_000);

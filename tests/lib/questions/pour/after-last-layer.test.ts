import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { glassCure } from "../../../../lib/cure/glass-transition.ts";
import { timeToCure } from "../../../../lib/cure/isothermal.ts";
import { checkJob } from "../../../../lib/job/job.ts";
import { parseJobText } from "../../../../lib/job/text.ts";
import { pourCorners } from "../../../../lib/models/pour/corners.ts";
import { layersOf } from "../../../../lib/models/pour/layers.ts";
import { settingOf } from "../../../../lib/models/pour/problem.ts";
import { pourRuns } from "../../../../lib/models/pour/runs.ts";
import { NINE_OF_TEN } from "../../../../lib/numerics/deviates.ts";
import { pour } from "../../../../lib/questions/pour/pour.ts";
import { normals } from "../fit/synthetic.ts";

const file = new URL("../../../../data/jobs/four-kilo-half.yaml", import.meta.url);
const { job } = checkJob(parseJobText(readFileSync(file, "utf8")));

describe("a pour in layers tells when all of it may be touched", () => {
  test("layers too thin to warm themselves harden as the rate law does at room temperature", () => {
    const runs = pourRuns(job, {});
    const { likely } = pourCorners(runs);
    const { resin, setting } = likely;
    const thin = { ...likely, setting: { ...setting, depth: 0.002 } };
    const { clamp } = layersOf(runs, thin, 2, 1).milestones();
    // may be clamped: glass 20 K over the room
    const hard = glassCure(resin.glass, setting.room + 20);
    const alone = timeToCure(resin.material.cure!.law, setting.room, { from: 1e-6, to: hard })!;
    expect(Math.abs(clamp! / alone - 1)).toBeLessThan(0.05);
  });

  test("in order, later than one pour that warms itself, and none where it is one pour", () => {
    const { layersLeave, layersTurn, layersDemold, layersClamp, clamp, layers } = pour(job).answer;
    expect(layers.length).toBeGreaterThan(1);
    const moments = [layersLeave, layersTurn, layersDemold, layersClamp];
    for (const end of ["low", "value", "high"] as const) {
      const times = moments.map((one) => one![end]);
      expect(times).toEqual([...times].sort((a, b) => a - b));
    }
    expect(layersClamp!.value).toBeGreaterThan(clamp.value);
    const shallow = pour({ ...job, pour: { ...job.pour, depth: 0.006 } }, { quick: true }).answer;
    expect(shallow.layers).toHaveLength(1);
    expect(shallow.layersClamp).toBeNull();
  });

  test("its range holds eight of ten drawn resins and rooms", () => {
    const runs = pourRuns(job, {});
    const { likely } = pourCorners(runs);
    const { layers, layersClamp, gelTime } = pour(job).answer;
    const count = layers.length;
    const own = layersOf(runs, likely, count, 1).milestones().clamp!;
    const normal = normals(23);
    const width = job.uncertainty.roomTemperature / NINE_OF_TEN;
    const setting = settingOf(job);
    const drawn = Array.from({ length: 60 }, () => {
      const [speed, energy, heat, conductivity] = [normal(), normal(), normal(), normal()];
      const warmer = width * normal();
      const member = {
        end: likely.end,
        resin: runs.resin({ speed, energy, heat, conductivity }),
        setting: { ...setting, room: setting.room + warmer, stock: setting.stock + warmer },
      };
      return layersOf(runs, member, count, 1).milestones().clamp ?? Number.POSITIVE_INFINITY;
    });
    const { low, value, high } = layersClamp!;
    const held = drawn.filter((time) => time / own >= low / value && time / own <= high / value);
    expect(held.length / drawn.length).toBeGreaterThan(0.65);
    expect(held.length / drawn.length).toBeLessThan(0.95);
    // of the gel of the one pour
    expect(high / value).toBeCloseTo(gelTime.high / gelTime.value, 6);
  });
});

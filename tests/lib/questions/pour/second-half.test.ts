/** The first half under the second: "stays hard" is said only where it does with bad luck, too. */
import { describe, expect, test } from "vitest";
import { checkJob, readJob } from "../../../../lib/job/job.ts";
import { withSetting } from "../../../../lib/job/with-setting.ts";
import { pour } from "../../../../lib/questions/pour/pour.ts";
import { runCommand } from "../../../../src/cli/command.ts";
import { testWorld } from "../../../src/cli/world.ts";

const RAW = { bait: { thickness: "16 mm", length: "120 mm" } };
const jobOf = (settings: Readonly<Record<string, string>>) =>
  checkJob(
    Object.entries(settings).reduce<Record<string, unknown>>(
      (raw, [path, typed]) => withSetting(raw, path, typed),
      RAW,
    ),
  ).job;
const secondOf = (settings: Readonly<Record<string, string>>, likelyOnly = false) =>
  pour(jobOf(settings), { quick: true, likelyOnly, brief: true }).answer.secondHalf;

const BASES = [12, 25, 40].flatMap((depth) =>
  [12, 22, 34].flatMap((room) =>
    [45, 240].map((minutes) => ({
      "pour.depth": `${depth} mm`,
      "room.temperature": `${room} degC`,
      "pour.potLife.time": `${minutes} min`,
    })),
  ),
);

describe.each(BASES)("$pour.depth, room $room.temperature, $pour.potLife.time", (base) => {
  const second = secondOf(base);
  test("is as sure as its margin", () => {
    if (second === null) return;
    const { peak, facePeak, margin, holds } = second;
    for (const { low, value, high } of [peak, facePeak, margin]) {
      expect(low).toBeLessThanOrEqual(value);
      expect(value).toBeLessThanOrEqual(high);
    }
    expect(facePeak.value).toBeLessThanOrEqual(peak.value + 1e-9);
    expect(holds).toBe(margin.low > 0 ? "surely" : margin.value > 0 ? "maybe" : "no");
  });

  test("what is sure stays so where each of its bad luck is typed, and all of it together", () => {
    if (second === null || second.holds !== "surely") return;
    const minutes = Number.parseFloat(base["pour.potLife.time"]);
    const room = Number.parseFloat(base["room.temperature"]);
    // a pot life is read off to 15 % (common practice, no source), the room as the job has it
    const fast = { "pour.potLife.time": `${0.85 * minutes} min` };
    const warm = { "room.temperature": `${room + jobOf(base).uncertainty.roomTemperature} degC` };
    for (const bad of [fast, warm, { ...fast, ...warm }]) {
      const typed = secondOf({ ...base, ...bad }, true)!;
      expect(typed.margin.value, JSON.stringify(bad)).toBeGreaterThan(0);
    }
  });
});

test("both answers come, and a range without width where nothing is unsure", () => {
  const found = new Set(BASES.map((base) => secondOf(base)?.holds));
  for (const one of ["surely", "maybe"] as const) expect(found).toContain(one);
  const likely = secondOf(BASES[3], true)!;
  expect(likely.margin.low).toBe(likely.margin.high);
});

test("a rubber has no glass to lose", () => {
  const { job } = readJob(
    "{ bait: { thickness: 16 mm }, mold: { material: silicone }, pour: { material: silicone } }",
  );
  expect(pour(job, { quick: true }).answer.secondHalf).toBeNull();
});

test("the command says what to do where it is not sure", async () => {
  for (const [depth, says] of [
    ["8 mm", /face stays hard/],
    [
      "40 mm",
      /may soften .* post-cure the first half before, .* release|goes soft .* post-cure it first/,
    ],
  ] as const) {
    const world = testWorld({
      "job.yaml": `{ bait: { thickness: 16 mm, length: 120 mm }, room: { temperature: 24 degC }, pour: { depth: ${depth}, potLife: { time: 3 h } } }`,
    });
    expect(await runCommand(["pour", "job.yaml", "--quick"], world)).toBe(0);
    expect(world.printed.replace(/\s+/g, " ")).toMatch(says);
  }
});

import { expect, test } from "vitest";
import { readJob } from "../../../../lib/index.ts";
import { layer as askLayer } from "../../../../lib/questions/layer/layer.ts";
import { truths } from "../drawn-truths.ts";
import { normals } from "../fit/synthetic.ts";

test("where some windows never close, the late end is that of many more cases drawn at random", () => {
  const { job } = readJob(`bait: { thickness: 24 mm }
mold: { material: plaster, wall: 30 mm, temperature: 50 degC }
layer: { depth: 9 mm, second: { temperature: 185 degC } }`);
  const { close } = askLayer(job, { quick: true, further: false }).answer;
  const normal = normals(7);
  const drawn = Array.from({ length: 250 }, () => truths["layer"](job, normal)["close"]!);
  drawn.sort((a, b) => a - b);
  expect(drawn.at(-1)).toBe(Number.POSITIVE_INFINITY);
  // a tenth lies beyond: of 250 members 16 to 36, as luck has it
  const beyond = drawn.filter((time) => time > close.high).length;
  expect(beyond).toBeGreaterThanOrEqual(16);
  expect(beyond).toBeLessThanOrEqual(36);
});

test("how much faster an interface heals when it is hotter is a guess, and counts", () => {
  const { job } = readJob(`bait: { thickness: 24 mm }
materials: []
layer: { depth: 6 mm, healing: 95 % }`);
  const traits = job.shot.material.plastisol!;
  const sure = { ...traits.healingEnergy, low: 80e3, high: 80e3 };
  const exactly = {
    ...job,
    shot: {
      ...job.shot,
      material: { ...job.shot.material, plastisol: { ...traits, healingEnergy: sure } },
    },
  };
  const widthOf = (asked: typeof job) => {
    const { close } = askLayer(asked, { quick: true, further: false }).answer;
    return close.high - close.low;
  };
  expect(traits.healingEnergy.high).toBeGreaterThan(traits.healingEnergy.low);
  expect(widthOf(job)).toBeGreaterThan(widthOf(exactly));
});

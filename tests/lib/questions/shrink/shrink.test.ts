import { expect, test } from "vitest";
import { readJob } from "../../../../lib/job/job.ts";
import { shrink } from "../../../../lib/questions/shrink/shrink.ts";
import { InputError } from "../../../../lib/units/problem.ts";

const job = (steps: string) =>
  readJob(`bait: { thickness: 16 mm, length: 100 mm }\nshrink: { steps: [${steps}] }`).job;

test("given shrinkages: the scale is one over the product of what is left", () => {
  const { answer } = shrink(
    job(
      "{ material: polymer clay, shrinkage: 0.7 % }, { material: tin silicone, shrinkage: 0.4 % }, { material: filled epoxy, shrinkage: 0.2 % }, { material: soft plastisol, shrinkage: 2.3 % }",
    ),
  );
  // 0.993 x 0.996 x 0.998 x 0.977 = 0.964348, by hand
  expect(answer.scale.value).toBeCloseTo(1 / 0.964348, 5);
  expect(answer.scale.low).toBe(answer.scale.value);
  expect(answer.masterLength.value).toBeCloseTo(0.1 / 0.964348, 6);
  expect(answer.steps.map((step) => step.size.value)).toEqual(
    [...answer.steps.map((step) => step.size.value)].sort((a, b) => b - a),
  );
  expect(answer.decidedBy).toBeNull();
});

test("the usual chain: the sculpt 2 to 5 % larger, and plastisol leaves most open", () => {
  // "scale the sculpt 2 to 4 %": common practice, no source
  const { answer } = shrink(readJob("bait: { thickness: 16 mm }").job);
  expect(answer.scale.value).toBeGreaterThan(1.02);
  expect(answer.scale.value).toBeLessThan(1.05);
  expect(answer.scale.low).toBeLessThan(answer.scale.value);
  expect(answer.scale.high).toBeGreaterThan(answer.scale.value);
  expect(answer.steps).toHaveLength(4);
  expect(answer.decidedBy).toEqual({ code: "shrinkage", name: "soft plastisol" });
});

test("silicone cured warm shrinks more, unless the shrinkage was measured", () => {
  const scale = (step: string) => shrink(job(step)).answer.scale.value;
  const cold = scale("{ material: platinum silicone }");
  const warm = scale("{ material: platinum silicone, curedAt: 60 degC }");
  // 2.75e-4 x 37 K: about 1 %, from memory
  expect(warm / cold - 1).toBeCloseTo(0.0102, 3);
  expect(scale("{ material: platinum silicone, curedAt: 60 degC, shrinkage: 0.1 % }")).toBeCloseTo(
    1 / 0.999,
    9,
  );
});

test("a material without known shrinkage asks for one", () => {
  const steps = "{ material: aluminum }";
  expect(() => shrink(job(steps))).toThrow(InputError);
});

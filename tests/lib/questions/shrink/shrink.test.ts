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
  // each is written to 0.1 %, so off by up to 0.05: by the root of the sum of squares 0.1 % of what is left
  for (const side of [
    answer.scale.value - answer.scale.low,
    answer.scale.high - answer.scale.value,
  ])
    expect(side / answer.scale.value).toBeCloseTo(0.0005 * Math.sqrt(4), 4);
  expect(answer.masterLength.high - answer.masterLength.low).toBeCloseTo(0.1037 * 0.002, 5);
  // the table tells it as it was written
  for (const end of ["value", "low", "high"] as const)
    expect(answer.steps[0]!.shrinkage[end]).toBeCloseTo(0.007, 12);
  expect(answer.masterLength.value).toBeCloseTo(0.1 / 0.964348, 6);
  expect(answer.steps.map((step) => step.size.value)).toEqual(
    [...answer.steps.map((step) => step.size.value)].sort((a, b) => b - a),
  );
  expect(answer.decidedBy).toBeNull();
});

test("a shrinkage of one's own is open by its rounding: whole and tenths of a percent alike, hundredths less", () => {
  const width = (given: string) => {
    const { scale } = shrink(job(`{ material: soft plastisol, shrinkage: ${given} }`)).answer;
    return (scale.high - scale.low) / scale.value;
  };
  expect(width("2 %")).toBeCloseTo(0.001, 4);
  expect(width("2.3 %")).toBeCloseTo(0.001, 4);
  expect(width("2.35 %")).toBeCloseTo(0.0001, 5);
  expect(width("-0.2 %")).toBeCloseTo(0.001, 4);
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

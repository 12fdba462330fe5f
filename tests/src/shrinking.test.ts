/** In which direction a master is off its bait, in words: the castings between them shrink, or grow. */
import { expect, test } from "vitest";
import { readJob } from "../../lib/job/job.ts";
import { shrink } from "../../lib/questions/shrink/shrink.ts";
import { sculptedText } from "../../src/messages/shrinking.ts";

const scaleOf = (...percents: number[]) => {
  const steps = percents.map((p) => `{ material: polyurethane, shrinkage: ${p} % }`);
  const { job } = readJob(
    `{ bait: { thickness: 16 mm }, shrink: { steps: [${steps.join(", ")}] } }`,
  );
  return shrink(job).answer.scale;
};

test("castings that grow ask for a smaller master, those that shrink for a larger one", () => {
  for (const percents of [[-1], [-2, 0.5], [-0.4, -0.4], [0.3], [2, -0.5], [0.4, 0.6]]) {
    const text = sculptedText(scaleOf(...percents));
    // a length times (1 - share) at each casting: the master is the bait over their product
    const size = 1 / percents.reduce((left, p) => left * (1 - p / 100), 1);
    expect(text, String(percents)).toMatch(
      size < 1 ? /^between .* smaller$/ : /^between .* larger$/,
    );
    expect(text).not.toContain("-");
    const [low, high, most] = [...text.matchAll(/(\d+\.\d) %/g)].map((m) => Number(m[1]));
    expect(low).toBeLessThanOrEqual(high!);
    expect(Math.abs(most! - 100 * Math.abs(size - 1))).toBeLessThan(0.051);
  }
});

test("where it may be either both are said", () => {
  expect(sculptedText({ value: 1, low: 0.9985, high: 1.0008 })).toBe(
    "between 0.2 % smaller and 0.1 % larger, most likely of the same size",
  );
  expect(sculptedText({ value: 0.998, low: 0.996, high: 1.001 })).toBe(
    "between 0.4 % smaller and 0.1 % larger, most likely 0.2 % smaller",
  );
});

test("how warm a casting was cured is told where it counts for nothing", () => {
  const asked = (step: string) =>
    shrink(readJob(`{ bait: { thickness: 16 mm }, shrink: { steps: [${step}] } }`).job);
  const warm = ", curedAt: 70 degC";
  for (const [step, counts] of [
    ["{ material: silicone", true],
    ["{ material: silicone, shrinkage: 0.4 %", false],
    ["{ material: filled epoxy", false],
  ] as const) {
    const [plain, cured] = ["", warm].map((more) => asked(`${step}${more} }`));
    expect(plain!.ignored).not.toContain("cure_warmth");
    expect(cured!.ignored.includes("cure_warmth")).toBe(!counts);
    if (counts) expect(cured!.answer.scale.value).toBeGreaterThan(plain!.answer.scale.value);
    else expect(cured!.answer).toEqual(plain!.answer);
  }
});

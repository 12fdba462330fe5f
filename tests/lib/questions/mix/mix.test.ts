import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readJob } from "../../../../lib/job/job.ts";
import {
  ratioByMass,
  ratioByVolume,
  ratioError,
  smallestBatch,
} from "../../../../lib/questions/mix/batch.ts";
import { mix } from "../../../../lib/questions/mix/mix.ts";
import { InputError } from "../../../../lib/units/problem.ts";

const job = (pours: string, more = "") =>
  readJob(`bait: { thickness: 16 mm }\nmix: { scale: 1 g, pours: [${pours}] }\n${more}`).job;

test("smallest batch for 5 and 3 % on scales of 1, 0.5 and 0.1 g: our own earlier calculation (regression)", () => {
  const rows: [number, number[]][] = [
    [10, [242, 403, 121, 202, 24, 40]],
    [18, [155, 258, 77, 129, 15, 26]],
    [25, [125, 208, 62, 104, 12, 21]],
    [44, [94, 157, 47, 79, 9, 16]],
    [90, [80, 134, 40, 67, 8, 13]],
  ];
  for (const [b, grams] of rows) {
    const cases = [1, 0.5, 0.1].flatMap((step) => [0.05, 0.03].map((e) => [step, e]));
    cases.forEach(([step, tolerance], i) => {
      const batch = smallestBatch({ a: 100, b }, step / 1000, tolerance) * 1000;
      // whole grams, rounded or cut
      expect(Math.abs(batch - grams[i])).toBeLessThan(1);
    });
  }
});

test("the worst of all pairs of one count is met to first order", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 5, max: 100, noNaN: true }),
      fc.double({ min: 0.05, max: 2, noNaN: true }),
      (b, mass) => {
        const step = 0.001;
        const A = (mass * 100) / (100 + b);
        const B = (mass * b) / (100 + b);
        fc.pre(B > 5 * step);
        // exhaustive: each part one count over, right, or under
        let worst = 0;
        for (const da of [-step, 0, step])
          for (const db of [-step, 0, step])
            worst = Math.max(worst, Math.abs((B + db) / (A + da) / (B / A) - 1));
        const error = ratioError(mass, { a: 100, b }, step);
        expect(worst).toBeGreaterThanOrEqual(error * (1 - error));
        expect(worst).toBeLessThanOrEqual(error * (1 + error) + 1e-12);
      },
    ),
    { numRuns: 300, seed: 12 },
  );
});

test("weight and volume: 1:1 by volume is 100:90 by weight when B is a tenth lighter", () => {
  expect(ratioByMass({ a: 1, b: 1 }, 1100, 990).b).toBeCloseTo(90, 9);
  expect(ratioByVolume({ a: 100, b: 90 }, 1100, 990).b).toBeCloseTo(100, 9);
  const [pour] = mix(
    job(
      "{ material: polyurethane, volume: 100 ml, ratio: '1:1', by: volume, densityA: 1100 kg/m3, densityB: 990 kg/m3 }",
    ),
  ).answer.pours;
  expect(pour.byMass).toBeCloseTo(90, 9);
  expect(pour.massB / pour.massA).toBeCloseTo(0.9, 9);
  // weighed out one to one: 11 % too much B
  expect(pour.mixedUp).toBeCloseTo(1 / 0.9 - 1, 9);
});

test("a silicone block: box less master, with the excess, and the parts add up", () => {
  const answer = mix(
    job(
      "{ name: block, material: tin silicone, box: { length: 140 mm, width: 90 mm, height: 55 mm }, less: 60 ml, ratio: '100:5', waste: 10 % }",
    ),
  ).answer;
  const [pour] = answer.pours;
  expect(pour.volume * 1e6).toBeCloseTo(140 * 90 * 0.055 - 60, 6); // 693 - 60 ml
  expect(pour.massA + pour.massB).toBeCloseTo(pour.mass, 12);
  expect(pour.massA / pour.massB).toBeCloseTo(20, 9);
  expect(pour.mass - pour.waste).toBeCloseTo(pour.mass / 1.1, 9);
  expect(pour.scaleIsEnough).toBe(true);
  expect(answer.mass).toBeCloseTo(pour.mass, 12);
});

test("a small batch on a coarse scale: said so, with the batch and the scale that would do", () => {
  const { answer } = mix(
    job("{ name: test, material: polyurethane, volume: 20 ml, ratio: '100:18', waste: 0 % }"),
  );
  const [pour] = answer.pours;
  expect(pour.scaleIsEnough).toBe(false);
  expect(pour.smallestBatch).toBeGreaterThan(pour.mass);
  expect(answer.decidedBy).toEqual({ code: "scale_step", name: "test" });
  // with that scale it is just enough
  expect(ratioError(pour.mass, { a: 100, b: 18 }, pour.coarsestScale)).toBeCloseTo(0.03, 9);
  // 1 g (1.18 + 118/18) / 0.03: 258 g of polyurethane in one cup may smoke, so that a larger batch is no way out
  expect(pour.smallestBatch).toBeCloseTo((1e-3 * (1.18 + 118 / 18)) / 0.03, 9);
  expect(pour.smallestBatchMaySmoke).toBe(true);
  expect(answer.levers.map((lever) => lever.code)).toEqual(["finer_scale"]);
});

describe("a part lighter than a step of the scale", () => {
  const pour =
    "{ name: dab, material: filled epoxy, volume: 30 ml, ratio: '100:4', densityA: 1.8 g/cm3, densityB: 1 g/cm3, waste: 0 % }";
  const on = (scale: string, more = "") =>
    mix(
      readJob(`bait: { thickness: 16 mm }\nmix: { scale: ${scale}, pours: [${pour}${more}] }`).job,
    ).answer;
  // 30 ml of 100 parts of 1.8 and 4 parts of 1 g/cm3: 30 * 104 / (100 / 1.8 + 4) g, of them 4/104 B
  const b = (30 * 4) / (100 / 1.8 + 4);

  test("cannot be weighed, on one a hair finer it can", () => {
    expect(on("5 g").pours[0].canBeWeighed).toBe(false);
    expect(on(`${b * 1.01} g`).pours[0].canBeWeighed).toBe(false);
    expect(on(`${b * 0.99} g`).pours[0].canBeWeighed).toBe(true);
  });

  test("a larger batch is no way out where it may smoke itself, nor where it smokes in one of two", () => {
    // 5 g (104/100 + 104/4) / 0.03: 4.5 kg in one cup
    expect(on("5 g").pours[0].smallestBatch).toBeCloseTo((5e-3 * (1.04 + 26)) / 0.03, 9);
    expect(on("5 g").pours[0].smallestBatchMaySmoke).toBe(true);
    expect(on("5 g").levers.map(({ code }) => code)).toEqual(["finer_scale"]);
    const silicone = ", { name: block, material: tin silicone, volume: 100 ml, ratio: '10:1' }";
    expect(on("5 g", silicone).levers.map(({ code }) => code)).toEqual(["finer_scale"]);
  });

  test("where it does not, it is one", () => {
    const { answer } = mix(
      readJob(
        "bait: { thickness: 16 mm }\nmix: { scale: 5 g, pours: [{ material: tin silicone, volume: 100 ml, ratio: '10:1' }] }",
      ).job,
    );
    expect(answer.pours[0].smallestBatchMaySmoke).toBe(false);
    expect(answer.levers.map(({ code }) => code)).toEqual(["larger_batch", "finer_scale"]);
  });
});

test("the most that masters may take up leaves room in the box", () => {
  const leastRoom = (less: string, height: string) => {
    try {
      mix(
        job(
          `{ material: polyurethane, box: { length: 6 in, width: 4 in, height: ${height} }, less: ${less}, ratio: '1:1' }`,
        ),
      );
    } catch (error) {
      return (error as InputError).problems[0]!.most;
    }
    return "answered";
  };
  // 6 x 4 x 2 in are 48 * 16.387064 ml: 786.58
  expect(leastRoom("787 ml", "2 in")).toBe("786 ml");
  expect(leastRoom("786 ml", "2 in")).toBe("answered");
  expect(leastRoom("48 in^3", "2 in")).toBe("786 ml");
});

test("without pours: the mold half of the job", () => {
  const { job: given } = readJob("bait: { thickness: 16 mm }\npour: { mass: 1.2 kg }");
  const [pour] = mix(given).answer.pours;
  expect(pour.mass / 1.1).toBeCloseTo(1.2, 9);
  expect(mix(given).cautions).toContain("resin_contact");
  expect(mix(given).cautions).toContain("metal_powder");
});

test("a pour without size, masters as large as the box, a volume ratio without densities", () => {
  const codes = (pours: string) => {
    try {
      mix(job(pours));
    } catch (error) {
      return (error as InputError).problems.map((p) => `${p.path} ${p.code}`);
    }
    return [];
  };
  expect(
    codes("{ material: polyurethane, ratio: '1:1', by: volume, densityA: 1100 kg/m3 }"),
  ).toEqual(["mix.pours[0].densityB densities_missing", "mix.pours[0].volume volume_or_box"]);
  expect(
    codes(
      "{ material: polyurethane, box: { length: 10 mm, width: 10 mm, height: 10 mm }, less: 2 ml, ratio: '1:1' }",
    ),
  ).toEqual(["mix.pours[0].less masters_fill_box"]);
  expect(() => smallestBatch({ a: 100, b: 0 }, 0.001, 0.05)).toThrow(InputError);
  expect(() => ratioError(Number.NaN, { a: 1, b: 1 }, 0.001)).toThrow(InputError);
});

test("a finer scale serves every pour of the job, and is one that is sold", () => {
  const pours = [
    "{ name: dab, material: polyurethane, volume: 4 ml, ratio: '100:18', waste: 0 % }",
    "{ name: cup, material: polyurethane, volume: 20 ml, ratio: '100:18', waste: 0 % }",
  ];
  // the small one last and first
  for (const order of [pours, [...pours].reverse()]) {
    const lever = mix(job(order.join(", "))).answer.levers.find(
      ({ code }) => code === "finer_scale",
    )!;
    const step = lever.change!.to;
    expect(["1", "2", "5"]).toContain(step.toExponential().split(/[.e]/)[0]);
    const finer = readJob(
      `bait: { thickness: 16 mm }\nmix: { scale: ${step * 1000} g, pours: [${order.join(", ")}] }`,
    ).job;
    expect(mix(finer).answer.pours.every(({ scaleIsEnough }) => scaleIsEnough)).toBe(true);
    expect(mix(finer).answer.levers).toEqual([]);
  }
});

test("densities of the two parts count in the fill: parts mixed keep their volumes", () => {
  const text = "material: polyurethane, volume: 100 ml, ratio: '100:50', waste: 0 %";
  const [pour] = mix(job(`{ ${text}, densityA: 2 g/cm3, densityB: 1 g/cm3 }`)).answer.pours;
  // 100 g of A are 50 ml, 50 g of B are 50 ml: 150 g fill 100 ml
  expect(pour.mass).toBeCloseTo(0.15, 12);
  expect(pour.massA).toBeCloseTo(0.1, 12);
});

describe("what is wrong with several pours", () => {
  const problemsOf = (text: string) => {
    try {
      mix(readJob(text).job);
    } catch (error) {
      if (error instanceof InputError) return error.problems.map(({ code, path }) => [path, code]);
      throw error;
    }
    return [];
  };
  test("is told at once, and a volume and a box that differ are two", () => {
    const found = problemsOf(`
bait: { thickness: 16 mm }
mix:
  plastic: { hardener: 40 %, softener: 50 % }
  pours:
    - { material: epoxy, volume: 100 ml, ratio: "2:1", by: volume }
    - { material: epoxy, box: { length: 5 in, width: 4 in, height: 1 in }, less: 2 l }
    - { material: epoxy }
    - { material: epoxy, volume: 100 ml, box: { length: 10 mm, width: 10 mm, height: 10 mm } }
    - { material: epoxy, volume: 100 ml, box: { length: 100 mm, width: 50 mm, height: 21 mm }, less: 5 ml }
`);
    expect(found).toEqual(
      expect.arrayContaining([
        ["mix.pours[0].densityA", "densities_missing"],
        ["mix.pours[1].less", "masters_fill_box"],
        ["mix.pours[2].volume", "volume_or_box"],
        ["mix.pours[3].volume", "volume_differs"],
        ["mix.plastic", "too_much_stirred_in"],
      ]),
    );
    expect(found).toHaveLength(5);
  });
});

test("one density without the other moves nothing by weight, and that is said", () => {
  const asked = (more: string) =>
    mix(job(`{ material: polyurethane, volume: 80 ml, ratio: "100:85"${more} }`));
  const [none, a, b, both] = [
    "",
    ", densityA: 1.1 g/cm3",
    ", densityB: 1.2 g/cm3",
    ", densityA: 1.1 g/cm3, densityB: 1.2 g/cm3",
  ].map(asked);
  for (const one of [a, b]) {
    expect(one.answer).toEqual(none.answer);
    expect(one.ignored).toContain("one_density");
  }
  expect(both.answer).not.toEqual(none.answer);
  for (const one of [none, both]) expect(one.ignored).not.toContain("one_density");
});

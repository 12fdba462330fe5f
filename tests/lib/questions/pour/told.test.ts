/** What is told of a pour goes with what it is: filler that is there, glass that is there, a cliff that is past or ahead. */
import { describe, expect, test } from "vitest";
import { readJob } from "../../../../lib/job/job.ts";
import { pour } from "../../../../lib/questions/pour/pour.ts";
import { runCommand } from "../../../../src/cli/command.ts";
import { testWorld } from "../../../src/cli/world.ts";

const typed = (keys: string, more = "") =>
  `{ bait: { thickness: 14 mm, length: 110 mm }, pour: { ${keys} }${more} }`;
const answerOf = (keys: string, more = "") =>
  pour(readJob(typed(keys, more)).job, { quick: true, brief: true }).answer;

async function printed(keys: string, more = ""): Promise<string> {
  const world = testWorld({ "job.yaml": typed(keys, more) });
  const code = await runCommand(["pour", "job.yaml", "--quick"], world);
  expect(code).toBe(world.complained === "" ? 0 : 2);
  return (world.printed + world.complained).replace(/\s+/g, " ");
}

describe("filler", () => {
  test.each(["filled epoxy", "epoxy, room-cured", "filled polyurethane"])(
    "%s without any has none that sinks, with little it has",
    async (material) => {
      expect(answerOf(`material: "${material}", depth: 12 mm, filler: 0 %`).filler).toBeNull();
      expect(await printed(`material: "${material}", depth: 12 mm, filler: 0 %`)).not.toMatch(
        /Clear resin on top/,
      );
      const little = answerOf(`material: "${material}", depth: 12 mm, filler: 20 %`).filler!;
      expect(little.settled!.value).toBeGreaterThan(0);
    },
  );

  test("granules alone are told, and don't sink as powder does", () => {
    const { filler } = answerOf(
      "material: 'epoxy, room-cured', depth: 12 mm, granules: 20 %, filler: 0 %",
    );
    expect(filler).toMatchObject({ granules: 0.2, massShare: 0, settled: null });
  });

  test("too much of it is told in the measure in which it was typed, and what is possible is", async () => {
    for (const [key, measure] of [
      ["filler", "by weight"],
      ["granules", "by volume"],
    ] as const) {
      const full = key === "granules" ? "filler: 72 %, " : "";
      const told = await printed(`${full}${key}: ${key === "filler" ? 82 : 60} %`);
      const [, most] = told.match(new RegExp(`Possible is (\\d+) % ${measure} or less`))!;
      expect(told).toMatch(new RegExp(`fits in: \\d+ % ${measure}\\.`));
      expect(() => answerOf(`${full}${key}: ${most} %`)).not.toThrow();
      expect(() => answerOf(`${full}${key}: ${Number(most) + 1} %`)).toThrow();
    }
  });
});

test("what is liquid withstands nothing: the state goes with the times of the gel", async () => {
  const { gelTime, gelLast } = answerOf("depth: 15 mm");
  const at = (seconds: number) => `depth: 15 mm, age: ${Math.round(seconds)} s`;
  const stages = [
    [0.1 * gelTime.value, "not"],
    [0.97 * gelTime.value, "not"],
    [1.05 * gelLast.value, "all"],
    [3 * gelLast.value, "all"],
  ] as const;
  for (const [seconds, gelled] of stages) {
    expect(answerOf(at(seconds)).now!.gelled).toBe(gelled);
    const told = await printed(at(seconds));
    if (gelled === "all") expect(told).toMatch(/Now, .* after mixing, it withstands heat up to/);
    else expect(told).toMatch(/Now, .* after mixing, it is liquid: not gelled yet/);
  }
});

describe("a cliff", () => {
  test("that is past is not told as one that bad luck comes near", async () => {
    const seen = new Set<string>();
    for (const depth of [4, 10, 20, 32, 45, 70])
      for (const minutes of [20, 90, 400]) {
        const keys = `depth: ${depth} mm, filler: 0 %, potLife: { time: ${minutes} min }`;
        const { reasons, cliff } = answerOf(keys);
        const isPast = cliff !== null && cliff.depthLeft <= 0;
        if (reasons.includes("past_cliff")) expect(isPast, keys).toBe(true);
        if (reasons.includes("near_cliff")) expect(isPast, keys).toBe(false);
        for (const one of reasons) seen.add(one);
      }
    expect([...seen]).toEqual(expect.arrayContaining(["past_cliff", "near_cliff"]));
    const told = await printed("depth: 45 mm, filler: 0 %, potLife: { time: 90 min }");
    expect(told).toContain("deeper than the depth from which it most likely runs away");
    expect(told).not.toContain("it is at the edge");
  });
});

test("a limit above what any pour may get to is told not to be taken, others are not spoken of", async () => {
  for (const [limit, is] of [
    ["60 degC", false],
    ["100 degC", false],
    ["101 degC", true],
    ["180 degC", true],
  ] as const) {
    const more = `, limits: { peak: ${limit} }`;
    const { job } = readJob(typed("depth: 18 mm", more));
    expect(pour(job, { quick: true }).ignored.includes("peak_limit")).toBe(is);
    expect(/typed: no pour may get above 100 °C/.test(await printed("depth: 18 mm", more))).toBe(
      is,
    );
  }
});

test("what narrows a pour's range can be measured while there is no mold", () => {
  const box = "box: { width: 140 mm, length: 220 mm }";
  const measured = [
    "material: silicone",
    `thinFilm: { time: 8 h }, depth: 20 mm, ${box}`,
    `thinFilm: { time: 20 h }, depth: 12 mm, ${box}`,
    "depth: 9 mm",
    "depth: 40 mm",
  ].flatMap((keys) => answerOf(keys).cause?.measure ?? []);
  for (const one of measured)
    expect(["measure_room", "measure_pot_life", "measure_conductivity"]).toContain(one);
  expect(measured).toContain("measure_room");
});

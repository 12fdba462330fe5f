import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { runCommand } from "../../../src/cli/command.ts";
import { questions } from "../../../src/cli/questions.ts";
import { jsonOf } from "../../../src/messages/json.ts";
import { testWorld } from "./world.ts";

const folder = new URL("../../../data/jobs/", import.meta.url);
const jobs = Object.fromEntries(
  readdirSync(folder).map((file) => [file, readFileSync(new URL(file, folder), "utf8")]),
);

/** Every number of an answer with its path. */
function numbersIn(x: unknown, path = ""): [string, number][] {
  if (typeof x === "number") return [[path, x]];
  if (typeof x !== "object" || x === null) return [];
  return Object.entries(x).flatMap(([key, part]) => numbersIn(part, `${path}/${key}`));
}

async function asked(words: string[]) {
  const world = testWorld(jobs);
  const code = await runCommand(words, world);
  return { code, world };
}

describe.each(questions.map(({ name }, i) => [name, i] as const))("%s", (name, i) => {
  // each question with every other job, each job with every other question; LONG=1: all with all
  const mine = Object.keys(jobs).filter((_, k) => process.env["LONG"] || (i + k) % 2 === 0);
  test.each(mine)("answers %s as JSON, in SI and degC", async (file) => {
    const { code, world } = await asked([name, file, "--json", "--quick"]);
    expect(world.complained).toBe("");
    expect(code).toBe(0);
    const found = JSON.parse(world.printed) as Record<string, unknown>;
    expect(Object.keys(found)).toEqual([
      "question",
      "job",
      "defaults",
      "answer",
      "cautions",
      "ignored",
      "effort",
    ]);
    expect(found["question"]).toBe(name);
    expect(Object.keys(found["effort"] as object)).toEqual(
      expect.arrayContaining(["cells", "steps", "milliseconds", "energyImbalance"]),
    );
    // a temperature left in kelvin would stand out: no place in a workshop is between 270 and 460 degC
    const hot = numbersIn(found["answer"]).filter(
      ([path, x]) =>
        /(wall|mean|skin|core|hottest|ambient|limit|peak|temperature)(Peak|Before|Limit)?$/i.test(
          path,
        ) && x > 270,
    );
    expect(hot).toEqual([]);
    // and a time or a length taken for one would be colder than any workshop; a margin is a difference, and what is
    // done before the first shot of an evening has a time below zero
    const cold = numbersIn(found["answer"]).filter(
      ([path, x]) => x < -60 && !/margin$|^\/(?:cups|steps)\/\d+\/(?:heated|at)$/.test(path),
    );
    expect(cold).toEqual([]);
  });

  test("answers in words, in both unit systems, with what is a default", async () => {
    const { code, world } = await asked([name, "two-tone-belly.yaml", "--quick"]);
    expect(code).toBe(0);
    expect(world.printed).toMatch(/^Dusk minnow, deep belly\n\n/);
    expect(world.printed).not.toMatch(/NaN|undefined|\[object|Infinity/);
    const us = await asked([name, "two-tone-belly.yaml", "--quick", "--units", "us"]);
    expect(us.world.printed).not.toMatch(/NaN|undefined|\[object|Infinity/);
  });
});

test("ranges are {value, low, high, unit}; a lever says the unit of its numbers", () => {
  const kinds = { wallPeak: "temperature" } as const;
  expect(
    jsonOf({ wallPeak: { value: 300, low: 290, high: 310, kind: "temperature" } }, kinds),
  ).toEqual({ wallPeak: { value: 26.85, low: 16.85, high: 36.85, unit: "degC" } });
  expect(jsonOf({ wallPeak: 300 }, kinds)).toEqual({ wallPeak: 26.85 });
  expect(jsonOf({ by: { wallPeak: 300 } }, { ...kinds, "by.wallPeak": "duration" })).toEqual({
    by: { wallPeak: 300 },
  });
  expect(
    jsonOf({ change: { path: "shot.temperature", kind: "temperature", to: 433.15 } }, {}),
  ).toEqual({ change: { path: "shot.temperature", to: 160, unit: "degC" } });
  expect(jsonOf({ time: Number.POSITIVE_INFINITY }, {})).toEqual({ time: "no limit" });
  expect(jsonOf({ time: Number.POSITIVE_INFINITY }, { time: "duration" })).toEqual({
    time: "never",
  });
  expect(() => jsonOf({ time: Number.NaN }, {})).toThrow("NaN");
});

test("the answer's range lies around its value, and --set changes it", async () => {
  const thin = await asked([
    "demold",
    "two-tone-belly.yaml",
    "--json",
    "--quick",
    "--set",
    "bait.thickness=12 mm",
    "--set",
    "layer.depth=4 mm",
  ]);
  const thick = await asked(["demold", "two-tone-belly.yaml", "--json", "--quick"]);
  const time = (text: string) =>
    (
      JSON.parse(text) as {
        answer: { time: { value: number; low: number; high: number; unit: string } };
      }
    ).answer.time;
  const [a, b] = [time(thin.world.printed), time(thick.world.printed)];
  expect(a.unit).toBe("s");
  expect(a.low).toBeLessThan(a.value);
  expect(a.high).toBeGreaterThan(a.value);
  // time goes with about the square of the thickness
  expect(b.value / a.value).toBeGreaterThan(1.4);
  expect(b.value / a.value).toBeLessThan(2.2);
});

test("--svg saves pictures", async () => {
  const { world } = await asked(["demold", "two-tone-belly.yaml", "--quick", "--svg", "out"]);
  const [[name, text]] = [...world.saved] as [[string, string]];
  expect(name).toBe("out/demold.svg");
  expect(text).toMatch(/^<svg [^>]*xmlns="http:\/\/www\.w3\.org\/2000\/svg"/);
  expect(text).not.toMatch(/NaN|undefined/);
});

describe("fit", () => {
  // temperatures of a slab of 22 mm that cools between cold walls, first term of the series; made for this test
  const readings = Array.from({ length: 12 }, (_, i) => {
    const t = 120 + 40 * i;
    return `${t};${(20 + 150 * 1.27 * Math.exp((-t * 0.074e-6 * Math.PI ** 2) / 0.022 ** 2)).toFixed(1)}`;
  });
  const log = ["time (s); temperature [degC]", ...readings].join("\n");

  async function fitted(text: string, ...more: string[]) {
    const world = testWorld({ ...jobs, "log.csv": text });
    const code = await runCommand(["fit", "thick-swimmer.yaml", "log.csv", ...more], world);
    return { code, world };
  }

  test("reads a log and answers in words and as JSON", async () => {
    const { code, world } = await fitted(log);
    expect(world.complained).toBe("");
    expect(code).toBe(0);
    expect(world.printed).toContain("12 readings");
    const json = JSON.parse((await fitted(log, "--json")).world.printed) as {
      answer: { parameters: { name: string; fitted: { low: number; high: number } }[] };
    };
    const plastic = json.answer.parameters.find(
      ({ name }) => name === "shot.material.conductivity",
    );
    expect(plastic?.name).toBe("shot.material.conductivity");
    expect(plastic!.fitted.high).toBeGreaterThan(plastic!.fitted.low);
  });

  test("every problem of a log at once, by line", async () => {
    const { code, world } = await fitted("time,temperature\n1 s,170\nsoon,20 mm\n");
    expect(code).toBe(2);
    expect(world.printed).toBe("");
    expect(world.complained).toContain("3 problems");
    expect(world.complained).toContain("line 3, time");
  });

  test("no column, no file", async () => {
    expect((await fitted("t,T\n1,2\n")).world.complained).toContain('no column "temperature"');
    const world = testWorld(jobs);
    expect(await runCommand(["fit", "thick-swimmer.yaml", "log.csv"], world)).toBe(2);
    expect(world.complained).toContain("log.csv");
  });
});

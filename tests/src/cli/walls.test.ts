import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { readJob } from "../../../lib/job/job.ts";
import { walls } from "../../../lib/questions/walls/walls.ts";
import { runCommand } from "../../../src/cli/command.ts";
import { outputLines } from "../../../src/cli/page-text.ts";
import { wallsQuestion } from "../../../src/cli/questions/walls.ts";
import { runPageText } from "../../../src/notebook/run/runner-node.ts";
import { buildPrelude } from "../../../tools/vite-plugins.ts";
import { testWorld } from "./world.ts";

test("where bad luck leaves no wall, words say so, and no wall of 0", () => {
  const { job } = readJob("bait: { thickness: 8 mm }\nrun: { shots: 1 }");
  const found = walls(job, { quick: true });
  const said = (low: number, value: number, high: number) => {
    const most = { value, low, high, kind: "length" } as const;
    const answer = { ...found.answer, most };
    return wallsQuestion.text({ ...found, answer }, job, "metric").headline[2];
  };
  expect(said(0, 0.01, 0.02)).toMatch(/most likely 10 mm, between no wall at all and 20/);
  expect(said(0, 0, 0.02)).toMatch(/most likely none, between no wall at all and 20/);
  expect(said(0, 0, 0)).toMatch(/: no wall at all\./);
  expect(said(0.005, 0.01, Number.POSITIVE_INFINITY)).toMatch(/between 5 mm and no limit/);
  for (const value of [0, 0.01]) expect(said(0, value, 0.02)).not.toMatch(/\b0(\.0)? mm/);
});

test("the wall to make is never read as thinner than the least, nor as thicker than the most", () => {
  const { job } = readJob("bait: { thickness: 8 mm }\nrun: { shots: 1 }");
  const found = walls(job, { quick: true });
  const said = (recommended: number, least: number, mostWithBadLuck: number) => {
    const limits = { value: least, low: least, high: least, kind: "length" } as const;
    const answer = { ...found.answer, recommended, least: limits, mostWithBadLuck };
    const { headline } = wallsQuestion.text({ ...found, answer }, job, "shop-us");
    return headline.map((line) => Number(/([\d.]+) in/.exec(line)?.[1]));
  };
  // 12 mm are 0.472 in, 16.9 mm 0.665 in
  const [wall, least] = said(0.012, 0.012, 0.03);
  expect(wall).toBeGreaterThanOrEqual(12 / 25.4);
  expect(wall).toBe(least);
  expect(said(0.0169, 0.012, 0.0169)[0]).toBeLessThanOrEqual(16.9 / 25.4);
});

test("limits are rounded to their safe side, and so is what moves them, in the command and on its sheet", async () => {
  const jobText =
    "bait: { thickness: 1 in, length: 4 in }\nroom: { temperature: 80 degF }\nmold: { material: filled epoxy }\nshot: { temperature: 345 degF }\nrun: { shots: 20, open: 30 s }\n" +
    "pour: { depth: 30 mm, hardener: fast, box: { length: 200 mm, width: 150 mm }, stock: 30 degC }";
  const { job } = readJob(jobText);
  const { answer } = walls(job);
  const { outputs } = await runPageText({
    text: readFileSync(new URL("../../../notebooks/walls.md", import.meta.url), "utf8"),
    jobText,
    prelude: await buildPrelude("full"),
    milliseconds: 120_000,
  });
  const page = outputs.flat().flatMap((output) => outputLines(output, "shop-us"));
  const command = testWorld({ "job.yaml": jobText });
  expect(await runCommand(["walls", "job.yaml", "--units", "us"], command)).toBe(0);
  const likely = (text: string) => Number(/most likely ([\d.]+) in/.exec(text)![1]);
  const most = likely(command.printed);
  expect(most).toBeLessThanOrEqual(answer.most.value / 0.0254);
  expect(likely(page.find((line) => line.startsWith("At most, poured"))!)).toBe(most);
  // no layers of this hardener are safe: none are advised, and the heat of the pour is what decides
  expect(answer.recommended ?? answer.inLayers).toBeNull();
  expect(page[1]).toContain("the heat of the pour");
  const { gives } = answer.opens.find(({ code }) => code === "slower_hardener")!;
  const [, told] = /slower hardener: most ([\d. /]+) in/.exec(command.printed)!;
  expect(Number(told)).toBeLessThanOrEqual(gives!.value / 0.0254);
  expect(page.join("\n")).toMatch(new RegExp(`slower hardener +${told} in`));
  expect(command.printed).not.toContain("pour in layers");
  expect(page.join("\n")).not.toContain("pour in layers");
}, 120_000);

test("what decides the wall that is to be made is what decides the least one, where it stands there", async () => {
  const jobText =
    "bait: { thickness: 20 mm, length: 150 mm }\npour: { thinFilm: { time: 8 h }, stock: 45 degC }";
  const { answer } = walls(readJob(jobText).job);
  expect(answer.leastDecidedBy).toBe("stiffness");
  expect(answer.recommended).toBeCloseTo(answer.least.value, 9);
  const { outputs } = await runPageText({
    text: readFileSync(new URL("../../../notebooks/walls.md", import.meta.url), "utf8"),
    jobText,
    prelude: await buildPrelude("full"),
    milliseconds: 120_000,
  });
  const page = outputs.flat().flatMap((output) => outputLines(output, "shop-us"));
  expect(page[1]).toContain("the clamp");
}, 120_000);

test("a person at the terminal is told how far it is", async () => {
  const told: string[] = [];
  const files = { "job.yaml": "bait: { thickness: 8 mm }\nrun: { shots: 1 }" };
  const world = { ...testWorld(files), follow: (line: string) => told.push(line) };
  expect(await runCommand(["walls", "job.yaml", "--quick"], world)).toBe(0);
  expect(told.length).toBeGreaterThan(10);
  expect(told[0]).toBe("walls: part 1 of 16");
  expect(told.at(-1)).toBe("");
});

// What plastic and mold do not bear is said the same by `plan`, `budget` and their pages.
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { readJob } from "../../../lib/job/job.ts";
import { budget } from "../../../lib/questions/budget/budget.ts";
import { demold } from "../../../lib/questions/demold/demold.ts";
import { plan } from "../../../lib/questions/plan/plan.ts";
import { shots } from "../../../lib/questions/shots/shots.ts";
import { runCommand } from "../../../src/cli/command.ts";
import { outputLines } from "../../../src/cli/page-text.ts";
import { runPageText } from "../../../src/notebook/run/runner-node.ts";
import { buildPrelude } from "../../../tools/vite-plugins.ts";
import { testWorld } from "./world.ts";

const WORM = "bait: { thickness: 3/16 in, length: 4 in }\nrun: { session: 40 min }\n";
const SPENT = "cup: { mass: 8 g, heats: [{ temperature: 200 degC, duration: 2 h }] }\n";

async function said(question: string, job: string, ...more: string[]): Promise<string> {
  const world = testWorld({ "job.yaml": job });
  expect(await runCommand([question, "job.yaml", "--quick", ...more], world)).toBe(0);
  return world.printed;
}

async function shown(page: string, jobText: string): Promise<string[]> {
  const { outputs } = await runPageText({
    text: readFileSync(new URL(`../../../notebooks/${page}.md`, import.meta.url), "utf8"),
    jobText,
    prelude: await buildPrelude("full"),
    quick: true,
    milliseconds: 300_000,
  });
  return outputs.flat().flatMap((output) => outputLines(output, "shop-us"));
}

test.each([
  ["a cup for each shot", SPENT],
  ["one cup for all", SPENT.replace("8 g", "1 kg")],
])(
  "used-up plastic is told, whatever it is shared out into: %s",
  async (_, cup) => {
    const { job } = readJob(WORM + cup);
    const [evening, spent] = [plan(job, { quick: true }), budget(job)];
    // 2 h at 200 degC are 2 h of 11 min: 5.4 times as fast as the hour at 180 degC
    expect(spent.answer.left).toMatchObject({ value: 0, low: 0, high: 0 });
    expect(evening.answer.left).toEqual(spent.answer.left);
    for (const { used, lasts } of evening.answer.cups) {
      expect([used.value, used.low, used.high]).toEqual(Array(3).fill(Number.POSITIVE_INFINITY));
      expect(lasts).toBe(false);
    }
    for (const { cautions } of [evening, spent]) expect(cautions).toContain("plastisol_fumes");
    const sentence = "By its heats so far the plastic is used up: throw it out, take fresh.";
    for (const question of ["plan", "budget"])
      expect(await said(question, WORM + cup)).toContain(sentence);
    for (const page of ["evening", "budget"])
      expect((await shown(page, WORM + cup)).join(" ")).toContain(sentence);
    expect(JSON.parse(await said("plan", WORM + cup, "--json")).answer.cups[0].used.value).toBe(
      "no limit",
    );
    // nothing is offered that gives used-up plastic its life back
    const codes = spent.answer.levers.map(({ code }) => code);
    expect(codes).toContain("discard_cup");
    for (const code of ["cooler_shot", "fresh_stock", "smaller_cup"])
      expect(codes).not.toContain(code);
  },
  300_000,
);

test("a cup that holds less than a shot is told, and one that holds one is not", async () => {
  const BAIT = "bait: { thickness: 16 mm }\nrun: { session: 40 min }\n";
  const grams = plan(readJob(BAIT).job, { quick: true }).answer.plastic;
  const shot = (grams.mass / grams.shots) * 1000;
  for (const [mass, less] of [
    [0.9 * shot, true],
    [1.1 * shot, false],
  ] as const) {
    const job = `${BAIT}cup: { mass: ${mass} g }\n`;
    expect((await said("plan", job)).includes("holds less than a shot")).toBe(less);
    expect((await shown("evening", job)).join(" ").includes("holds less than a shot")).toBe(less);
  }
}, 300_000);

const HOT = `${WORM}mold: { material: polyurethane, wall: 1/4 in, temperature: 125 degF }\nshot: { temperature: 400 degF }\n`;

test("what is too hot stands at the top of the evening, with the limits that budget and demold give", async () => {
  const { job } = readJob(HOT);
  const evening = await said("plan", HOT);
  const [top] = evening.split("\nCups\n");
  const limit = "no hotter than 374 °F (190 °C)";
  expect(top).toContain(limit);
  expect(await said("budget", HOT)).toContain(limit);
  const bears = /it bears 140 °F \(60 °C\)/;
  expect(top).toMatch(bears);
  expect(await said("demold", HOT)).toMatch(bears);
  const { firstWallPeak } = plan(job, { quick: true }).answer;
  const once = demold(job, { quick: true }).answer.wallPeak.value;
  expect(firstWallPeak).toBe(shots(job, { quick: true }).answer.shots[0]!.wallPeak);
  // a mold that is opened and one that is refilled are stepped apart
  expect(Math.abs(firstWallPeak - once)).toBeLessThan(1);
  expect(top).toMatch(/held hot for longer than the plastic surely bears/);
  // of a life that is over no digits count
  expect(evening).toContain("over 100 %");
  expect(evening).not.toMatch(/\d{3,} %(?<!over 100 %)/);
  const page = (await shown("evening", HOT)).join("\n");
  expect(page).toMatch(/No hotter than: 374/);
  expect(page).toMatch(/The mold bears up to: 140/);
  expect(page).toContain("held hot for longer");
  expect((await shown("budget", HOT)).join("\n")).toMatch(/No hotter than: 374/);
}, 300_000);

test("an evening that asks for nothing too hot says nothing of it", async () => {
  const [top] = (await said("plan", WORM)).split("\nCups\n");
  expect(top).not.toMatch(/too hot|used up|held hot/);
}, 300_000);

test("how long plastic may at least be held reads on the page as on the command, rounded down", async () => {
  const { answer } = budget(readJob(HOT).job);
  const row = (line: string) => line.trim().split(/ {2,}/);
  const table = (lines: readonly string[]) =>
    lines.map(row).filter(([first = "", , third]) => /^\d+ °F$/.test(first) && third !== undefined);
  const page = table(await shown("budget", HOT));
  const command = table((await said("budget", HOT)).split("\n"));
  expect(page).toHaveLength(answer.table.length);
  expect(page).toEqual(command);
}, 300_000);

test("the plan says that it does not go by the fixed timer, in the command and on the sheet", async () => {
  const left = (run: string) =>
    plan(readJob(`bait: { thickness: 8 mm }\nrun: { session: 30 min${run} }`).job, { quick: true })
      .ignored;
  expect(left(", timer: 2 min")).toContain("fixed_timer");
  expect(left("")).not.toContain("fixed_timer");
  const told = "The fixed timer of the job: each shot is opened when it is cool.";
  const timed = "bait: { thickness: 8 mm }\nrun: { session: 30 min, timer: 2 min }";
  expect(await said("plan", timed)).toContain(told);
  expect((await shown("evening", timed)).join("\n")).toContain(told);
}, 300_000);

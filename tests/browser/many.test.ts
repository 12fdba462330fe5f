// Many jobs in the browser: the same as by the command, whatever the number of threads, stopped in between or not.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, expect, inject, test } from "vitest";
import { runOnDisk } from "../src/cli/world.ts";
import { browserOfFile, openSheet, smallTargets } from "./open.ts";

const site = inject("site");
const browser = await browserOfFile();
const folder = mkdtempSync(join(tmpdir(), "castclock-many-"));
const at = (name: string) => join(folder, name);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const JOB = "name: Reed minnow\nbait: { thickness: 6 mm }\n";
const MEMBERS = 480;

async function openOwnJob(page: Page): Promise<void> {
  await page.setInputFiles(".row input[type=file][accept='.yaml,.yml,.json']", at("job.yaml"));
  await page.getByRole("link", { name: "many jobs at once" }).click();
  await page.getByText("many jobs like Reed minnow").waitFor();
}

async function ask(page: Page): Promise<void> {
  await page.getByRole("button", { name: "Change one more thing" }).click();
  const [mold, bait] = [page.locator(".between").nth(0), page.locator(".between").nth(1)];
  await bait.locator("select").selectOption("bait.thickness");
  await mold.locator("input").nth(0).fill("60 degF");
  await mold.locator("input").nth(1).fill("90 degF");
  await bait.locator("input").nth(0).fill("3 mm");
  await bait.locator("input").nth(1).fill("6 mm");
  await page.getByLabel("How many jobs").fill(String(MEMBERS));
  await page.getByText("Quick looks: rougher, and faster").click();
  await page.getByRole("button", { name: "Work them out" }).click();
}

test("many jobs, stopped and gone on with, make the file that the command makes", async () => {
  writeFileSync(at("job.yaml"), JOB);
  const { page, context, errors } = await openSheet(browser, site, "#/job");
  await openOwnJob(page);
  await ask(page);
  const told = page.locator(".how-far");
  const often = { timeout: 60_000, intervals: [20] };
  await expect.poll(() => told.textContent(), often).toMatch(/^[1-9]/);
  await page.getByRole("button", { name: "Stop" }).click();
  await expect.poll(() => told.textContent()).toContain("stopped");
  await page.getByRole("button", { name: "Go on" }).click();
  await expect.poll(() => told.textContent(), often).toContain(`${MEMBERS} of ${MEMBERS} jobs.`);
  await page.locator(".figure-space svg").waitFor();
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Keep all jobs (CSV)" }).click(),
  ]);
  await download.saveAs(at("sheet.csv"));
  const vary = [
    "--vary",
    "mold.temperature=60 degF..90 degF",
    "--vary",
    "bait.thickness=3 mm..6 mm",
  ];
  const words = [...vary, "--members", String(MEMBERS), "--quick", "--out", at("command.csv")];
  await runOnDisk(["sweep", at("job.yaml"), ...words]);
  expect(readFileSync(at("sheet.csv"), "utf8")).toBe(readFileSync(at("command.csv"), "utf8"));
  expect(errors).toEqual([]);
  await context.close();
});

test("all that is wrong is said at once, and nothing begins", async () => {
  writeFileSync(at("job.yaml"), JOB);
  const { page, context } = await openSheet(browser, site, "#/job", { width: 390, height: 844 });
  await openOwnJob(page);
  await page.getByLabel("Mold at the start, from").fill("60");
  await page.getByLabel("Mold at the start, to").fill("5000 degF");
  await page.getByLabel("How many jobs").fill("many");
  await page.getByRole("button", { name: "Work them out" }).click();
  const errors = page.locator(".error-list li");
  await errors.first().waitFor();
  // the count, and the hot end; a bare 60 is in the reader's unit
  expect(await errors.count()).toBe(2);
  expect(await page.getByRole("button", { name: "Stop" }).count()).toBe(0);
  // an end that can't be is told beside one that can't be read
  await page.getByLabel("Mold at the start, from").fill("-90 degC");
  await page.getByLabel("Mold at the start, to").fill("abc");
  await page.getByLabel("How many jobs").fill("0");
  await page.getByRole("button", { name: "Work them out" }).click();
  await page.locator(".error-list li", { hasText: "abc" }).waitFor();
  expect(await errors.allInnerTexts()).toHaveLength(3);
  expect((await errors.allInnerTexts()).join()).toMatch(
    /Mold at the start: -90 degC is too little/,
  );
  expect(await smallTargets(page)).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  // a row that is taken out takes the keyboard's place with it
  const oneMore = page.getByRole("button", { name: "Change one more thing" });
  await oneMore.click();
  await page
    .getByRole("button", { name: /^Take .* out$/ })
    .last()
    .click();
  await expect.poll(() => oneMore.evaluate((it) => it === document.activeElement)).toBe(true);
  await context.close();
});

test("what is offered to change counts in the job and in the question", async () => {
  writeFileSync(at("job.yaml"), `${JOB}run: { preheat: 45 degC }\n`);
  const { page, context } = await openSheet(browser, site, "#/job");
  await openOwnJob(page);
  const key = page.locator(".between select");
  // the preheat takes the place of the mold's own temperature
  expect(await key.inputValue()).toBe("run.preheat");
  expect(await key.locator("option[value^='mold.'][value$='emperature']").count()).toBe(0);
  await page.getByLabel("The question").selectOption("pour");
  await expect.poll(() => key.inputValue()).toBe("room.temperature");
  await key.selectOption("pour.filler");
  await page.getByLabel("The question").selectOption("swim");
  // what somebody chose stays
  expect(await key.inputValue()).toBe("pour.filler");
  await context.close();
});

test("what is counted goes by whole numbers, and refusals say why", async () => {
  writeFileSync(at("job.yaml"), JOB);
  const { page, context } = await openSheet(browser, site, "#/job");
  await openOwnJob(page);
  await page.getByLabel("The question").selectOption("shrink");
  await page.locator(".between select").selectOption("mold.cavities");
  await page.locator(".between input").nth(0).fill("1");
  await page.locator(".between input").nth(1).fill("4");
  await page.getByLabel("How many jobs").fill("12");
  await page.getByRole("button", { name: "Work them out" }).click();
  const told = page.locator(".how-far");
  await expect.poll(() => told.textContent(), { timeout: 60_000 }).toBe("12 of 12 jobs.");
  await page.getByText("All these jobs are answered alike.").waitFor();
  await context.close();
});

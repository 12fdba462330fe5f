import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, inject, test } from "vitest";
import { addPage, mainAnswer, openBrowser, openSheet } from "./open.ts";

const site = inject("site");
const SLOW = new URL("pages/slow.md", import.meta.url).pathname;
let browser: Browser;
beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(async () => {
  await browser.close();
});

test("while a long run goes on the old figure says so, the run is named, and it can be stopped and taken up again", async () => {
  const { page, context } = await openSheet(browser, site, "#/index");
  await addPage(page, site, SLOW);
  await page.goto(`${site}#/page/slow`);
  await mainAnswer(page);
  await page.getByLabel("Busy for", { exact: true }).fill("900 s");
  const answer = page.locator(".answer.main");
  await expect.poll(() => answer.textContent(), { timeout: 5000 }).toContain("old: new one coming");
  const strip = page.locator(".progress-strip");
  await expect
    .poll(() => strip.textContent(), { timeout: 5000 })
    .toMatch(/Working it out: Counting/);
  // the sheet stays alive under it
  await page.getByRole("button", { name: "Dark" }).click();
  await page.getByRole("button", { name: "Stop" }).click();
  await expect.poll(() => answer.textContent()).toContain("old: stopped before the new one");
  await page.getByLabel("Busy for", { exact: true }).fill("1 s");
  await expect.poll(() => answer.textContent(), { timeout: 8000 }).toContain("1 second");
  expect(await page.locator(".old-word").count()).toBe(0);
  await context.close();
});

test("a newer dial wins over a run that is under way", async () => {
  const { page, context } = await openSheet(browser, site, "#/index");
  await addPage(page, site, SLOW);
  await page.goto(`${site}#/page/slow`);
  await mainAnswer(page);
  const dial = page.getByLabel("Busy for", { exact: true });
  await dial.fill("900 s");
  await page.waitForTimeout(300);
  await dial.fill("2 s");
  await expect
    .poll(() => page.locator(".answer.main .figure-big").textContent(), { timeout: 6000 })
    .toContain("2 seconds");
  expect(await page.locator(".old-word").count()).toBe(0);
  await context.close();
});

import { expect, inject, test } from "vitest";
import { addPage, browserOfFile, mainAnswer, openSheet } from "./open.ts";

const site = inject("site");
const SLOW = new URL("pages/slow.md", import.meta.url).pathname;
const TURNED = new URL("pages/turned.md", import.meta.url).pathname;
const browser = await browserOfFile();

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

test("while a dial is turned on and on, the figure that lags behind says so", async () => {
  const { page, context } = await openSheet(browser, site, "#/index");
  await addPage(page, site, TURNED);
  await page.goto(`${site}#/page/turned`);
  await mainAnswer(page);
  await page.waitForTimeout(4000); // the quick runs beforehand are over
  const marked = await page.evaluate(async () => {
    const dial = document.querySelector<HTMLInputElement>(".dials input");
    if (dial === null) return -1;
    let old = 0;
    for (let turn = 10; turn < 70; turn++) {
      dial.value = String(turn);
      dial.dispatchEvent(new Event("input", { bubbles: true }));
      await new Promise((resolve) => setTimeout(resolve, 8));
      if (document.querySelector(".answer.main .old-word")) old++;
    }
    return old;
  });
  // marked from 50 ms on, at every turn but the first few
  expect(marked).toBeGreaterThan(45);
  await expect.poll(() => mainAnswer(page), { timeout: 8000 }).toContain("69");
  await context.close();
});

test("a mistake in a dial marks verdicts and the small figures, too; kept over a reload it is told, with a way back", async () => {
  const { page, context } = await openSheet(browser, site, "#/page/thick-pour");
  const before = await mainAnswer(page);
  const dial = page.locator(".dials input").first();
  await dial.fill("90 mm mm");
  await page.locator(".dial .error").waitFor();
  const shown = page.locator(".reading .answer, .reading .note, .reading figure, .table-part");
  await expect.poll(() => shown.filter({ hasNotText: "old: mend the dial first" }).count()).toBe(0);
  expect(await shown.count()).toBeGreaterThan(4);
  const small = await page.locator(".at-hand .answer-line b").allTextContents();
  expect([...new Set(small)]).toEqual(["\u2026"]);
  await page.reload();
  const told = page.locator(".reading .error-list li");
  await told.waitFor();
  expect(await told.textContent()).toMatch(/90 mm mm/);
  expect(await shown.count()).toBe(0);
  await page.getByRole("button", { name: "Put back as it came" }).click();
  await expect.poll(() => mainAnswer(page), { timeout: 20_000 }).toBe(before);
  await context.close();
});

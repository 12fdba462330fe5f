import { readdirSync } from "node:fs";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, inject, test } from "vitest";
import { ALL_OUTPUTS, addPage, mainAnswer, openBrowser, openSheet, PHONE } from "./open.ts";

const site = inject("site");
const pages = readdirSync(new URL("../../notebooks", import.meta.url))
  .filter((file) => file.endsWith(".md"))
  .map((file) => `#/page/${file.replace(/\.md$/, "")}`);

let browser: Browser;
beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(async () => {
  await browser.close();
});

/** Things to press that are under 48 px, or closer than 8 px to the next one. Links in running text are no buttons. */
async function smallTargets(page: Page): Promise<string[]> {
  return await page.evaluate(() => {
    const all = [
      ...document.querySelectorAll<HTMLElement>(
        "button, select, summary, nav a, .entry, .button, label.tick, input:not([type=radio], [type=checkbox], [type=file])",
      ),
    ].filter((e) => e.checkVisibility() && !e.closest(".cm-editor, .skip"));
    const boxes = all.map((e) => ({ e, b: e.getBoundingClientRect() }));
    const name = (e: HTMLElement) =>
      `${e.tagName.toLowerCase()} ${(e.getAttribute("aria-label") ?? e.textContent ?? "").trim().slice(0, 30)}`;
    const found: string[] = [];
    for (const { e, b } of boxes)
      if (b.height < 47.5 || b.width < 47.5)
        found.push(`${name(e)}: ${b.width.toFixed(0)} x ${b.height.toFixed(0)}`);
    for (const one of boxes)
      for (const two of boxes) {
        if (one === two || one.e.contains(two.e) || two.e.contains(one.e)) continue;
        if (!one.e.matches("button, .button") || !two.e.matches("button, .button")) continue;
        const dx = Math.max(one.b.left - two.b.right, two.b.left - one.b.right);
        const dy = Math.max(one.b.top - two.b.bottom, two.b.top - one.b.bottom);
        if (Math.max(dx, dy) < 7.5)
          found.push(`${name(one.e)} is ${Math.max(dx, dy).toFixed(1)} px from ${name(two.e)}`);
      }
    return found;
  });
}

for (const hash of ["#/", ...pages, "#/index", "#/job", "#/timer", "#/card", "#/log"])
  test(`${hash} fits 390 px and is made for gloves`, async () => {
    const { page, context } = await openSheet(browser, site, hash, PHONE);
    await page.locator("h1").first().waitFor();
    await page.waitForFunction(() => !document.querySelector(".waiting"));
    expect(await smallTargets(page)).toEqual([]);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    expect(wide).toBeLessThanOrEqual(PHONE.width);
    await context.close();
  });

test("every kind of output fits 390 px", async () => {
  const { page, context } = await openSheet(browser, site, "#/index", PHONE);
  await addPage(page, site, ALL_OUTPUTS);
  await page.goto(`${site}#/page/all-outputs`);
  await mainAnswer(page);
  await page.locator(".figure-space").scrollIntoViewIfNeeded(); // drawn when it comes near
  await page.locator(".figure-space svg").waitFor();
  await page.locator(".field-plate canvas").waitFor();
  expect(await smallTargets(page)).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(
    PHONE.width,
  );
  await context.close();
});

test("a walk with the thumb: set a dial, see the answer change, read the field", async () => {
  const { page, context } = await openSheet(browser, site, "#/index", PHONE);
  await addPage(page, site, ALL_OUTPUTS);
  await page.goto(`${site}#/page/all-outputs`);
  const before = await mainAnswer(page);
  const shift = await page.evaluate(() => scrollY);
  await page.getByRole("button", { name: "Thickest part: more" }).tap();
  await expect.poll(() => mainAnswer(page)).not.toBe(before);
  expect(await page.evaluate(() => scrollY)).toBe(shift);
  await expect
    .poll(() => page.getByLabel("Thickest part", { exact: true }).inputValue())
    .not.toBe("16 mm");
  const readout = page.locator(".field-readout");
  const there = await readout.textContent();
  await page.locator(".field-plate").tap({ position: { x: 30, y: 30 } });
  await expect.poll(() => readout.textContent()).not.toBe(there);
  await page.getByRole("button", { name: "Later" }).tap();
  await page.getByText("At 60 s after the start").waitFor();
  await context.close();
});

test("a mistake is said beside the field, and nothing moves", async () => {
  const { page, context } = await openSheet(browser, site, "#/index", PHONE);
  await addPage(page, site, ALL_OUTPUTS);
  await page.goto(`${site}#/page/all-outputs`);
  await mainAnswer(page);
  const place = () =>
    page
      .getByLabel("Plastic as it goes in", { exact: true })
      .evaluate((e) => e.getBoundingClientRect().top + scrollY);
  const before = await place();
  const field = page.getByLabel("Thickest part", { exact: true });
  await field.fill("16");
  const alert = page.locator(".dial", { has: field }).getByRole("alert");
  await expect.poll(() => alert.textContent()).toMatch(/unit/);
  expect(await place()).toBe(before);
  await page.locator(".is-old").first().waitFor();
  await field.fill("0,5 in");
  await mainAnswer(page);
  expect(await alert.count()).toBe(0);
  await context.close();
});

import { expect, inject, test } from "vitest";
import {
  ALL_OUTPUTS,
  addPage,
  browserOfFile,
  mainAnswer,
  openSheet,
  PHONE,
  smallTargets,
} from "./open.ts";

const site = inject("site");

const browser = await browserOfFile();

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

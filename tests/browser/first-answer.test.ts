import { expect, inject, test } from "vitest";
import { browserOfFile, mainAnswer, openSheet, PHONE } from "./open.ts";

const site = inject("site");
const browser = await browserOfFile();

test("three inputs, one big time with its range in words, on the first screen of a phone", async () => {
  const { page, context, errors, elsewhere } = await openSheet(browser, site, "", PHONE);
  const figure = await mainAnswer(page);
  expect(figure).toMatch(/\d/);
  const answer = page.locator(".answer.main").first();
  expect(await answer.textContent()).toMatch(/between .* and .*, most likely /);
  expect(await page.locator(".dials").first().locator(".dial").count()).toBe(3);
  const box = await answer.locator(".figure-big").boundingBox();
  expect(box!.y + box!.height).toBeLessThanOrEqual(PHONE.height);
  // contrast of the big time, by the formula of W3C WCAG 2.2
  const contrast = await answer.locator(".figure-big").evaluate((e) => {
    const light = (css: string) => {
      const [r, g, b] = (css.match(/[\d.]+/g) ?? []).slice(0, 3).map((v) => {
        const s = Number(v) / 255;
        return s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
      });
      return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
    };
    const ink = light(getComputedStyle(e).color);
    const ground = light(getComputedStyle(document.documentElement).backgroundColor);
    return (Math.max(ink, ground) + 0.05) / (Math.min(ink, ground) + 0.05);
  });
  expect(contrast).toBeGreaterThanOrEqual(7);
  expect(errors).toEqual([]);
  expect(elsewhere).toEqual([]);
  await context.close();
});

test("nothing moves while the first answer comes", async () => {
  const { page, context } = await openSheet(browser, site, "", PHONE);
  await mainAnswer(page);
  await page.waitForTimeout(500);
  const shift = await page.evaluate(
    () =>
      new Promise<number>((resolve) => {
        let sum = 0;
        new PerformanceObserver((list) => {
          for (const e of list.getEntries() as (PerformanceEntry & {
            value: number;
            hadRecentInput: boolean;
          })[])
            if (!e.hadRecentInput) sum += e.value;
        }).observe({ type: "layout-shift", buffered: true });
        setTimeout(() => resolve(sum), 200);
      }),
  );
  expect(shift).toBeLessThan(0.02);
  await context.close();
});

test("an example's value is marked as one until it is set", async () => {
  const { page, context } = await openSheet(browser, site, "", PHONE);
  const before = await mainAnswer(page);
  const dial = page.locator(".dial").first();
  expect(await dial.textContent()).toContain("example, not yours");
  const more = dial.getByRole("button", { name: /: more$/ });
  await more.tap();
  await expect.poll(() => dial.textContent()).not.toContain("example, not yours");
  // a round body a sixteenth thicker than the flat one of the example takes as long
  await more.tap();
  await expect.poll(() => mainAnswer(page)).not.toBe(before);
  await context.close();
});

test("the first sheet starts at the reader's own job, and a dial that is set leaves the job alone", async () => {
  const { page, context } = await openSheet(browser, site, "#/job", PHONE);
  await page.getByRole("button", { name: "New job" }).click();
  const own = page.getByLabel("Thickest part", { exact: true });
  // the new job's, and no longer the example's
  await expect.poll(() => own.inputValue()).toBe("16 mm");
  await own.fill("5/8 in");
  await page.goto(`${site}#/`);
  await mainAnswer(page);
  const dial = page.locator(".dial").first();
  await expect.poll(() => dial.textContent()).toContain("from your job");
  const field = page.getByLabel("Thickest part", { exact: true });
  expect(await field.inputValue()).toBe("5/8 in");
  await field.fill("3/4 in");
  await expect.poll(() => dial.textContent()).not.toContain("from your job");
  await page.goto(`${site}#/job`);
  await expect.poll(() => own.inputValue()).toBe("5/8 in");
  await context.close();
});

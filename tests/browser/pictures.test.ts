// What the pictures, tables and the card look like, as far as a browser can tell.
import { expect, inject, test } from "vitest";
import { ALL_OUTPUTS, addPage, browserOfFile, DESK, mainAnswer, openSheet, PHONE } from "./open.ts";

const site = inject("site");
const browser = await browserOfFile();

test("the section is the whole block with its parts, its measures, many times and a scale that prints", async () => {
  const { page, context } = await openSheet(browser, site, "#/page/demold");
  const field = page.locator("figure.field");
  await field.locator("canvas").waitFor({ timeout: 60_000 });
  expect(await field.locator(".field-shows").textContent()).toMatch(/whole block: both halves/);
  for (const part of ["bait", "parting", "isotherm"])
    expect(await field.locator(`[data-part=${part}] path`).count(), part).toBeGreaterThan(0);
  expect(await field.locator(".measure").allTextContents()).toEqual([
    expect.stringMatching(/ in$/),
    expect.stringMatching(/ in$/),
  ]);
  const slider = field.getByRole("slider");
  expect(Number(await slider.getAttribute("max"))).toBeGreaterThanOrEqual(23);
  const moment = await field.locator(".field-moment").textContent();
  await field.getByRole("button", { name: "Later" }).click();
  expect(await field.locator(".field-moment").textContent()).not.toBe(moment);

  await page.emulateMedia({ media: "print" });
  const scale = field.getByRole("img", { name: /Scale of temperature from 70 to 3\d\d .F/ });
  // drawn, since a ground is left out by most printers
  expect(await scale.locator("rect").count()).toBeGreaterThan(20);
  expect(await scale.locator("text").count()).toBeGreaterThanOrEqual(3);
  await context.close();
});

test.each(["proof", "sprue-and-fill", "thick-pour"])(
  "no table of %s has to be pushed about on a phone",
  async (name) => {
    const { page, context } = await openSheet(browser, site, `#/page/${name}`, PHONE);
    await mainAnswer(page);
    await page.waitForFunction(() => !document.querySelector(".waiting, .is-old"), undefined, {
      timeout: 60_000,
    });
    const wide = await page.evaluate(() =>
      [...document.querySelectorAll("main *")]
        .filter((e) => e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0)
        .filter((e) => /auto|scroll/.test(getComputedStyle(e).overflowX))
        .map((e) => `${e.className} ${e.scrollWidth} in ${e.clientWidth}`),
    );
    expect(wide).toEqual([]);
    if (name === "proof") {
      // a row that does not fit is an entry with leaders, and has all that the row had
      const entry = page.locator(".entries > li").first();
      expect(await entry.locator("dt").count()).toBe(await entry.locator("dd").count());
      expect(await entry.locator("dt").count()).toBeGreaterThanOrEqual(3);
    }
    await context.close();
  },
);

test("on a wide sheet what is set, and what it gives, stay in sight while one reads", async () => {
  const { page, context } = await openSheet(browser, site, "#/");
  const answer = await mainAnswer(page);
  await page.getByRole("heading", { name: "A second color" }).waitFor();
  await page.mouse.wheel(0, 1000);
  const inSight = async (selector: string) => {
    const box = await page.locator(selector).first().boundingBox();
    return box !== null && box.y >= 0 && box.y + box.height <= DESK.height;
  };
  await expect.poll(() => page.evaluate(() => scrollY)).toBeGreaterThan(500);
  expect(await inSight(".dial input")).toBe(true);
  expect(await inSight(".at-hand")).toBe(true);
  // the same digits as the answer itself
  const again = async () => (await page.locator(".at-hand b").first().textContent()) ?? "";
  expect((await again()).replace(/\s/g, "")).toBe(answer.replace(/\s/g, ""));
  await context.close();
});

test("the card fills its page on either paper, and says that the job is an example", async () => {
  const { page, context } = await openSheet(browser, site, "#/card");
  const card = page.locator(".wall-card");
  await card.waitFor({ timeout: 60_000 });
  expect(await card.locator(".card-example").textContent()).toMatch(/example, not your job/);
  await page.emulateMedia({ media: "print" });
  // within margins of 10 mm, at 96 to the inch
  for (const height of [1047, 980]) {
    await page.setViewportSize({ width: 718, height });
    const filled = await card.evaluate((e) => e.scrollHeight / innerHeight);
    expect(filled).toBeGreaterThan(0.97);
    expect(filled).toBeLessThanOrEqual(1);
  }
  await context.close();
});

test("nothing of the plot library's or the editor's own look is left", async () => {
  const { page, context } = await openSheet(browser, site, "#/index");
  await addPage(page, site, ALL_OUTPUTS);
  await page.goto(`${site}#/page/all-outputs`);
  await mainAnswer(page);
  await page.locator(".figure-space").scrollIntoViewIfNeeded();
  await page.locator(".figure-space svg .frame").waitFor();
  expect(await page.locator("svg [aria-label*=axis], svg [aria-label*=grid]").count()).toBe(0);
  await page.getByRole("button", { name: "How it is worked out: Open time" }).click();
  await page.locator(".cm-content").click();
  await page.keyboard.press("ControlOrMeta+End");
  await page.keyboard.type("\nnothing.at.all;\nsimul");
  await page.locator(".wrong-line").waitFor();
  await page.locator(".word-row button").first().waitFor();
  expect(await page.locator("[class*=cm-tooltip], [class*=cm-lint]").count()).toBe(0);
  await context.close();
});

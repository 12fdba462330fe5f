import type { Page } from "playwright-core";
import { expect, inject, test } from "vitest";
import { browserOfFile, openSheet, PHONE } from "./open.ts";

const site = inject("site");
const browser = await browserOfFile();

/** `5:20` of the running count, `5 min 20 s` of its marks. */
const seconds = (text: string | null) => {
  const plain = (text ?? "").replace(/\s/g, "");
  const [, m = "0", s = "0"] =
    /(\d+):(\d\d)/.exec(plain) ?? /(?:(\d+)min)?(?:(\d+)s)?$/.exec(plain) ?? [];
  return 60 * Number(m) + Number(s);
};

/** A timer that was started `ago` seconds before, as the sheet itself keeps it. */
async function withTimer(page: Page, ago: number): Promise<void> {
  await page.addInitScript((ago) => {
    if (localStorage.getItem("castclock.timers") !== null) return;
    const timer = {
      name: "Mold of the pike",
      kind: "open",
      jobName: "Pike",
      shot: 2,
      startedAt: Date.now() - 1000 * ago,
      marks: [
        { word: "Sprue closed: let go", seconds: 40 },
        { word: "May open", seconds: 320 },
        { word: "Surely open", seconds: 390 },
      ],
      foretold: { low: 290, value: 320, high: 390 },
      from: "shot 2 as worked out",
    };
    localStorage.setItem("castclock.timers", JSON.stringify([timer, null]));
  }, ago);
}

test("a timer started by a tap counts to an absolute end: reload and sleep change nothing", async () => {
  const { page, context } = await openSheet(browser, site, "#/timer", PHONE);
  const start = page.getByRole("button", { name: "Start: injector off" }).first();
  await expect.poll(() => start.isEnabled(), { timeout: 20_000 }).toBe(true);
  await start.tap();
  const count = page.getByRole("timer").first();
  await count.waitFor();
  const first = seconds(await count.textContent());
  const stored = await page.evaluate(() => localStorage.getItem("castclock.timers"));
  expect(stored).toContain("startedAt");
  await page.waitForTimeout(1500);
  await page.reload();
  await count.waitFor();
  const second = seconds(await count.textContent());
  expect(first - second).toBeGreaterThanOrEqual(1);
  expect(first - second).toBeLessThanOrEqual(5);
  await context.close();
});

test("asleep over a mark: it rings on waking and says how late", async () => {
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true });
  const page = await context.newPage();
  await withTimer(page, 330);
  await page.goto(`${site}#/timer`);
  await page.locator(".stage-word", { hasText: "May open" }).waitFor();
  await page.getByText("shown without sound, 10 s late").waitFor();
  await page.getByText("shown without sound, 4 min 50 s late").waitFor();
  await context.close();
});

test("two named timers run side by side, and one is written to the log by one tap", async () => {
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true });
  const page = await context.newPage();
  await withTimer(page, 350);
  await page.goto(`${site}#/timer`);
  const start = page.getByRole("button", { name: "Start: injector off" });
  await page.getByLabel("Name of this timer").fill("Mold of the shad");
  await expect.poll(() => start.isEnabled(), { timeout: 20_000 }).toBe(true);
  await start.tap();
  await expect.poll(() => page.getByRole("timer").count()).toBe(2);
  const pike = page.getByRole("region", { name: "Mold of the pike" });
  await pike.getByRole("button", { name: "Opened: stop" }).tap();
  await pike.getByRole("button", { name: "dent" }).tap();
  await expect.poll(() => page.getByRole("timer").count()).toBe(1);
  await page.getByRole("link", { name: "Log", exact: true }).tap();
  const row = page.locator("table.log tbody tr");
  await row.waitFor();
  expect(await row.textContent()).toMatch(/dent/);
  expect(await row.textContent()).toMatch(/inside it/);
  await context.close();
});

test("a reading of the mold corrects what is left", async () => {
  const { page, context } = await openSheet(browser, site, "#/timer", PHONE);
  const start = page.getByRole("button", { name: "Start: injector off" }).first();
  await expect.poll(() => start.isEnabled(), { timeout: 20_000 }).toBe(true);
  await start.tap();
  const surely = page.locator(".running .marks-list li", { hasText: "Surely open" }).locator("b");
  const before = seconds(await surely.textContent());
  await page.getByText("Correct it").tap();
  const reading = page.locator(".running").getByLabel(/Infrared reading/);
  await reading.fill("warm");
  await page.getByRole("button", { name: "Use this reading" }).tap();
  await page.locator(".running .error").first().waitFor();
  // a bare number is in the unit that is switched on
  await page.getByRole("button", { name: "Celsius, millimeters, grams" }).tap();
  await reading.fill("50");
  await page.getByRole("button", { name: "Use this reading" }).tap();
  await page.getByText("Marks for a mold at 50 degC, as read.").waitFor({ timeout: 20_000 });
  // a warm mold takes longer: 323 s at 20 degC became 551 s at 50 degC in a calculation of another kind
  expect(seconds(await surely.textContent())).toBeGreaterThan(1.2 * before);
  await context.close();
});

// Apart from the other pages of strangers: it turns the clock of its tab, and asks nothing of it but that the run ends.
import { expect, inject, test } from "vitest";
import { addPage, browserOfFile, openSheet } from "./open.ts";

const site = inject("site");
const browser = await browserOfFile();

test("a working that never ends is stopped by itself, and named", async () => {
  const { page, context } = await openSheet(browser, site, "#/index");
  await page.clock.install();
  await addPage(page, site, new URL("hostile/endless-loop.md", import.meta.url).pathname);
  await page.goto(`${site}#/page/endless-loop`);
  const stop = page.locator(".progress-strip").getByRole("button", { name: "Stop", exact: true });
  await stop.waitFor();
  const words = page.locator(".run-problem");
  await page.clock.fastForward(40_000);
  expect(await words.count()).toBe(0);
  // the rest of its 45 s
  await page.clock.fastForward(10_000);
  await words.waitFor();
  expect(await words.textContent()).toContain("The attempt");
  expect(await words.textContent()).toMatch(/stopped|not finished/);
  await context.close();
});

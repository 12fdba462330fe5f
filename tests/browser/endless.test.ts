// Apart from the other pages of strangers: it waits for most of a minute, and asks nothing of the clock but that it ends.
import { expect, inject, test } from "vitest";
import { addPage, browserOfFile, openSheet } from "./open.ts";

const site = inject("site");
const browser = await browserOfFile();

test("a working that never ends is stopped by itself, and named", async () => {
  const { page, context } = await openSheet(browser, site, "#/index");
  await addPage(page, site, new URL("hostile/endless-loop.md", import.meta.url).pathname);
  await page.goto(`${site}#/page/endless-loop`);
  const words = page.locator(".run-problem");
  await words.waitFor({ timeout: 80_000 });
  expect(await words.textContent()).toContain("The attempt");
  expect(await words.textContent()).toMatch(/stopped|not finished/);
  await context.close();
}, 100_000);

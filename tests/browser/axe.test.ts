import { readdirSync } from "node:fs";
import AxeBuilder from "@axe-core/playwright";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, inject, test } from "vitest";
import { ALL_OUTPUTS, addPage, openBrowser, openSheet, PHONE } from "./open.ts";

const site = inject("site");
const shipped = readdirSync(new URL("../../notebooks", import.meta.url))
  .filter((file) => file.endsWith(".md"))
  .map((file) => file.replace(/\.md$/, ""));

let browser: Browser;
beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(async () => {
  await browser.close();
});

async function settled(page: Page): Promise<void> {
  await page.locator("h1").first().waitFor();
  await page.waitForFunction(() => !document.querySelector(".waiting, .is-old"));
  // figures and fields come in chunks of their own
  await page.waitForLoadState("networkidle");
}

async function faults(page: Page): Promise<string[]> {
  const { violations } = await new AxeBuilder({ page: page as never }).analyze();
  return violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.target.join(" ")}`));
}

const sheets = ["#/index", "#/job", "#/timer", "#/card", "#/log", "#/nowhere"];
const pages = shipped.map((name) => (name === "first" ? "#/" : `#/page/${name}`));

for (const hash of [...pages, ...sheets])
  test(`nothing bars anyone from ${hash}, on a phone and in the dark`, async () => {
    const { page, context, errors } = await openSheet(browser, site, hash, PHONE);
    if (hash === "#/nowhere") await page.getByText("There is nothing at this address").waitFor();
    else await settled(page);
    expect(await faults(page)).toEqual([]);
    await page.getByRole("button", { name: "Dark" }).click();
    expect(await faults(page)).toEqual([]);
    expect(errors).toEqual([]);
    await context.close();
  });

test("nothing bars anyone from any kind of output, folds open", async () => {
  const { page, context } = await openSheet(browser, site, "#/index");
  await addPage(page, site, ALL_OUTPUTS);
  await page.goto(`${site}#/page/all-outputs`);
  await settled(page);
  await page.locator(".field-plate canvas").waitFor();
  await page.locator(".figure-space").scrollIntoViewIfNeeded();
  await page.locator(".figure-space svg").waitFor();
  for (const fold of await page.locator("main details > summary").all()) await fold.click();
  await page.locator(".cm-content").first().waitFor();
  await page.locator(".katex").first().waitFor();
  expect(await faults(page)).toEqual([]);
  await context.close();
});

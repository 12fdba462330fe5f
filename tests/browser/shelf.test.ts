import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { expect, inject, test } from "vitest";
import { ALL_OUTPUTS, addPage, browserOfFile, mainAnswer, openSheet } from "./open.ts";

const site = inject("site");
const browser = await browserOfFile();

test("a sheet is copied, renamed, removed and brought back, and saved letter for letter", async () => {
  const { page, context } = await openSheet(browser, site, "#/index");
  await addPage(page, site, ALL_OUTPUTS);
  await page.goto(`${site}#/page/all-outputs`);
  await mainAnswer(page);
  await page.getByText("This sheet: copy, save").click();
  const [file] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save to a file (.md)" }).click(),
  ]);
  expect(readFileSync(await file.path(), "utf8")).toBe(readFileSync(ALL_OUTPUTS, "utf8"));

  await page.getByRole("button", { name: "Copy it" }).click();
  await page.waitForURL(/all-outputs%20copy/);
  await mainAnswer(page);
  await page.getByText("This sheet: copy, save").click();
  await page.getByLabel("Name on the shelf").fill("evening of the pike");
  await page.getByRole("button", { name: "Rename" }).click();
  await page.waitForURL(/evening%20of%20the%20pike/);
  await mainAnswer(page);
  await page.getByText("This sheet: copy, save").click();
  await page.getByRole("button", { name: "Remove" }).click();
  await page.waitForURL(/#\/index/);
  const entries = page.locator(".index .entry", { hasText: "evening of the pike" });
  await expect.poll(() => entries.count()).toBe(0);
  await page.getByRole("button", { name: "Undo" }).click();
  await expect.poll(() => entries.count()).toBe(1);
  await context.close();
});

test("two tabs: the later one never silently overwrites the other", async () => {
  const { page: one, context } = await openSheet(browser, site, "#/index");
  await addPage(one, site, ALL_OUTPUTS);
  const two = await context.newPage();
  for (const tab of [one, two]) {
    await tab.goto(`${site}#/page/all-outputs`);
    await mainAnswer(tab);
  }
  // a change in one tab shows in the other, when nothing waits there
  await one.getByLabel("Thickest part", { exact: true }).fill("11 mm");
  await expect
    .poll(() => two.getByLabel("Thickest part", { exact: true }).inputValue())
    .toBe("11 mm");
  // both at one moment, before either hears of the other: both texts are kept, and it is said
  const moment = Date.now() + 500;
  await Promise.all(
    [one, two].map((tab, i) =>
      tab.getByLabel("Thickest part", { exact: true }).evaluate(
        (input, { text, moment }) =>
          new Promise<void>((done) => {
            setTimeout(() => {
              (input as HTMLInputElement).value = text;
              input.dispatchEvent(new Event("input", { bubbles: true }));
              done();
            }, moment - Date.now());
          }),
        { text: `${2 + i}1 mm`, moment },
      ),
    ),
  );
  await one.waitForTimeout(1200);
  await one.goto(`${site}#/index`);
  const names = await one.locator(".index .entry").allTextContents();
  const texts: string[] = [];
  const hrefs = await one
    .locator(".index .entry", { hasText: "Everything a sheet can show" })
    .evaluateAll((links) => links.map((a) => a.getAttribute("href") ?? ""));
  for (const href of hrefs) {
    await one.goto(site + href);
    await mainAnswer(one);
    texts.push(await one.getByLabel("Thickest part", { exact: true }).inputValue());
  }
  expect(texts.toSorted(), names.join()).toEqual(["21 mm", "31 mm"]);
  await context.close();
});

test("as it came, in one tab: the other says so, and what it types next is not overwritten by taking that back", async () => {
  const { page: one, context } = await openSheet(browser, site, "#/page/budget");
  const two = await context.newPage();
  await two.goto(`${site}#/page/budget`);
  const dial = (tab: Page) => tab.locator(".dial input").first();
  await mainAnswer(two);
  const first = await dial(two).inputValue();
  await dial(two).fill("330 °F");
  await expect.poll(() => dial(one).inputValue()).toBe("330 °F");
  await one.getByText("This sheet: copy, save, change its text").click();
  await one.getByRole("button", { name: "As it came" }).click();
  await expect.poll(() => dial(two).inputValue()).toBe(first);
  await two.getByText("Another tab changed this sheet").waitFor();
  await dial(two).fill("320 °F");
  await expect.poll(() => dial(one).inputValue()).toBe("320 °F");
  await one.getByRole("button", { name: "Undo", exact: true }).click();
  await one.waitForTimeout(500);
  expect([await dial(one).inputValue(), await dial(two).inputValue()]).toEqual([
    "320 °F",
    "320 °F",
  ]);
  await one.goto(`${site}#/index`);
  await one.locator('a[href*="earlier"]').waitFor();
  await context.close();
});

test("the whole shelf goes into a file and comes back in another browser", async () => {
  const { page, context } = await openSheet(browser, site, "#/index");
  await addPage(page, site, ALL_OUTPUTS);
  const [file] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Keep the whole shelf in a file" }).click(),
  ]);
  const saved = await file.path();
  const archive = { name: "shelf.zip", mimeType: "application/zip", buffer: readFileSync(saved) };
  const other = await openSheet(browser, site, "#/index");
  await other.page.setInputFiles("input[type=file]", archive);
  await other.page.getByText(/1 added/).waitFor();
  await other.page.getByText("Everything a sheet can show").waitFor();
  await context.close();
  await other.context.close();
});

test("sheets and jobs stand there again after the browser threw its databases away, and it is said", async () => {
  const { page, context } = await openSheet(browser, site, "#/job");
  await page.getByRole("button", { name: "New job" }).click();
  const field = page.getByLabel("Thickest part", { exact: true });
  await expect.poll(() => field.inputValue()).toBe("16 mm");
  await field.fill("5/8 in");
  await addPage(page, site, ALL_OUTPUTS);
  await page.goto(`${site}#/page/all-outputs`);
  await mainAnswer(page);
  await page.getByLabel("Thickest part", { exact: true }).fill("11 mm");
  await page.waitForTimeout(600);
  // from a page of the site on which no sheet is open: a database in use is not thrown away
  await page.goto(`${site}icon.svg`);
  await page.evaluate(async () => {
    for (const { name = "" } of await indexedDB.databases())
      await new Promise((done) => {
        indexedDB.deleteDatabase(name).onsuccess = done;
      });
  });
  await page.goto(`${site}#/page/all-outputs`);
  await mainAnswer(page);
  expect(await page.getByLabel("Thickest part", { exact: true }).inputValue()).toBe("11 mm");
  await page.getByText("2 sheets and jobs came back").waitFor();
  await page.goto(`${site}#/job`);
  await expect.poll(() => field.inputValue()).toBe("5/8 in");
  await context.close();
});

test("a sheet that is too large for a spare copy is kept, and that is said", async () => {
  const { page, context } = await openSheet(browser, site, "#/index");
  await addPage(page, site, ALL_OUTPUTS);
  await page.goto(`${site}#/page/all-outputs`);
  await mainAnswer(page);
  await page.getByText("This sheet: copy, save").click();
  const text = page.getByLabel("The whole sheet as text");
  const long = `${await text.inputValue()}\n${"a word, ".repeat(50_000)}`;
  await text.fill(long);
  await page.getByText("too large for a spare copy").waitFor();
  await page.reload();
  await page.getByText("This sheet: copy, save").click();
  expect(await text.inputValue()).toBe(long);
  await context.close();
});

test("a job is changed in the form, read by the pages, saved and read again", async () => {
  const { page, context } = await openSheet(browser, site, "#/job");
  await page.getByRole("button", { name: "New job" }).click();
  const field = page.getByLabel("Thickest part", { exact: true });
  await expect.poll(() => field.inputValue()).toBe("16 mm");
  await field.fill("5/8 in");
  await page.getByLabel("Plastic at the injector", { exact: true }).fill("350 degC");
  const alert = page.locator(".dial", { hasText: "Plastic at the injector" }).getByRole("alert");
  await expect.poll(() => alert.textContent()).toMatch(/350 degF/);
  await page.getByLabel("Plastic at the injector", { exact: true }).fill("338 degF");
  await expect.poll(() => alert.count()).toBe(0);
  const [file] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save to a file" }).click(),
  ]);
  const text = readFileSync(await file.path(), "utf8");
  expect(text).toContain("thickness: 5/8 in");
  expect(text).toContain("temperature: 338 degF");
  await page.waitForTimeout(600); // at most the last second may be lost
  await page.reload();
  await expect.poll(() => field.inputValue()).toBe("5/8 in");
  await context.close();
});

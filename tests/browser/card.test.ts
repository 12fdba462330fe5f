import { expect, inject, test } from "vitest";
import { browserOfFile, openSheet } from "./open.ts";

const site = inject("site");
const browser = await browserOfFile();

const pagesOf = (pdf: Buffer) =>
  [...pdf.toString("latin1").matchAll(/\/Type\s*\/Page\b(?!s)/g)].length;

test("the card is one page, A4 or Letter, black on white from 14 pt, also from the dark sheet", async () => {
  const { page, context } = await openSheet(browser, site, "#/card");
  await page.locator(".wall-card").waitFor({ timeout: 30_000 });
  await page.getByRole("button", { name: "Dark" }).click();
  for (const format of ["A4", "Letter"]) {
    const pdf = await page.pdf({ format, printBackground: true });
    expect(pagesOf(pdf), format).toBe(1);
  }
  await page.emulateMedia({ media: "print" });
  const faults = await page.evaluate(() => {
    const card = document.querySelector<HTMLElement>(".wall-card")!;
    const small: string[] = [];
    for (const e of card.querySelectorAll<HTMLElement>("td, dd, h2, tbody th")) {
      const style = getComputedStyle(e);
      if (Number.parseFloat(style.fontSize) < (14 * 96) / 72 - 0.1) small.push(e.textContent ?? "");
      if (style.color !== "rgb(0, 0, 0)") small.push(`${style.color} ${e.textContent}`);
    }
    if (getComputedStyle(document.documentElement).backgroundColor !== "rgb(255, 255, 255)")
      small.push("ground");
    return small;
  });
  expect(faults).toEqual([]);
  const seen = await page
    .locator(".headline, .title-block, .no-print")
    .evaluateAll((all) => all.filter((e) => e.checkVisibility()).map((e) => e.className));
  expect(seen).toEqual([]);
  await context.close();
});

test("the card has what belongs on a wall", async () => {
  const { page, context } = await openSheet(browser, site, "#/card");
  const card = page.locator(".wall-card");
  await card.waitFor({ timeout: 30_000 });
  const text = (await card.textContent()) ?? "";
  for (const words of [
    "Plastic",
    "Mold, first shot",
    "Thickness",
    "Hold the injector",
    "Second color",
    "Stop when",
    "default, not measured",
  ])
    expect(text).toContain(words);
  const shots = card.getByRole("table", { name: "Open after, by shot" }).getByRole("row");
  expect(await shots.count()).toBe(11);
  const molds = card.getByRole("table", { name: /by the mold/ }).getByRole("row");
  expect(await molds.count()).toBe(6);
  const empty = card.getByRole("table", { name: "Tonight" }).getByRole("row");
  expect(await empty.count()).toBeGreaterThanOrEqual(6);
  await context.close();
});

import type { Page } from "playwright-core";
import { expect, inject, test } from "vitest";
import { ALL_OUTPUTS, addPage, browserOfFile, mainAnswer, openSheet } from "./open.ts";

const site = inject("site");
const browser = await browserOfFile();

const focused = (page: Page) =>
  page.evaluate(() => {
    const e = document.activeElement;
    if (!(e instanceof HTMLElement)) return "";
    const label = e instanceof HTMLInputElement ? e.labels?.[0]?.textContent : undefined;
    return (e.getAttribute("aria-label") ?? label ?? e.textContent ?? "").trim();
  });

async function tabTo(page: Page, words: RegExp, most = 80): Promise<void> {
  for (let i = 0; i < most; i++) {
    await page.keyboard.press("Tab");
    if (words.test(await focused(page))) return;
  }
  throw new Error(`no way by Tab to ${words}; last: ${await focused(page)}`);
}

test("a whole walk by keyboard alone", async () => {
  const { page, context, errors } = await openSheet(browser, site, "#/index");
  await addPage(page, site, ALL_OUTPUTS);
  // from the index to the page
  await page.locator("body").press("Home");
  await tabTo(page, /Everything a sheet can show/);
  await page.keyboard.press("Enter");
  const before = await mainAnswer(page);

  // a dial by its arrow keys, and as typed
  await tabTo(page, /^Thickest part/);
  await page.keyboard.press("ArrowUp");
  await expect.poll(() => mainAnswer(page)).not.toBe(before);
  await page.keyboard.press("ControlOrMeta+A");
  await page.keyboard.type("3/4 in");
  await expect
    .poll(() => page.locator(".dial-note").first().textContent())
    .toMatch(/0\.08 in to 2\.36 in/);

  // the formula, one key away
  await tabTo(page, /^Formula and source/);
  await page.keyboard.press("Enter");
  await page.locator(".katex").first().waitFor();

  // a value of the field by the arrow keys
  await tabTo(page, /Arrow keys move the cross/);
  const readout = page.locator(".field-readout");
  const there = await readout.textContent();
  await page.keyboard.press("Shift+ArrowLeft");
  await page.keyboard.press("Shift+ArrowUp");
  await expect.poll(() => readout.textContent()).not.toBe(there);
  expect(errors).toEqual([]);
  await context.close();
});

test("a working is changed, a mistake in it is said at its line, and the editor is left by Escape and Tab", async () => {
  const { page, context } = await openSheet(browser, site, "#/index");
  await addPage(page, site, ALL_OUTPUTS);
  await page.goto(`${site}#/page/all-outputs`);
  const before = await mainAnswer(page);
  await tabTo(page, /How it is worked out: Open time/);
  await page.keyboard.press("Enter");
  await page.locator(".cm-content").first().waitFor();
  await tabTo(page, /^Working: Open time/);
  await page.keyboard.press("ControlOrMeta+Home");
  await page.keyboard.type("show.note({ text: undefinedThing.x, tone: 'info' });\n");
  await page.locator(".run-problem").first().waitFor();
  expect(await page.locator(".run-problem").first().textContent()).toMatch(/undefinedThing/);
  // said where it stands: the line is hatched, the words are written under it
  await page.locator(".cm-line.wrong-line").waitFor();
  expect(await page.locator(".wrong-words").textContent()).toMatch(/undefinedThing/);
  await page.keyboard.press("ControlOrMeta+Home");
  await page.keyboard.press("Shift+ArrowDown");
  await page.keyboard.press("Delete");
  await expect.poll(() => mainAnswer(page)).toBe(before);
  await page.keyboard.press("Escape");
  await page.keyboard.press("Tab");
  expect(await focused(page)).not.toMatch(/^Working: Open time/);
  await context.close();
});

test("the library's names are offered with their docstrings", async () => {
  const { page, context } = await openSheet(browser, site, "#/index");
  await addPage(page, site, ALL_OUTPUTS);
  await page.goto(`${site}#/page/all-outputs`);
  await mainAnswer(page);
  await tabTo(page, /How it is worked out: Open time/);
  await page.keyboard.press("Enter");
  await page.locator(".cm-content").first().waitFor();
  await tabTo(page, /^Working: Open time/);
  await page.keyboard.type("simul");
  const offered = page.locator(".word-row").first();
  await offered.getByRole("button", { name: "simulate", exact: true }).waitFor();
  expect((await offered.locator(".word-doc").textContent())?.length).toBeGreaterThan(20);
  // without a mouse: to the words, and one is taken
  await page.keyboard.press("Control+Space");
  expect(await focused(page)).toMatch(/^simulate/);
  await page.keyboard.press("Enter");
  expect(await page.locator(".cm-content").first().textContent()).toMatch(/simulate/);
  expect(await focused(page)).toMatch(/^Working: Open time/);
  await context.close();
});

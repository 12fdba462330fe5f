// What a reader has under the hand stays there while the sheet around it changes.
import { expect, inject, test } from "vitest";
import { ALL_OUTPUTS, addPage, browserOfFile, mainAnswer, openSheet } from "./open.ts";

const site = inject("site");
const browser = await browserOfFile();

test("a passage that is typed into the sheet's text does not take the text away", async () => {
  const { page, context } = await openSheet(browser, site, "#/index");
  await addPage(page, site, ALL_OUTPUTS);
  await page.goto(`${site}#/page/all-outputs`);
  await mainAnswer(page);
  await page.getByText("This sheet: copy, save").click();
  const text = page.getByLabel("The whole sheet as text");
  await text.press("Control+End");
  for (const name of ["One", "Two", "Three"]) {
    const typed = `\nWords before ${name}.\n\n\`\`\`ts ${name}\nshow.note({ text: "${name}", tone: "info" });\n\`\`\`\n`;
    await page.keyboard.insertText(typed);
    await page.waitForTimeout(50);
    expect(await text.evaluate((element) => document.activeElement === element)).toBe(true);
    expect(await text.inputValue()).toContain(typed.trim());
  }
  await expect.poll(() => page.locator(".reading p", { hasText: /^Three$/ }).count()).toBe(1);
  await context.close();
});

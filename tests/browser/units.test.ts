import { expect, inject, test } from "vitest";
import { ALL_OUTPUTS, addPage, browserOfFile, mainAnswer, openSheet } from "./open.ts";

const site = inject("site");
const browser = await browserOfFile();

test("the switch of units changes what is shown and no value", async () => {
  const { page, context } = await openSheet(browser, site, "#/index");
  await addPage(page, site, ALL_OUTPUTS);
  await page.goto(`${site}#/page/all-outputs`);
  await mainAnswer(page);
  const text = page.getByLabel("The whole sheet as text");
  await page.getByText("This sheet: copy, save").click();
  const before = await text.inputValue();
  const typed = await page.getByLabel("Plastic as it goes in", { exact: true }).inputValue();
  const face = page.locator(".answer", { hasText: "Hottest spot of the cavity face" });
  await page.getByRole("button", { name: "Celsius, millimeters, grams" }).click();
  // 324 K = 50.85 degC = 123.5 degF, by definition of the scales
  await expect.poll(() => face.locator(".figure-big").textContent()).toMatch(/51\s*°C.*124 °F/);
  await page.getByRole("button", { name: "Fahrenheit, inches, ounces" }).click();
  await expect.poll(() => face.locator(".figure-big").textContent()).toMatch(/124\s*°F.*51 °C/);
  expect(await text.inputValue()).toBe(before);
  expect(await page.getByLabel("Plastic as it goes in", { exact: true }).inputValue()).toBe(typed);
  await context.close();
});

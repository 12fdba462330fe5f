import { expect, inject, test } from "vitest";
import { ALL_OUTPUTS, addPage, browserOfFile, mainAnswer, openSheet } from "./open.ts";

const site = inject("site");
const browser = await browserOfFile();

test("after the first visit everything works without a network, and nothing ever asks another host", async () => {
  const { page, context, elsewhere, errors } = await openSheet(browser, site, "#/index");
  await addPage(page, site, ALL_OUTPUTS);
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  // every file is kept by now: the worker is only ready when all of them are
  await context.setOffline(true);
  await page.goto(`${site}#/page/all-outputs`);
  await page.reload();
  await mainAnswer(page);
  await page.locator(".figure-space").scrollIntoViewIfNeeded();
  await page.locator(".figure-space svg").waitFor();
  await page.locator(".field-plate canvas").waitFor();
  await page.getByText("Formula and source").click();
  await page.locator(".katex").first().waitFor();
  await page.getByRole("button", { name: "How it is worked out: Open time" }).click();
  await page.locator(".cm-content").first().waitFor();
  for (const sheet of ["Job", "Timer", "Card", "Log", "Sheets"]) {
    await page.getByRole("link", { name: sheet, exact: true }).click();
    await page.locator("h1").first().waitFor();
  }
  const kept = await page.evaluate(async () => {
    const fonts = await Promise.all(
      [...document.fonts].map((f) => f.load().catch(() => undefined)),
    );
    return fonts.every((f) => f?.status === "loaded");
  });
  expect(kept).toBe(true);
  expect(elsewhere).toEqual([]);
  expect(errors).toEqual([]);
  await context.close();
});

test("it can be installed: a manifest with a start, a name and icons that are there", async () => {
  const { page, context } = await openSheet(browser, site, "#/index");
  const manifest = await page.evaluate(async () => {
    const link = document.querySelector<HTMLLinkElement>("link[rel=manifest]")!;
    const read = (await (await fetch(link.href)).json()) as {
      name: string;
      start_url: string;
      display: string;
      icons: { src: string; sizes: string }[];
    };
    const icons = await Promise.all(
      read.icons.map(async (i) => (await fetch(new URL(i.src, link.href))).ok),
    );
    return { ...read, icons: icons.every(Boolean), sizes: read.icons.map((i) => i.sizes) };
  });
  expect(manifest).toMatchObject({ name: "Castclock", display: "standalone", icons: true });
  expect(manifest.sizes).toContain("512x512");
  await context.close();
});

import { readdirSync, readFileSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { expect, inject, test } from "vitest";
import { openBrowser } from "./open.ts";

const site = inject("site");
const assets = new URL("../../dist/site/assets/", import.meta.url);

/** Ceiling of what is loaded before the first answer stands, as it goes over a wire. Raise it on purpose or not at all. */
const FIRST_LOAD_KB = 254;

test(`the first sheet loads less than ${FIRST_LOAD_KB} KB of script, and no editor, formulas or unit parser`, async () => {
  const browser = await openBrowser();
  const context = await browser.newContext({ locale: "en-US" });
  const page = await context.newPage();
  // plots below the answer are asked for once it stands, and are not what it waits for
  await page.addInitScript(() => {
    new MutationObserver((_, watch) => {
      if (!document.querySelector(".answer.main .figure-big")) return;
      watch.disconnect();
      document.documentElement.dataset["answeredAt"] = String(performance.now());
    }).observe(document, { childList: true, subtree: true });
  });
  await page.goto(site);
  await page.locator(".answer.main .figure-big").first().waitFor();
  const scripts = await page.evaluate(() =>
    performance
      .getEntriesByType("resource")
      .filter((e) => e.startTime <= Number(document.documentElement.dataset["answeredAt"]))
      .map((e) => new URL(e.name).pathname.split("/").at(-1) ?? "")
      .filter((name) => name.endsWith(".js")),
  );
  await context.close();
  await browser.close();
  expect(scripts.length).toBeGreaterThan(2);
  const files = [...new Set(scripts)].filter((name) => name !== "offline.js");
  const sizes = files.map(
    (name) => gzipSync(readFileSync(new URL(name, assets))).byteLength / 1000,
  );
  const whole = sizes.reduce((a, b) => a + b, 0);
  console.log(
    `first load: ${whole.toFixed(0)} KB gzip in ${files.length} files: ${files.map((f, i) => `${f} ${sizes[i]!.toFixed(0)}`).join(", ")}`,
  );
  expect(whole).toBeLessThan(FIRST_LOAD_KB);
  const text = files.map((name) => readFileSync(new URL(name, assets), "utf8")).join("\n");
  expect(text).not.toContain("cm-content");
  expect(text).not.toContain("katex-display");
  expect(text).not.toContain("mathjs");
  // and they are there to be loaded when asked for
  const all = readdirSync(assets).filter((name) => name.endsWith(".js"));
  expect(all.length).toBeGreaterThan(files.length);
});

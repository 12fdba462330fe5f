import { readdirSync } from "node:fs";
import axe, { type RunOptions } from "axe-core";
import type { Page } from "playwright-core";
import { expect, inject, test } from "vitest";
import {
  ALL_OUTPUTS,
  addPage,
  browserOfFile,
  mainAnswer,
  openSheet,
  PHONE,
  smallTargets,
} from "./open.ts";

const site = inject("site");
const shipped = readdirSync(new URL("../../notebooks", import.meta.url))
  .filter((file) => file.endsWith(".md"))
  .map((file) => file.replace(/\.md$/, ""));

const browser = await browserOfFile();

/** A whole answer on a machine that has other tests to run. */
const LONG = { timeout: 40_000 };

async function settled(page: Page): Promise<void> {
  await page.locator("h1").first().waitFor();
  await page.waitForFunction(() => !document.querySelector(".waiting, .is-old"));
  // Figures and fields come in chunks of their own. The page's own list of what it loaded tells when all are there:
  // the driver waits forever for a request whose worker was stopped.
  await page.waitForFunction(
    () => {
      const loaded = performance.getEntriesByType("resource").length;
      const before = window as unknown as { loaded?: number };
      const all = loaded === before.loaded;
      before.loaded = loaded;
      return all;
    },
    null,
    { polling: 300 },
  );
}

const faults = (page: Page) => analyzed(page, {});

/** Dark paper changes colors, and nothing else. */
const contrasts = (page: Page) =>
  analyzed(page, { runOnly: { type: "rule", values: ["color-contrast"] } });

async function analyzed(page: Page, options: RunOptions): Promise<string[]> {
  if (!(await page.evaluate("'axe' in window"))) await page.evaluate(axe.source);
  const { violations } = await page.evaluate(
    (o) => (globalThis as unknown as { axe: typeof axe }).axe.run(o),
    { ...options, resultTypes: ["violations" as const] },
  );
  return violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.target.join(" ")}`));
}

const sheets = ["#/index", "#/job", "#/many", "#/timer", "#/card", "#/log", "#/nowhere"];
const pages = shipped.map((name) => (name === "first" ? "#/" : `#/page/${name}`));

// in one tab, the way they are read: loading it anew for each takes a third of the time
const shown = await openSheet(browser, site, "#/nowhere", PHONE);

for (const [place, hash] of [...pages, ...sheets].entries())
  test(`${hash} fits 390 px, is made for gloves, and bars nobody, in the dark as well`, async () => {
    const { page, errors } = shown;
    errors.length = 0;
    await page.goto(`${site}#/nowhere`);
    const nothing = page.getByText("There is nothing at this address");
    await nothing.waitFor();
    if (hash !== "#/nowhere") {
      await page.goto(site + hash);
      await nothing.waitFor({ state: "detached" });
      const ran = () => page.locator(".progress-strip").getAttribute("data-stage");
      if (hash === "#/" || hash.startsWith("#/page/")) await expect.poll(ran, LONG).toBe("done");
      await settled(page);
    }
    expect(await smallTargets(page)).toEqual([]);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    expect(wide).toBeLessThanOrEqual(PHONE.width);
    expect(await faults(page)).toEqual([]);
    // the colors are the same few on every sheet: every other one in the dark; LONG=1: all
    if (place % 2 === 0 || process.env["LONG"]) {
      await page.getByRole("button", { name: "Dark" }).click();
      expect(await contrasts(page)).toEqual([]);
      await page.getByRole("button", { name: "Light" }).click();
    }
    expect(errors).toEqual([]);
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

/** Clean on light paper, and on dark. */
async function isClean(page: Page, state: string): Promise<void> {
  expect(await faults(page), state).toEqual([]);
  await page.getByRole("button", { name: "Dark" }).click();
  expect(await contrasts(page), `${state}, dark`).toEqual([]);
  await page.getByRole("button", { name: "Light" }).click();
}

test("nothing bars anyone from a mistake in a dial, a working that is edited and wrong, or a stopped run", async () => {
  const { page, context } = await openSheet(browser, site, "#/index", PHONE);
  await addPage(page, site, SLOW);
  await page.goto(`${site}#/page/slow`);
  await mainAnswer(page);
  const dial = page.getByLabel("Busy for", { exact: true });
  await dial.fill("7 mm");
  await page.locator(".dial .error").waitFor();
  await isClean(page, "a mistake in a dial");
  await dial.fill("900 s");
  await page.getByRole("button", { name: "Stop" }).click();
  await page.getByText("Stopped.").waitFor();
  await isClean(page, "stopped");
  await dial.fill("0 s");
  await mainAnswer(page);
  await page.locator(".details summary").first().click();
  const editor = page.locator(".cm-content");
  await editor.click();
  await isClean(page, "edited");
  await page.keyboard.press("Control+End");
  await page.keyboard.insertText("\nnothing.here();");
  await page.locator(".details .error").first().waitFor();
  await isClean(page, "a working that is wrong");
  await context.close();
});

test("nothing bars anyone from a timer that rings, a broken job, or a refused reading and file", async () => {
  const { page, context } = await openSheet(browser, site, "#/timer", PHONE);
  await page.evaluate(() => {
    const marks = [30, 300, 390].map((seconds, i) => ({ word: `Mark ${i}`, seconds }));
    const what = { name: "Mold A", kind: "open", jobName: "Pike", shot: 2, from: "as worked out" };
    const timer = { ...what, marks, startedAt: Date.now() - 310_000 };
    localStorage.setItem("castclock.timers", JSON.stringify([timer, null]));
  });
  await page.reload();
  await page.locator(".stage-word", { hasText: "Mark 1" }).waitFor();
  await isClean(page, "a timer that is due");
  await page.goto(`${site}#/page/shape`);
  await mainAnswer(page);
  await page
    .locator(".shape-file input[type=file]")
    .setInputFiles({ name: "a.stl", mimeType: "", buffer: Buffer.from("solid") });
  await page.locator(".shape-file .error").waitFor();
  await isClean(page, "a file that is refused, with a timer due");
  await page.goto(`${site}#/job`);
  await page.getByText("The job as text").click();
  await page.getByRole("textbox", { name: "The job as text" }).fill("bait: { thickness: 3 C }\n");
  await page.locator(".error").first().waitFor();
  await isClean(page, "a broken job");
  await page.goto(`${site}#/page/demold`);
  await page.getByRole("link", { name: "Mend the job" }).waitFor();
  await page.locator("h1").first().waitFor();
  await isClean(page, "a sheet whose job is broken");
  await context.close();
});

const SLOW = new URL("pages/slow.md", import.meta.url).pathname;

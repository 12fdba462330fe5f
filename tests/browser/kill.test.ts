import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type BrowserContext, chromium, type Page } from "playwright-core";
import { expect, inject, test } from "vitest";
import { chromiumArgs, chromiumPath } from "../../tools/chromium.ts";
import { ALL_OUTPUTS, addPage } from "./open.ts";

const site = inject("site");
/** The long run has fifty. */
const KILLS = Number(process.env["CASTCLOCK_KILLS"] ?? 8);
/** ms of typing that a kill may cost: a key that waits for its turn, and the write that it sends. */
const MOST_LOST = 300;

test(`the browser is killed ${KILLS} times while typing: at most the last 0.3 s are lost`, async () => {
  const profile = mkdtempSync(join(tmpdir(), "castclock-kill-"));
  const program = await chromiumPath();
  const lost: number[] = [];
  let startedAt = 0;
  let killedAt = 0;
  let prepared = false;
  for (let kill = 0; kill < KILLS; kill++) {
    const context = await chromium.launchPersistentContext(profile, {
      executablePath: program,
      args: chromiumArgs,
    });
    const page: Page = context.pages()[0] ?? (await context.newPage());
    if (!prepared) {
      await addPage(page, site, ALL_OUTPUTS);
      prepared = true;
    }
    await page.goto(`${site}#/page/all-outputs`);
    await page.getByText("This sheet: copy, save").click();
    const text = page.getByLabel("The whole sheet as text");
    const before = await text.inputValue();
    // what the killed one before had typed, with the time of each key
    const marks = [...before.matchAll(/k(\d+)@(\d+);/g)].map((m) => [Number(m[1]), Number(m[2])]);
    if (kill > 0) {
      const mine = marks.filter(([k]) => k === kill - 1).map(([, ms]) => ms!);
      lost.push(killedAt - Math.max(startedAt, ...mine));
    }
    // the killed ones' marks go, so that the text stays short
    await text.fill(before.replace(/(k\d+@\d+;)+\n?$/, ""));
    await text.focus();
    await page.keyboard.press("ControlOrMeta+End");
    startedAt = Date.now();
    const until = startedAt + 300 + ((kill * 137) % 900);
    while (Date.now() < until) await page.keyboard.insertText(`k${kill}@${Date.now()};`);
    killedAt = Date.now();
    await crash(context, page);
  }
  // a browser that crashed may still write for a moment
  rmSync(profile, { recursive: true, force: true, maxRetries: 10, retryDelay: 300 });
  const worst = Math.max(...lost);
  console.log(
    `killed ${KILLS} times: at most ${worst} ms of typing lost, mean ${(lost.reduce((a, b) => a + b) / lost.length).toFixed(0)} ms`,
  );
  expect(lost).toHaveLength(KILLS - 1);
  expect(worst).toBeLessThanOrEqual(MOST_LOST);
}, 240_000);

/** Ends the whole browser at once, as a power cut would: nothing is closed, nothing is told. */
async function crash(context: BrowserContext, page: Page): Promise<void> {
  const session = await context.newCDPSession(page);
  const gone = new Promise<void>((resolve) => context.once("close", () => resolve()));
  void session.send("Browser.crash").catch(() => undefined);
  await gone;
}

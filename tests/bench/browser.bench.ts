/**
 * What a person waits for, measured in a real browser over the built site: the first answer from a cold cache, a
 * dial's change to the new picture, and the longest time that the page did not listen.
 */
import type { Browser, Page } from "playwright-core";
import { chromium } from "playwright-core";
import { listen, siteServer } from "../../src/cli/site-server.ts";

// taken where it lies and not bundled: it finds the tree from its own place
const { build, isStale, root } = (await import(
  /* @vite-ignore */ new URL("../../tools/build.js", import.meta.url).href
)) as typeof import("../../tools/build.js");

import { chromiumArgs, chromiumPath } from "../../tools/chromium.ts";

const OPENINGS = 7;
const TURNS = 30;
const RESTS = 6;
/** A little more than a dial rests before its full answer is begun. ms */
const RESTING_MS = 260;
/** A main thread busy for longer than this is felt; the browser reports such tasks. ms */
const LONG = 50;

interface Measured {
  readonly firstAnswer: number;
  readonly longest: number;
}

const median = (all: readonly number[]) =>
  all.toSorted((a, b) => a - b)[Math.floor(all.length / 2)] ?? Number.NaN;

/** tsx names every function by this helper, which functions sent to the page would miss. */
const KEEP_NAMES = "globalThis.__name = (f) => f;";

/** Notes long tasks, and the time at which the first main answer stood on the sheet. */
const WATCH = () => {
  const seen = { long: [] as number[], answer: 0 };
  (globalThis as unknown as { seen: typeof seen }).seen = seen;
  if (self.origin === "null") return; // the frame in which workings run
  new PerformanceObserver((list) => {
    for (const task of list.getEntries()) seen.long.push(task.duration);
  }).observe({ type: "longtask", buffered: true });
  new MutationObserver((_, observer) => {
    if (!document.querySelector(".answer.main .figure-big")) return;
    observer.disconnect();
    requestAnimationFrame(() =>
      setTimeout(() => {
        seen.answer = performance.now();
      }),
    );
  }).observe(document, { childList: true, subtree: true });
};

async function opening(browser: Browser, site: string, hash: string): Promise<Measured> {
  const context = await browser.newContext(); // a new one has nothing kept
  const page = await context.newPage();
  await page.addInitScript(KEEP_NAMES);
  await page.addInitScript(WATCH);
  await page.goto(site + hash);
  const firstAnswer = (await page
    .waitForFunction(() => (globalThis as unknown as { seen: { answer: number } }).seen.answer)
    .then((h) => h.jsonValue())) as number;
  await page.waitForTimeout(400);
  const longest = await longestTask(page);
  await context.close();
  return { firstAnswer, longest };
}

async function longestTask(page: Page): Promise<number> {
  return await page.evaluate(() =>
    Math.max(0, ...(globalThis as unknown as { seen: { long: number[] } }).seen.long),
  );
}

interface Turned {
  /** From the press to the first change of the answer or of a drawing, quick and marked as unfinished. ms */
  readonly drawn: number[];
  /** From the press to the finished answer, with the time in which the dial rests. ms */
  readonly settled: number[];
}

/** Turns a dial as a hand does: through values not seen before, up and down again; then presses that are left to rest. */
async function turning(page: Page): Promise<Turned> {
  return await page.evaluate(
    async ({ turns, rests, resting }) => {
      const [less, more] = document.querySelectorAll<HTMLButtonElement>(".dial .step");
      const sheet = document.querySelector("main") ?? document.body;
      const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
      const isDrawing = (record: MutationRecord) =>
        record.type !== "attributes" &&
        (record.target instanceof Element ? record.target : record.target.parentElement)?.closest(
          ".figure-big, .figure-space",
        ) != null;
      const press = (button: HTMLButtonElement | undefined) =>
        new Promise<number>((resolve) => {
          const start = performance.now();
          const observer = new MutationObserver((records) => {
            if (!records.some(isDrawing)) return;
            observer.disconnect();
            resolve(performance.now() - start);
          });
          observer.observe(sheet, { subtree: true, childList: true, characterData: true });
          button?.click();
        });
      const drawn: number[] = [];
      for (let i = 0; i < turns; i++) {
        drawn.push(
          await Promise.race([press(i < turns / 2 ? more : less), pause(5000).then(() => 5000)]),
        );
        await pause(60);
      }
      await pause(1500);
      const settled: number[] = [];
      for (let i = 0; i < rests; i++) {
        const start = performance.now();
        (i % 2 === 0 ? less : more)?.click();
        // the quick answer comes first, then the dial rests, then the full one is worked out
        await pause(resting);
        while (document.querySelector(".is-old") !== null && performance.now() - start < 10_000)
          await pause(5);
        settled.push(performance.now() - start);
        await pause(300);
      }
      return { drawn, settled };
    },
    { turns: TURNS, rests: RESTS, resting: RESTING_MS },
  );
}

export async function browserBench(): Promise<void> {
  const server = siteServer("dist/site");
  const site = `http://localhost:${await listen(server, 0)}/`;
  const browser = await chromium.launch({
    executablePath: await chromiumPath(),
    args: chromiumArgs,
  });
  try {
    const opened: Measured[] = [];
    for (let i = 0; i < OPENINGS; i++) opened.push(await opening(browser, site, ""));
    const first = opened.map((o) => o.firstAnswer);
    console.log(
      `browser  first answer, cold: median ${median(first).toFixed(0)} ms, worst ${Math.max(...first).toFixed(0)} ms (aim 1000)`,
    );
    const longest = Math.max(...opened.map((o) => o.longest));
    console.log(
      `browser  longest block while opening: ${longest < LONG ? `under ${LONG}` : longest.toFixed(0)} ms (aim ${LONG})`,
    );
    const kinds = [
      { hash: "", aim: 16, what: "1-D page" },
      { hash: "#/page/demold", aim: 80, what: "page demold" },
    ];
    for (const { hash, aim, what } of kinds) {
      const page = await browser.newPage();
      await page.addInitScript(KEEP_NAMES);
      await page.addInitScript(WATCH);
      await page.goto(site + hash);
      await page.locator(".answer.main:not(.is-old) .figure-big").first().waitFor();
      await page.waitForTimeout(2500); // the service worker has fetched its files
      await page.evaluate(() => {
        (globalThis as unknown as { seen: { long: number[] } }).seen.long = [];
      });
      const { drawn, settled } = await turning(page);
      const block = await longestTask(page);
      console.log(
        `browser  ${what}: dial to picture median ${median(drawn).toFixed(1)} ms, worst ${Math.max(...drawn).toFixed(0)} ms (aim ${aim}); to the finished answer, the dial's rest in it, ${median(settled).toFixed(0)} ms; longest block ${block < LONG ? `under ${LONG}` : block.toFixed(0)} ms`,
      );
      await page.close();
    }
  } finally {
    await browser.close();
    server.close();
    server.closeAllConnections();
  }
}

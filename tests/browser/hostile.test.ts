// Pages from strangers, opened as a reader would: nothing gets out, nothing else breaks.
import { readdirSync, readFileSync } from "node:fs";
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, expect, inject, test } from "vitest";
import { openBrowser } from "./open.ts";

const site = inject("site");
const folder = join(import.meta.dirname, "hostile");
const names = readdirSync(folder)
  .filter((file) => file.endsWith(".md"))
  .map((file) => file.replace(/\.md$/, ""))
  .sort();

/** These run until somebody stops them. */
const ENDLESS = new Set([
  "endless-loop",
  "endless-getter",
  "endless-search",
  "memory-heap",
  "memory-text",
]);

/** These are edited, removed and brought back, too: what they show is heavy. */
const HEAVY = new Set([
  "emphasis-bomb",
  "giant-table",
  "links-bomb",
  "lists-without-end",
  "long-title",
  "long-words",
  "many-full-tables",
  "many-dial-mistakes",
  "points-of-three-figures",
  "stacked-accents",
]);

/** These set something going that outlives their run. */
const GO_ON = new Set(["await-after-answer", "promises-after-answer", "endless-microtasks"]);

/** No page may hold the sheet up for longer, on a machine on which `CALIBRATION` takes `CALIBRATED_MS`. ms */
const FREEZE_MS = 100;
const CALIBRATED_MS = 25;

/** A fixed piece of work: how slow this machine is just now. */
function calibration(): number {
  const began = performance.now();
  let sum = 0;
  for (let i = 1; i < 6e6; i++) sum += Math.sqrt(i) % 3;
  return sum < 0 ? 0 : performance.now() - began;
}

/** Longest turn of the sheet since it was opened, and how slow the machine is. ms */
async function freeze(): Promise<{ longest: number; slowness: number }> {
  const longest = await page.evaluate(() =>
    Math.max(0, ...(window as unknown as { turns: number[] }).turns),
  );
  const took = await page.evaluate(calibration);
  return { longest, slowness: Math.max(1, took / CALIBRATED_MS) };
}

/** s of processor time that the whole browser has taken. */
async function processorTime(): Promise<number> {
  const session = await browser.newBrowserCDPSession();
  const { processInfo } = await session.send("SystemInfo.getProcessInfo");
  await session.detach();
  return processInfo.reduce((sum, { cpuTime }) => sum + cpuTime, 0);
}

/** Typed into, taken off the shelf and brought back: a page can always be mended and left. */
async function editAndRemove(): Promise<void> {
  await page.getByText("This sheet: copy, save").click();
  const text = page.getByLabel("The whole sheet as text");
  await text.press("Control+Home");
  await page.keyboard.insertText("x");
  expect((await text.inputValue())[0]).toBe("x");
  await page.getByRole("button", { name: "Remove" }).click();
  await page.waitForURL(/#\/index/);
  await page.getByRole("button", { name: "Undo" }).click();
}

const BENIGN = `# A harmless page

\`\`\`dials
size: { label: Size, value: 16 mm, min: 1 mm, max: 60 mm, step: 1 mm }
\`\`\`

\`\`\`ts
show.note({ text: "works: " + Math.round(size * 1000), tone: "info" });
\`\`\`
`;

/** What reached a server that no page may speak to. */
const heard: string[] = [];
let canary: Server;
let browser: Browser;
let context: BrowserContext;
let page: Page;
let other: Page;
/** Requests that left the browser, of all pages, frames and workers. */
const asked: string[] = [];
const happened: string[] = [];

beforeAll(async () => {
  canary = createServer((request, response) => {
    heard.push(request.url ?? "");
    response.setHeader("Access-Control-Allow-Origin", "*");
    response.end("heard");
  });
  canary.on("connection", () => heard.push("connection"));
  await new Promise<void>((resolve) => canary.listen(0, "127.0.0.1", resolve));
  browser = await openBrowser();
  context = await browser.newContext({ viewport: { width: 1000, height: 800 } });
  // a request that the policy stopped is announced, too, and then fails
  context.on("requestfinished", (request) => asked.push(request.url()));
  context.on("response", (response) => asked.push(response.url()));
  context.on("requestfailed", (request) => {
    const why = request.failure()?.errorText ?? "";
    if (why !== "csp" && !why.includes("BLOCKED_BY_CSP")) asked.push(`${request.url()} (${why})`);
  });
  context.on("page", (opened) => {
    opened.on("websocket", (socket) => asked.push(socket.url()));
    opened.on("dialog", (dialog) => {
      happened.push(`dialog: ${dialog.message()}`);
      void dialog.dismiss();
    });
    opened.on("download", (download) => happened.push(`download: ${download.url()}`));
    opened.on("crash", () => happened.push("a page crashed"));
  });
  page = await context.newPage();
  await page.addInitScript(() => {
    const turns: number[] = [];
    Object.assign(window, { turns });
    if (window === top)
      new PerformanceObserver((list) => {
        for (const { duration } of list.getEntries()) turns.push(duration);
      }).observe({ type: "longtask", buffered: true });
  });
  await page.goto(`${site}#/index`);
  await page.locator("main h1").first().waitFor();
  const address = `http://127.0.0.1:${(canary.address() as AddressInfo).port}`;
  const documents = names.map((name) => ({
    name,
    text: readFileSync(join(folder, `${name}.md`), "utf8").replaceAll("CANARY", address),
  }));
  await shelve(page, [...documents, { name: "harmless", text: BENIGN }]);
  other = await context.newPage();
  await other.goto(`${site}#/page/harmless`);
  await other.getByText("works: 16").waitFor();
});

afterAll(async () => {
  await browser.close();
  canary.closeAllConnections();
  await new Promise((resolve) => canary.close(resolve));
});

/** Puts pages into the shelf's database, as an import would. */
async function shelve(at: Page, documents: { name: string; text: string }[]): Promise<void> {
  await at.evaluate(async (all) => {
    const database = await new Promise<IDBDatabase>((resolve, reject) => {
      const opening = indexedDB.open("castclock-shelf");
      opening.onsuccess = () => resolve(opening.result);
      opening.onerror = () => reject(opening.error);
    });
    const writing = database.transaction("documents", "readwrite");
    for (const { name, text } of all) {
      const document = { kind: "page", name, text, revision: 1, changed: 1 };
      writing.objectStore("documents").put(document, `page:${name}`);
    }
    await new Promise((resolve) => {
      writing.oncomplete = resolve;
    });
    database.close();
  }, documents);
}

/** Elements and attributes that a page's text or outputs must never become. */
function foreignElements(): string[] {
  const found: string[] = [];
  for (const element of document.querySelectorAll("main .spread *")) {
    const tag = element.tagName.toLowerCase();
    if (
      /^(?:script|iframe|object|embed|link|meta|base|form|img|image|use|foreignobject|animate)$/.test(
        tag,
      )
    ) {
      found.push(tag);
    }
    for (const { name, value } of element.attributes) {
      if (/^on/.test(name)) found.push(`${tag} ${name}`);
      const address = /^(?:href|src|action|formaction|xlink:href|data|poster)$/.test(name);
      if (address && !/^(?:#|blob:http)/.test(value)) found.push(`${tag} ${name}=${value}`);
      if (/url\(|javascript:/i.test(value) && /^(?:style|fill|stroke|filter|mask)$/.test(name)) {
        found.push(`${tag} ${name}=${value}`);
      }
    }
  }
  return found;
}

/** Until the page has run, or says that it can't; what runs on and on is stopped by its button. */
async function settle(name: string): Promise<void> {
  // the strip stays after a stop, and says so: what runs has the button
  const strip = page.locator(".progress-strip");
  const stop = strip.getByRole("button", { name: "Stop", exact: true });
  if (ENDLESS.has(name)) {
    await stop.waitFor({ timeout: 10_000 });
    await page.waitForTimeout(700);
    if (await stop.isVisible()) await stop.click();
  }
  const stage = () => strip.getAttribute("data-stage");
  await expect.poll(stage, { timeout: 20_000 }).toMatch(/^(?:done|failed|stopped|blocked)$/);
  await page.waitForTimeout(250);
}

/** Opens a page afresh and lets it run. */
async function open(name: string): Promise<void> {
  // from another address: within the site it would run at once, and once more when it is loaded afresh
  await page.goto("about:blank");
  await page.goto(`${site}#/page/${name}`);
  await page.locator("main h1").first().waitFor();
  await settle(name);
}

/** Times that a page is opened before its turns are called too long: what others take on this machine passes. */
const OPENINGS = 4;

/** What the page held the sheet up for, if it did so each time that it was opened. */
async function holdsUp(name: string): Promise<string | undefined> {
  let found = "";
  for (let opening = 0; opening < OPENINGS; opening++) {
    if (opening > 0) await open(name);
    const { longest, slowness } = await freeze();
    if (longest < FREEZE_MS * slowness) return;
    found += `${longest.toFixed(0)} ms on a machine ${slowness.toFixed(1)} times as slow; `;
  }
  return found;
}

test(`there are at least sixty of them: ${names.length}`, () => {
  expect(names.length).toBeGreaterThanOrEqual(60);
});

test.each(names)("%s", async (name) => {
  asked.length = 0;
  happened.length = 0;
  const address = `${site}#/page/${name}`;
  await open(name);

  expect(page.url()).toBe(address);
  expect(context.pages()).toHaveLength(2);
  expect(happened).toEqual([]);
  expect(heard).toEqual([]);
  const { host } = new URL(site);
  const elsewhere = asked.filter(
    (url) => /^(?:https?|wss?|ftp|file):/.test(url) && new URL(url).host !== host,
  );
  expect(elsewhere).toEqual([]);
  // of its own origin the site's own files alone
  const own = asked.filter((url) => /^https?:/.test(url)).map((url) => new URL(url).pathname);
  expect(own.filter((path) => !/^\/(?:$|assets\/|[\w.-]+$)/.test(path))).toEqual([]);
  expect(asked.filter((url) => url.includes("leak"))).toEqual([]);
  expect(await holdsUp(name)).toBeUndefined();
  if (GO_ON.has(name)) {
    await page.waitForTimeout(2500);
    // what it has piled up is taken down with it, which takes the browser a moment
    const inOneSecond = async () => {
      const before = await processorTime();
      await page.waitForTimeout(1000);
      return (await processorTime()) - before;
    };
    await expect.poll(inOneSecond, { timeout: 12_000 }).toBeLessThan(0.5);
  }

  const said = await page.evaluate(() =>
    [...document.querySelectorAll(".note, .answer, .timeline, .table-frame, figure")]
      .map((shown) => shown.textContent ?? "")
      .join("\n"),
  );
  const changed = await page.evaluate(() => [
    (window as unknown as { pwned?: unknown }).pwned,
    ({} as { REACHED?: unknown }).REACHED,
    localStorage.getItem("leak"),
    sessionStorage.getItem("leak"),
    document.cookie,
  ]);
  expect(said).not.toMatch(/REACHED/);
  expect(await page.evaluate(foreignElements)).toEqual([]);
  expect(changed).toEqual([undefined, undefined, null, null, ""]);

  // the page itself is alive, and so is the other tab
  expect(await page.evaluate(() => 1 + 1)).toBe(2);
  if (HEAVY.has(name)) await editAndRemove();
});

test("a saved figure holds no address", async () => {
  for (const name of ["color-column-url", "figure-link", "inherited-keys"]) {
    await page.goto(`${site}#/page/${name}`);
    await settle(name);
    for (const button of await page.getByRole("button", { name: /SVG/ }).all()) {
      const [file] = await Promise.all([page.waitForEvent("download"), button.click()]);
      const text = readFileSync(await file.path(), "utf8");
      const addresses = text.match(/url\(|href|https?:[^"'\s]+/g) ?? [];
      expect(addresses.filter((a) => !/w3\.org/.test(a) && !/^url\(/.test(a))).toEqual([]);
      expect(text).not.toMatch(/url\((?!["']?#)/);
    }
  }
  happened.length = 0;
});

test("a job of 25 000 unknown keys holds nothing up, and can be mended", async () => {
  await page.goto(`${site}#/job`);
  await page.getByRole("button", { name: "New job" }).click();
  await page.getByText("The job as text").click();
  const text = page.getByLabel("The job as text");
  const keys = Array.from({ length: 25_000 }, (_, i) => `key${i}: 1`).join("\n");
  await page.evaluate(() => {
    (window as unknown as { turns: number[] }).turns.length = 0;
  });
  await text.evaluate((field: HTMLTextAreaElement, keys) => {
    field.value = `bait: { thickness: 16 mm }\n${keys}`;
    field.dispatchEvent(new Event("input", { bubbles: true }));
  }, keys);
  await page
    .getByText(/characters is too long/)
    .first()
    .waitFor();
  const { longest, slowness } = await freeze();
  // the field itself takes its time to lay out a quarter of a million letters
  expect(longest).toBeLessThan(4 * FREEZE_MS * slowness);
  await page.goto(`${site}#/page/demold`);
  await page.getByRole("link", { name: "Mend the job" }).click();
  await text.fill("bait: { thickness: 16 mm }\n");
  await expect.poll(() => page.getByText(/characters is too long/).count()).toBe(0);
});

test("after all of them the other tab still works, and so does a page in this one", async () => {
  await other.getByLabel("Size", { exact: true }).fill("17 mm");
  await other.getByText("works: 17").waitFor();
  await page.goto(`${site}#/page/harmless`);
  await page.getByText("works: 17").waitFor();
  const shelf = await page.evaluate(async () => (await indexedDB.databases()).map((d) => d.name));
  expect(shelf).toContain("castclock-shelf");
  expect(heard).toEqual([]);
});

test("the canary hears what it should: this test could fail", async () => {
  const { port } = canary.address() as AddressInfo;
  await fetch(`http://127.0.0.1:${port}/heard`);
  expect(heard).toContain("/heard");
});

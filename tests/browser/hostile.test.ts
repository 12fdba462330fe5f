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
  "many-outputs-caught",
  "memory-heap",
  "memory-text",
]);

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
  const stop = page.locator(".progress-strip").getByRole("button", { name: "Stop", exact: true });
  if (ENDLESS.has(name)) {
    await stop.waitFor({ timeout: 10_000 });
    await page.waitForTimeout(700);
    if (await stop.isVisible()) await stop.click();
  }
  await page.waitForTimeout(250);
  await stop.waitFor({ state: "hidden", timeout: 15_000 });
}

test(`there are at least forty of them: ${names.length}`, () => {
  expect(names.length).toBeGreaterThanOrEqual(40);
});

test.each(names)("%s", async (name) => {
  asked.length = 0;
  happened.length = 0;
  const address = `${site}#/page/${name}`;
  await page.goto(address);
  await page.reload();
  await page.locator("main h1").first().waitFor();
  await settle(name);

  expect(page.url()).toBe(address);
  expect(context.pages()).toHaveLength(2);
  expect(happened).toEqual([]);
  expect(heard).toEqual([]);
  const { host } = new URL(site);
  const elsewhere = asked.filter(
    (url) => /^(?:https?|wss?|ftp|file):/.test(url) && new URL(url).host !== host,
  );
  expect(elsewhere).toEqual([]);
  expect(asked.filter((url) => url.includes("leak"))).toEqual([]);

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

test("a working that never ends is stopped by itself, and named", async () => {
  await page.goto(`${site}#/page/endless-loop`);
  const words = page.locator(".run-problem");
  await words.waitFor({ timeout: 58_000 });
  expect(await words.textContent()).toContain("The attempt");
  expect(await words.textContent()).toMatch(/stopped|not finished/);
});

test("the canary hears what it should: this test could fail", async () => {
  const { port } = canary.address() as AddressInfo;
  await fetch(`http://127.0.0.1:${port}/heard`);
  expect(heard).toContain("/heard");
});

/** A browser on the built site, for the tests. Every request to another host and every error of the page is noted. */
import { type Browser, type BrowserContext, chromium, type Page } from "playwright-core";
import { afterAll } from "vitest";
import { chromiumArgs, chromiumPath } from "../../tools/chromium.ts";

export const PHONE = { width: 390, height: 844 };
export const DESK = { width: 1280, height: 900 };

export async function openBrowser(): Promise<Browser> {
  return await chromium.launch({ executablePath: await chromiumPath(), args: chromiumArgs });
}

/** A browser for the tests of one file, closed after them. */
export async function browserOfFile(): Promise<Browser> {
  const browser = await openBrowser();
  afterAll(() => browser.close());
  return browser;
}

export interface Opened {
  readonly page: Page;
  readonly context: BrowserContext;
  /** Addresses asked for at other hosts. */
  readonly elsewhere: string[];
  /** Errors and warnings of the page itself. */
  readonly errors: string[];
}

export async function openSheet(
  browser: Browser,
  site: string,
  hash: string,
  size: { width: number; height: number } = DESK,
): Promise<Opened> {
  // phones report touch, so that a tap is a tap
  const context = await browser.newContext({
    viewport: size,
    hasTouch: size.width < 600,
    locale: "en-US",
    acceptDownloads: true,
  });
  const page = await context.newPage();
  const { elsewhere, errors } = watch(page, site);
  await page.goto(site + hash);
  return { page, context, elsewhere, errors };
}

export function watch(page: Page, site: string): { elsewhere: string[]; errors: string[] } {
  const elsewhere: string[] = [];
  const errors: string[] = [];
  const { host } = new URL(site);
  page.on("request", (request) => {
    const address = new URL(request.url());
    if (/^(https?|wss?):$/.test(address.protocol) && address.host !== host)
      elsewhere.push(request.url());
  });
  page.on("pageerror", (error) => errors.push(error.message));
  page.on("console", (message) => {
    if (message.type() === "error") errors.push(`${message.text()} ${message.location().url}`);
  });
  return { elsewhere, errors };
}

/** Puts a page from a file on the shelf, the way a reader does. */
export async function addPage(page: Page, site: string, file: string): Promise<void> {
  await page.goto(`${site}#/index`);
  // what stood here before may have a field for files of its own
  await page.getByRole("button", { name: "Keep the whole shelf in a file" }).waitFor();
  await page.setInputFiles("input[type=file]", file);
  await page.getByText("is on the shelf").waitFor();
}

export const ALL_OUTPUTS = new URL("pages/all-outputs.md", import.meta.url).pathname;

/** The main answer of the open page, when it is there and not old. */
export async function mainAnswer(page: Page): Promise<string> {
  const figure = page.locator(".answer.main:not(.is-old) .figure-big > [aria-hidden]").first();
  await figure.waitFor();
  return (await figure.textContent()) ?? "";
}

/** Things to press that are under 48 px, or closer than 8 px to the next one. Links in running text are no buttons. */
export async function smallTargets(page: Page): Promise<string[]> {
  return await page.evaluate(() => {
    const all = [
      ...document.querySelectorAll<HTMLElement>(
        "button, select, summary, nav a, .entry, .button, label.tick, input:not([type=radio], [type=checkbox], [type=file])",
      ),
    ].filter((e) => e.checkVisibility() && !e.closest(".cm-editor, .skip"));
    const boxes = all.map((e) => ({ e, b: e.getBoundingClientRect() }));
    const name = (e: HTMLElement) =>
      `${e.tagName.toLowerCase()} ${(e.getAttribute("aria-label") ?? e.textContent ?? "").trim().slice(0, 30)}`;
    const found: string[] = [];
    for (const { e, b } of boxes)
      if (b.height < 47.5 || b.width < 47.5)
        found.push(`${name(e)}: ${b.width.toFixed(0)} x ${b.height.toFixed(0)}`);
    for (const one of boxes)
      for (const two of boxes) {
        if (one === two || one.e.contains(two.e) || two.e.contains(one.e)) continue;
        if (!one.e.matches("button, .button") || !two.e.matches("button, .button")) continue;
        const dx = Math.max(one.b.left - two.b.right, two.b.left - one.b.right);
        const dy = Math.max(one.b.top - two.b.bottom, two.b.top - one.b.bottom);
        if (Math.max(dx, dy) < 7.5)
          found.push(`${name(one.e)} is ${Math.max(dx, dy).toFixed(1)} px from ${name(two.e)}`);
      }
    return found;
  });
}

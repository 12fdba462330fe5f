import { spawn } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, truncateSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium, type Page } from "playwright-core";
import { expect, inject, test } from "vitest";
import { chromiumArgs, chromiumPath } from "../../tools/chromium.ts";
import { ALL_OUTPUTS, addPage } from "./open.ts";

const site = inject("site");
/** The long run has fifty. */
const KILLS = Number(process.env["CASTCLOCK_KILLS"] ?? 8);
/** After so many kills the browser finds its databases broken, as it does by itself now and then (one of thirty to sixty). */
const CUT_EVERY = 4;
/** ms of typing that a kill may cost: a key that waits for its turn, and the write that it sends. */
const MOST_LOST = 300;
const MOST_MS = 60_000 + 12_000 * KILLS;

test(
  `killed ${KILLS} times while typing: the sheet stays, at most its last 0.3 s are lost`,
  async () => {
    const profile = mkdtempSync(join(tmpdir(), "castclock-kill-"));
    const program = await chromiumPath();
    const lost: number[] = [];
    let startedAt = 0;
    let killedAt = 0;
    let forgotten = 0;
    // a browser writes down whom it keeps what for within half a minute, or when it is closed
    const first = await launch(program, profile);
    await addPage(first.page, site, ALL_OUTPUTS);
    await first.page.evaluate(leaveMark);
    await first.close();
    for (let kill = 0; kill < KILLS; kill++) {
      const { page, crash } = await launch(program, profile);
      await page.goto(`${site}#/page/all-outputs`);
      const fold = page.getByText("This sheet: copy, save");
      await fold.waitFor();
      // a browser that finds its databases broken throws every one of the site away, the test's own, too
      const isForgotten = await page.evaluate(leaveMark);
      if (isForgotten) await page.getByText("came back from the spare copies").waitFor();
      await fold.click();
      const text = page.getByLabel("The whole sheet as text");
      const before = await text.inputValue();
      expect(before).toContain("# Everything a sheet can show");
      // what the killed one before had typed, with the time of each key
      const marks = [...before.matchAll(/k(\d+)@(\d+);/g)].map((m) => [Number(m[1]), Number(m[2])]);
      if (kill > 0) {
        const mine = marks.filter(([k]) => k === kill - 1).map(([, ms]) => ms!);
        // of the spare copy the browser wrote down what stood there some seconds ago: the sheet is there, not its last keys
        if (isForgotten) forgotten++;
        else lost.push(killedAt - Math.max(startedAt, ...mine));
      }
      // the killed ones' marks go, so that the text stays short
      await text.fill(before.replace(/(k\d+@\d+;)+\n?$/, ""));
      await text.focus();
      await page.keyboard.press("ControlOrMeta+End");
      startedAt = Date.now();
      const until = startedAt + 300 + ((kill * 137) % 900);
      while (Date.now() < until) await page.keyboard.insertText(`k${kill}@${Date.now()};`);
      killedAt = Date.now();
      await crash();
      if (kill % CUT_EVERY === CUT_EVERY - 1) cutShort(profile);
    }
    rmSync(profile, { recursive: true, force: true, maxRetries: 10, retryDelay: 300 });
    const worst = Math.max(...lost);
    console.log(
      `killed ${KILLS} times, all databases thrown away ${forgotten} times and the sheet there: at most ${worst} ms of typing lost otherwise, mean ${(lost.reduce((a, b) => a + b) / lost.length).toFixed(0)} ms`,
    );
    expect(forgotten).toBeGreaterThanOrEqual(Math.floor((KILLS - 1) / CUT_EVERY));
    expect(worst).toBeLessThanOrEqual(MOST_LOST);
  },
  MOST_MS,
);

/** Leaves the site's databases as a kill within a write to their list may: the browser finds it cut short and throws all away. */
function cutShort(profile: string): void {
  const databases = join(profile, "Default", "IndexedDB");
  for (const site of readdirSync(databases).filter((name) => name.endsWith(".leveldb")))
    for (const file of readdirSync(join(databases, site)))
      if (file.startsWith("MANIFEST")) truncateSync(join(databases, site, file), 10);
}

/** Whether the site's databases were thrown away since it was called last: then a mark of the test's own is gone. */
async function leaveMark(): Promise<boolean> {
  const open = indexedDB.open("mark-of-the-test");
  return await new Promise((done, fail) => {
    let isNew = false;
    open.onupgradeneeded = () => {
      isNew = true;
    };
    open.onerror = () => fail(open.error);
    open.onsuccess = () => {
      open.result.close();
      done(isNew);
    };
  });
}

interface Launched {
  readonly page: Page;
  /** Ends all its processes at once, as a power cut would: nothing is closed, nothing is told. */
  readonly crash: () => Promise<void>;
  /** Ends it as its reader does. */
  readonly close: () => Promise<void>;
}

/** A browser on the profile, with all its processes in a group of their own. */
async function launch(program: string, profile: string): Promise<Launched> {
  // left by the one before: the new one's address must not be taken for it
  const told = join(profile, "DevToolsActivePort");
  rmSync(told, { force: true });
  const args = ["--headless", "--remote-debugging-port=0", `--user-data-dir=${profile}`];
  const child = spawn(program, [...chromiumArgs, ...args, "about:blank"], {
    detached: true,
    stdio: "ignore",
  });
  const ended = new Promise<void>((resolve) => child.once("exit", () => resolve()));
  const address = () => (existsSync(told) ? readFileSync(told, "utf8").split("\n") : []);
  await expect.poll(() => address().length, { timeout: 30_000 }).toBeGreaterThanOrEqual(2);
  const [port, path] = address();
  const browser = await chromium.connectOverCDP(`ws://127.0.0.1:${port}${path}`);
  const context = browser.contexts()[0]!;
  const page = context.pages()[0] ?? (await context.newPage());
  const crash = async () => {
    process.kill(-child.pid!, "SIGKILL");
    await ended;
    await browser.close();
  };
  const close = async () => {
    const session = await browser.newBrowserCDPSession();
    await session.send("Browser.close");
    await ended;
  };
  return { page, crash, close };
}

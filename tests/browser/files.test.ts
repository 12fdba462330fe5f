// A bait from a file: read in a worker, into a job of its own; what is wrong with it is said.
import type { Page } from "playwright-core";
import { expect, inject, test } from "vitest";
import { LENGTH, mesh } from "../lib/questions/shape/one-bait.ts";
import { binaryStl } from "../lib/shape/solids.ts";
import { browserOfFile, mainAnswer, openSheet } from "./open.ts";

const site = inject("site");
const browser = await browserOfFile();

const stl = () => Buffer.from(binaryStl(mesh(64, 120)));
const give = (page: Page, name: string, buffer: Buffer) =>
  page.locator(".shape-file input[type=file]").setInputFiles({ name, mimeType: "", buffer });

test("a mesh becomes the job on the bench, and the sheet shows it; a wrong unit is asked about", async () => {
  const { page, context, elsewhere } = await openSheet(browser, site, "#/page/shape");
  const before = await mainAnswer(page);
  await give(page, "ridge shad.stl", stl());
  await page.getByText("is the job on the bench now").waitFor();
  expect(await page.locator(".shape-file").textContent()).toContain("4.33 in long");
  await expect.poll(() => mainAnswer(page)).not.toBe(before);
  expect(await page.locator(".title-block").textContent()).toContain("ridge shad");
  // 110 inches are no bait: the other unit is one tap away
  await page.getByRole("button", { name: "inches", exact: true }).click();
  await page.locator(".shape-file .error").waitFor();
  expect(await page.locator(".shape-file .error").textContent()).toMatch(/mm/);
  await page.getByRole("button", { name: "millimeters", exact: true }).click();
  await page.getByText("is the job on the bench now").waitFor();
  expect(elsewhere).toEqual([]);
  await context.close();
});

test("a file dropped on any sheet is read on its own; a truncated one and one with scripts are refused in words", async () => {
  const { page, context } = await openSheet(browser, site, "#/timer");
  const drop = (name: string, text: string) =>
    page.evaluate(
      ([name, text]) => {
        const data = new DataTransfer();
        data.items.add(new File([text!], name!));
        document.body.dispatchEvent(
          new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }),
        );
      },
      [name, text],
    );
  await drop("side.svg", SVG);
  await page.getByText("is the job on the bench now").waitFor({ timeout: 20_000 });
  expect(page.url()).toMatch(/page\/shape$/);
  for (const [name, text, said] of [
    ["cut.stl", "solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0", /cut off/],
    ["alert.svg", '<svg xmlns="http://www.w3.org/2000/svg"><script>1</script></svg>', /<script>/],
  ] as const) {
    await drop(name, text);
    await expect
      .poll(() => page.locator(".shape-file .error").allTextContents())
      .toEqual([expect.stringMatching(said)]);
  }
  await context.close();
});

test("a probe's log from a logger becomes a sheet that answers from it", async () => {
  const { page, context } = await openSheet(browser, site, "#/log");
  const given = "data/logs/shad-with-probe.csv";
  await page.getByLabel("Read a log (CSV)").setInputFiles(given);
  await page.getByRole("heading", { name: /What does my probe's log say/ }).waitFor();
  expect(await mainAnswer(page)).toMatch(/min/);
  expect(page.url()).toMatch(/probe/);
  expect(await page.locator("main").innerText()).not.toMatch(/example of|are an example/);
  await context.close();
});

test("a shop's log, pasted, narrows its job in every question once it is kept, and is forgotten again", async () => {
  const { page, context } = await openSheet(browser, site, "#/log");
  const width = async () => {
    await mainAnswer(page);
    const words = (await page.locator(".answer.main").first().innerText()).replaceAll("\n", " ");
    const [, low, high] = /between (.*?) and (.*?),/.exec(words) ?? [];
    return { low, high };
  };
  await page.getByText("Paste a log").click();
  // each mistake with its line and column
  await page.getByLabel("The log as text").fill("seconds,verdict\n300,good\n250,meh\n-5,good\n");
  await page.getByRole("button", { name: "Read it" }).click();
  await page.getByText(/^Line 3, verdict: .*not possible here/).waitFor();
  await page.getByText(/^Line 4, seconds: .*too little/).waitFor();
  const lines = [
    "840,soft",
    "900,soft",
    "990,good",
    "930,soft",
    "1000,good",
    "980,soft",
    "1010,good",
  ];
  await page.getByLabel("The log as text").fill(`seconds,verdict\n${lines.join("\n")}\n`);
  await page.getByRole("button", { name: "Read it" }).click();
  await page.getByRole("heading", { name: "What do my shots say?" }).waitFor();
  const claimed = await width();
  expect(await page.locator("main").innerText()).not.toMatch(/example of|are an example/);
  await page.getByRole("button", { name: "Use this from now on" }).click();
  await page
    .getByText("Every question about Harbor swimmer, 22 mm answers from this log.")
    .waitFor();
  await page.goto(`${site}#/page/demold`);
  await page.getByText("with its log").waitFor();
  const kept = await width();
  expect(seconds(kept.low!)).toBeGreaterThan(seconds(claimed.low!) - 60);
  expect(seconds(kept.high!)).toBeLessThan(seconds(claimed.high!) + 60);
  await page.goto(`${site}#/job`);
  await page.getByRole("button", { name: "Forget the log" }).click();
  await page.goto(`${site}#/page/demold`);
  const forgotten = await width();
  expect(seconds(forgotten.high!) - seconds(forgotten.low!)).toBeGreaterThan(
    1.6 * (seconds(kept.high!) - seconds(kept.low!)),
  );
  await context.close();
});

test("the log plans the rest of the evening from what was written down tonight", async () => {
  const { page, context } = await openSheet(browser, site, "#/log");
  await page.getByLabel("Opened after").fill("15:00");
  await page.getByRole("button", { name: "soft" }).click();
  await page.getByRole("button", { name: "Plan the rest of the evening" }).click();
  await page.getByRole("heading", { name: /rest of this evening/ }).waitFor();
  await page.getByText(/After one shot this evening runs/).waitFor();
  expect(await mainAnswer(page)).toMatch(/\d/);
  expect(page.url()).toMatch(/rest/);
  await context.close();
});

/** A side view, drawn in mm: an ellipse as long as the bait. */
const SVG = `<svg xmlns="http://www.w3.org/2000/svg" width="${LENGTH}mm" height="20mm" viewBox="0 0 ${LENGTH} 20"><ellipse id="side" cx="${LENGTH / 2}" cy="10" rx="${LENGTH / 2}" ry="9"/></svg>`;

/** "12 min 30 s" in s. */
function seconds(words: string): number {
  const [, min = "0"] = /(\d+) min/.exec(words) ?? [];
  const [, s = "0"] = /(\d+) s/.exec(words) ?? [];
  return 60 * Number(min) + Number(s);
}

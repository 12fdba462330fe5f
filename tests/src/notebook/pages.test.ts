// Every shipped page is run, without a browser, on the jobs that it is made for. The pinned numbers are a
// regression: our own, so that a change of them is seen. Whether they are right is held elsewhere.
import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { readJob } from "../../../lib/job/job.ts";
import { plan } from "../../../lib/questions/plan/plan.ts";
import {
  type AnswerOutput,
  checkOutput,
  type Output,
  type TableOutput,
} from "../../../src/notebook/outputs/output.ts";
import { readPage } from "../../../src/notebook/page/page.ts";
import { proseHtml } from "../../../src/notebook/page/prose.ts";
import { mentions } from "../../../src/notebook/run/program.ts";
import { type PageRunResult, runPageText } from "../../../src/notebook/run/runner-node.ts";
import { furtherWords } from "../../../src/notebook/sandbox/further-words.ts";
import { buildPrelude, furtherWordNames } from "../../../tools/vite-plugins.ts";
import { PINNED } from "./pinned.ts";

const root = new URL("../../../", import.meta.url);
const read = (path: string) => readFileSync(new URL(path, root), "utf8");
const names = readdirSync(new URL("notebooks", root))
  .filter((file) => file.endsWith(".md"))
  .map((file) => file.slice(0, -3));

const run = (page: string, job: string, quick = false): Promise<PageRunResult> =>
  runOn(page, read(`data/jobs/${job}.yaml`), quick);

async function runOn(page: string, jobText: string, quick: boolean): Promise<PageRunResult> {
  return await runPageText({
    text: read(`notebooks/${page}.md`),
    jobText,
    prelude: await buildPrelude("full"),
    quick,
    milliseconds: 300_000,
  });
}

const answers = (outputs: readonly (readonly Output[])[]) =>
  outputs.flat().filter((o): o is AnswerOutput => o.kind === "answer");

test("every page is pinned", () => {
  expect([...new Set(PINNED.map((p) => p.page))].sort()).toEqual(names.toSorted());
});

test.each(PINNED)(
  "regression: $page on $job",
  async ({ page, job, numbers }) => {
    const ran = await run(page, job);
    expect(ran.pageProblems).toEqual([]);
    expect(ran.problem).toBeUndefined();
    for (const one of ran.outputs.flat()) expect(checkOutput(one)).toMatchObject({ ok: true });
    const shown = answers(ran.outputs);
    for (const [label, value] of Object.entries(numbers)) {
      const found = shown.find((a) => a.label === label);
      if (value === null) expect([label, found?.value]).toEqual([label, null]);
      else {
        // SI; half a percent is below what anyone could measure, and above what a finer grid moves
        expect(found?.value, label).toBeGreaterThan(value - Math.abs(value) * 0.005);
        expect(found?.value, label).toBeLessThan(value + Math.abs(value) * 0.005);
      }
    }
    for (const { label, value, low, high } of shown) {
      if (value === null || low === null || high === null) continue;
      expect(low, label).toBeLessThanOrEqual(value);
      expect(high, label).toBeGreaterThanOrEqual(value);
    }
  },
  400_000,
);

test.each(names)("%s is a page as they should be", (name) => {
  const text = read(`notebooks/${name}.md`);
  const page = readPage(text);
  expect(page.problems).toEqual([]);
  expect(page.passages.map((p) => p.text).join("")).toBe(text);
  expect(page.title).toMatch(/^[A-Z].*[^.]$/);
  // one big number at most, a formula with its source one tap away
  const formulas = page.passages.filter((p) => p.kind === "formula");
  if (name !== "proof") expect(formulas.length).toBeGreaterThan(0);
  for (const formula of formulas) {
    expect(formula.kind === "formula" && formula.source).toMatch(/\w/);
  }
  for (const working of page.workings) {
    expect(working.name).not.toMatch(/^Working \d/);
    expect(working.body.split("\n").length).toBeLessThan(70);
  }
  // links lead to pages that are there
  const prose = page.passages.filter((p) => p.kind === "prose").map((p) => proseHtml(p.text));
  for (const [, link] of prose.join("").matchAll(/href="#\/page\/([^"]+)"/g)) {
    expect(names).toContain(decodeURIComponent(link ?? ""));
  }
});

test("the quick setting says the same as the full one, roughly: first page", async () => {
  const [quick, full] = [
    await run("first", "thick-swimmer", true),
    await run("first", "thick-swimmer"),
  ];
  const time = (r: PageRunResult) => answers(r.outputs).find((a) => a.main)?.value ?? Number.NaN;
  expect(time(quick) / time(full)).toBeGreaterThan(0.85);
  expect(time(quick) / time(full)).toBeLessThan(1.15);
});

test("an evening of more shots than a sheet can show says how many it leaves out", async () => {
  const day =
    "{ bait: { thickness: 4 mm, length: 30 mm }, mold: { material: aluminum 6061 }, sprue: { diameter: 2 mm }, run: { molds: 12, session: 24 h, hands: 10 s, open: 5 s } }";
  const ran = await runOn("evening", day, true);
  expect(ran.problem).toBeUndefined();
  expect(ran.pageProblems).toEqual([]);
  const notes = ran.outputs.flat().flatMap((one) => (one.kind === "note" ? [one.text] : []));
  const said = notes.join("\n");
  const [, listed, all] = /first (\d+) of (\d+) shots/.exec(said) ?? [];
  expect([Number(listed), Number(all) > 3000]).toEqual([1000, true]);
  expect(said).toMatch(/The timer has the next 500 of \d{4,5} steps/);
  const [main] = answers(ran.outputs).filter((one) => one.main);
  expect(main?.value).toBe(Number(all));
}, 120_000);

test("a third color is on the sheet of two, after the second as the second after the first", async () => {
  const three =
    "{ bait: { thickness: 24 mm }, layer: { depth: 7 mm, more: [{ depth: 4 mm, temperature: 170 degC }] } }";
  const ran = await runOn("second-color", three, true);
  expect(ran.problem).toBeUndefined();
  const tables = ran.outputs.flat().flatMap((one) => (one.kind === "table" ? [one] : []));
  const table = tables.find(({ caption }) => caption?.startsWith("After each color"));
  expect(table?.rows).toHaveLength(2);
  const shown = answers(ran.outputs);
  const value = (label: string) => shown.find((one) => one.label === label)?.value;
  expect(table?.rows[0]).toMatchObject({
    open: value("Opens after"),
    close: value("Closes after"),
  });
}, 120_000);

test("a page that uses a word beyond the first sheet's is given the larger library", () => {
  const names = furtherWordNames();
  expect(names).toEqual(Object.keys(furtherWords).map((name) => `words\\.${name}`));
  const wants = (body: string) => names.some((name) => mentions(body, name));
  expect(wants("show.note({ text: words.molten(answer) });")).toBe(true);
  expect(wants("const timer = 3; show.note({ text: words.cautions(cautions) });")).toBe(false);
  const first = readPage(read("notebooks/first.md"));
  expect(first.workings.some(({ body }) => wants(body))).toBe(false);
});

test("the evening's sheet foretells no opening sooner than the plan has it, and hardly later", async () => {
  const jobText = `${read("data/jobs/evening-of-two.yaml")}\nplan: { start: "23:50" }\n`;
  const { outputs, pageProblems } = await runOn("evening", jobText, true);
  expect(pageProblems).toEqual([]);
  const { shots, start } = plan(readJob(jobText).job, { quick: true }).answer;
  const table = outputs
    .flat()
    .find((o) => o.kind === "table" && o.caption === "Shot by shot") as TableOutput;
  expect(table.rows).toHaveLength(shots.length);
  const seconds = (cell: unknown) => {
    const [h, min, s] = String(cell).split(":").map(Number);
    return h! * 3600 + min! * 60 + s!;
  };
  for (const [i, { mayOpen, surely }] of shots.entries()) {
    for (const [key, at] of Object.entries({ mayOpen, surely })) {
      const later = seconds(table.rows[i]![key]) - ((start! + at) % 86400);
      expect(later, `${key} of shot ${i + 1}`).toBeGreaterThanOrEqual(-1e-6);
      expect(later).toBeLessThan(15);
    }
  }
}, 120_000);

test.each(["shop-log", "probe"])(
  "the lines that %s came with teach nothing about another job, and can't be kept",
  async (sheet) => {
    const own = (await run(sheet, "thick-swimmer", true)).outputs.flat();
    const other = (await run(sheet, "paddle-shad", true)).outputs.flat();
    expect(answers([own]).length).toBeGreaterThan(1);
    expect(answers([other])).toEqual([]);
    expect(other[0]).toMatchObject({ kind: "note", text: expect.stringMatching(/an example/) });
    for (const one of [...own, ...other]) expect(one.kind).not.toBe("lesson");
  },
  120_000,
);

test.each(["shop-log", "probe"])("the log finds in %s what it fills", (sheet) => {
  const text = read(`notebooks/${sheet}.md`);
  expect(text.match(/^const example = .*$/gm)).toHaveLength(1);
  expect(text.match(/^Here is an example.*\n\n/gm)).toHaveLength(1);
});

import { expect, test } from "vitest";
import { readPage } from "../../../src/notebook/page/page.ts";
import { csvText, fileName } from "../../../src/ui/outputs/save.ts";
import { spreadsOf, wideSpreadsOf } from "../../../src/ui/page/spreads.ts";

test("dials stand beside all that follows them, in the order of the page", () => {
  const page = readPage(
    "# A\n\nlead\n\n```dials\na:\n  label: A\n  value: 1 mm\n```\n\ntext\n\n```ts one\n1;\n```\n\n```dials\nb:\n  label: B\n  value: 1 mm\n```\n\nmore\n",
  );
  const spreads = spreadsOf(page.passages);
  expect(spreads.map((s) => s.dials)).toEqual([undefined, ["a"], ["b"]]);
  const rest = page.passages.filter((p) => p.kind !== "dials");
  expect(spreads.flatMap((s) => s.passages)).toEqual(rest);
  // on a wide sheet all of them are in one column, also while the end of the page is still to come
  const wide = wideSpreadsOf(page.passages, page.passages.slice(0, 3));
  expect(wide.map((s) => s.dials)).toEqual([undefined, ["a", "b"]]);
  const whole = wideSpreadsOf(page.passages, page.passages);
  expect(whole.flatMap((s) => s.passages)).toEqual(rest);
});

test("a file name is one that every system takes", () => {
  expect(fileName("Shot by shot: 16 mm / still", "csv")).toBe("shot-by-shot-16-mm-still.csv");
  expect(fileName("../..", "md")).toBe("castclock.md");
});

test("CSV quotes what needs it, and nothing becomes a formula", () => {
  expect(
    csvText(
      ["a", "b"],
      [
        ['1,5 "in"', -3],
        ["-1+2", null],
      ],
    ),
  ).toBe(`a,b\r\n"1,5 ""in""",-3\r\n'-1+2,\r\n`);
});

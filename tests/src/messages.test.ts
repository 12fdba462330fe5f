import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import { cautionCodes, ignoredCodes, leverCodes, reasonCodes } from "../../lib/answers/answer.ts";
import { untoldCodes } from "../../lib/questions/fit/models.ts";
import { problemCodes, problemSentence } from "../../src/messages/all-problems.ts";
import { cautionLines } from "../../src/messages/cautions.ts";
import { ignoredLine } from "../../src/messages/ignored.ts";
import { leverLine } from "../../src/messages/levers.ts";
import { runCodes, runSentence } from "../../src/messages/page-problems.ts";
import { reasonPhrase } from "../../src/messages/reasons.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));

function filesIn(folder: string): string[] {
  return readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith(".ts"))
    .map((entry) => join(entry.parentPath, entry.name));
}

/** The codes of problems that the text can report: `code: "x"`, `code: a ? "x" : "y"`, `add("x", path)`. */
function codesIn(text: string): string[] {
  const literal = [...text.matchAll(/\bcode: "([a-z_]+)"/g)].map(([, code]) => code!);
  const choice = [...text.matchAll(/\bcode: [^,"]*\? "([a-z_]+)" : "([a-z_]+)"/g)].flatMap(
    ([, a, b]) => [a!, b!],
  );
  const added = [...text.matchAll(/\b(?:add|hold|note|complain)\(\s*"([a-z_]+)",/g)].map(
    ([, code]) => code!,
  );
  return [...literal, ...choice, ...added];
}

const OTHER_CODES = new Set<string>([
  "custom", // zod's own
  "input", // of a cause
  ...cautionCodes,
  ...ignoredCodes,
  ...leverCodes,
  ...reasonCodes,
  ...untoldCodes,
]);

test("every problem that lib can report has a sentence", () => {
  const used = [...filesIn("lib"), ...filesIn("src/cli")].flatMap((file) =>
    codesIn(readFileSync(file, "utf8")),
  );
  const codes = [...new Set(used)].filter((code) => !OTHER_CODES.has(code));
  expect(codes.length).toBeGreaterThan(40);
  expect(codes.filter((code) => !problemCodes.includes(code))).toEqual([]);
});

test("every problem that a page can have has a sentence", () => {
  const text = filesIn("src/notebook")
    .map((file) => readFileSync(file, "utf8"))
    .join("\n");
  const pageCodes = new Set(
    [...text.matchAll(/"((?:dials?|page)\.(?!js")[a-zA-Z]+)"/g)].map(([, code]) => code!),
  );
  expect(pageCodes.size).toBeGreaterThan(15);
  expect([...pageCodes].filter((code) => !problemCodes.includes(code))).toEqual([]);
  for (const code of runCodes)
    expect(runSentence({ code, detail: "x" }, "Working 2")).toMatch(/Working 2/);
  // the library's own words of what it refused are codes: they have sentences beside it
  const refused = { code: "error", detail: "InputError: line 4: no_such_mold", problems: [{}] };
  expect(runSentence(refused, "Working 2")).toMatch(/^Working 2 can't be worked out/);
  expect(runSentence(refused, "Working 2")).not.toMatch(/InputError|_/);
});

test("a sentence has no gap, whatever is known of the problem", () => {
  for (const code of problemCodes) {
    const bare = problemSentence({ code, path: "x" });
    const full = problemSentence({
      code,
      path: "x",
      given: "5 mm",
      least: "1 mm",
      most: "3 mm",
      possible: ["a", "b"],
      suggestion: "2 mm",
    });
    for (const sentence of [bare, full]) {
      expect(sentence, code).toMatch(/^[A-Z"0-9].*[.?}:a-z)]$/s);
      expect(sentence, code).not.toMatch(/ {2}|undefined\.|NaN|\[object/);
    }
  }
});

test("cautions are short, and end with who decides", () => {
  for (const code of cautionCodes) {
    const lines = cautionLines(code);
    expect(lines.length).toBeGreaterThan(1);
    expect(lines.length).toBeLessThanOrEqual(3);
    expect(lines.at(-1), code).toMatch(/data sheet|own sheet|safety/i);
  }
});

test("every other code has its words", () => {
  for (const code of ignoredCodes) expect(ignoredLine(code).length).toBeGreaterThan(5);
  for (const code of leverCodes) expect(leverLine(code)).toMatch(/^[a-z]/);
  for (const code of reasonCodes) expect(reasonPhrase({ code })).not.toMatch(/undefined/);
});

/** Codes that no text among those of these folders says, between quotes. */
function unsaid(codes: readonly string[], folders: readonly string[]): string[] {
  const text = folders
    .flatMap(filesIn)
    .map((file) => readFileSync(file, "utf8"))
    .join("\n");
  return codes.filter((code) => !text.includes(`"${code}"`));
}

test("every code of an answer is said by one: a sentence that nobody reads is a promise that nobody keeps", () => {
  for (const codes of [cautionCodes, ignoredCodes, leverCodes, reasonCodes, untoldCodes])
    expect(unsaid(codes, ["lib/models", "lib/questions", "lib/confidence"])).toEqual([]);
});

test("every problem that has a sentence is reported somewhere", () => {
  const folders = ["lib", "src/cli", "src/notebook", "src/sweep", "src/ui"];
  expect(unsaid(problemCodes, folders)).toEqual([]);
  expect(unsaid(["a_code_that_is_dead"], folders)).toHaveLength(1);
});

test("the codes of a file are found however they are written", () => {
  expect(codesIn('{ code: "a_b", path }')).toEqual(["a_b"]);
  expect(codesIn('code: x < 1 ? "too_small" : "too_big"')).toEqual(["too_small", "too_big"]);
  expect(codesIn('add("not_rising", path, t)')).toEqual(["not_rising"]);
});

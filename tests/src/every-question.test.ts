/** Where a question has to stand that the compiler does not ask for. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import * as library from "../../lib/index.ts";
import { MEMORABLE } from "../../src/notebook/sandbox/memorable.ts";
import { askable } from "../../src/sweep/askable.ts";

const textOf = (file: string): string =>
  readFileSync(new URL(`../../${file}`, import.meta.url), "utf8");

test.each(Object.keys(askable))("%s stands everywhere a question does", (question) => {
  expect(library).toHaveProperty(question);
  expect(MEMORABLE).toContain(question);
  // the table of questions, and what the command is built warm with
  expect(textOf("README.md")).toMatch(new RegExp(`^\\|[^|]*\`${question}\``, "m"));
  expect(textOf("tools/compile-command.js")).toContain(`"${question}"`);
});

test("what a page remembers are functions of the library", () => {
  const functions: Readonly<Record<string, unknown>> = library;
  expect([...MEMORABLE].filter((name) => typeof functions[name] !== "function")).toEqual([]);
});

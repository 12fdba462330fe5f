import { expect, test } from "vitest";
import * as library from "../../../../lib/index.ts";
import { MEMORABLE } from "../../../../src/notebook/sandbox/memorable.ts";
import { askable } from "../../../../src/sweep/askable.ts";

test("what a page remembers are functions of the library, every question among them", () => {
  const functions: Readonly<Record<string, unknown>> = library;
  expect([...MEMORABLE].filter((name) => typeof functions[name] !== "function")).toEqual([]);
  expect(Object.keys(askable).filter((name) => !MEMORABLE.has(name))).toEqual([]);
});

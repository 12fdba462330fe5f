import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import * as library from "../lib/index.ts";

const root = fileURLToPath(new URL("../", import.meta.url));

interface Example {
  readonly file: string;
  readonly expression: string;
  readonly value: string;
}

/** `@example expression // value`, over one or two lines. */
function examplesIn(file: string): Example[] {
  const text = readFileSync(join(root, file), "utf8");
  const found = text.matchAll(/^\s*\* @example ((?:(?!\/\/).|\n\s*\* (?!@))*?) \/\/ (.*)$/gm);
  return [...found].map(([, expression, value]) => ({
    file,
    expression: expression!.replace(/\n\s*\* /g, " ").trim(),
    value: value!.trim(),
  }));
}

const files = readdirSync(join(root, "lib"), { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile() && entry.name.endsWith(".ts"))
  .map((entry) => relative(root, join(entry.parentPath, entry.name)))
  .sort();
const examples = files.flatMap(examplesIn);

/** An example may use every name that lib exports. */
const scope: Record<string, unknown> = {};
for (const file of files) Object.assign(scope, await import(`../${file}`));

/** Half a unit of the last digit that is written. */
function halfLastDigit(written: string): number {
  const [, decimals = "", power = "0"] = /^-?\d+(?:\.(\d+))?(?:e([-+]?\d+))?$/.exec(written) ?? [];
  return 0.5 * 10 ** (Number(power) - decimals.length);
}

test("the public API shows by example", () => {
  expect(examples.length).toBeGreaterThan(20);
});

/** Functions that lib exports, with their docstring and their own lines. */
function functionsIn(file: string): { name: string; doc: string; own: string }[] {
  const text = readFileSync(join(root, file), "utf8");
  const found = text.matchAll(
    /^(?:\/\*\*((?:(?!\*\/)[\s\S])*)\*\/\n)?export (?:async )?function (\w+)([\s\S]*?)^\}/gm,
  );
  return [...found].map(([, doc = "", name, own]) => ({ name: name!, doc, own: own! }));
}

const shown = files.flatMap(functionsIn).filter(({ name }) => name in library);

test("every function of the public API has an example, and says that it throws where it checks what it is given", () => {
  expect(shown.length).toBeGreaterThan(100);
  const lacking = (tag: string, own: RegExp) =>
    shown.filter((f) => own.test(f.own) && !f.doc.includes(tag)).map(({ name }) => name);
  expect(lacking("@example", /./)).toEqual([]);
  const throws = /\bcheck\w*\(|checks\.done\(\)|new InputError|new NoConvergence/;
  expect(lacking("@throws", throws)).toEqual([]);
});

test.each(examples)("$file: $expression", ({ expression, value }) => {
  const evaluate = new Function(...Object.keys(scope), `return (${expression});`);
  const computed: unknown = evaluate(...Object.values(scope));
  if (typeof computed === "number") {
    const written = Number(value);
    expect(Number.isNaN(written), `"${value}" is a number`).toBe(false);
    expect(Math.abs(computed - written), `${computed}`).toBeLessThanOrEqual(
      halfLastDigit(value) * (1 + 1e-9),
    );
    return;
  }
  const written: unknown = new Function(`return (${value});`)();
  expect(computed).toEqual(written);
});

/** Paths that the documents name exist: a map that leads astray is worse than none. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";

const root = fileURLToPath(new URL("..", import.meta.url));
const documents = [
  "README.md",
  "DEVELOPERS.md",
  ...["docs/decisions", "docs/methods"].flatMap((folder) =>
    readdirSync(join(root, folder)).map((name) => `${folder}/${name}`),
  ),
];

/** `lib/heat/simulate.ts`, `src/messages`, `lib/job/keys-*.ts`: what stands in backticks and begins with a folder of ours. */
function pathsIn(document: string): string[] {
  const text = readFileSync(join(root, document), "utf8");
  const found = text.matchAll(/`((?:lib|src|tests|data|notebooks|tools|docs)\/[\w./*-]*)`/g);
  return [...new Set([...found].map((match) => match[1]!))];
}

function exists(path: string): boolean {
  if (!path.includes("*")) return existsSync(join(root, path));
  const [before = "", after = ""] = path.slice(path.lastIndexOf("/") + 1).split("*");
  return readdirSync(join(root, dirname(path))).some(
    (name) => name.startsWith(before) && name.endsWith(after),
  );
}

test.each(documents)("every path named in %s exists", (document) => {
  expect(pathsIn(document).filter((path) => !exists(path))).toEqual([]);
});

test("a path that leads nowhere is found", () => {
  expect(pathsIn("DEVELOPERS.md").length).toBeGreaterThan(20);
  expect(exists("lib/nowhere.ts")).toBe(false);
  expect(exists("lib/job/keys-*.ts")).toBe(true);
});

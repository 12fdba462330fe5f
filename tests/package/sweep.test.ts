/** The built command on several threads: the same file whatever their number, also when it was killed in between. */
import { execFileSync, spawn } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, expect, test } from "vitest";

const command = fileURLToPath(new URL("../../dist/cli/main.js", import.meta.url));
const folder = mkdtempSync(join(tmpdir(), "castclock-sweep-"));
const at = (name: string) => join(folder, name);
afterAll(() => rmSync(folder, { recursive: true, force: true }));
writeFileSync(at("job.yaml"), "bait: { thickness: 8 mm }\n");

const words = (out: string, workers: number) => [
  command,
  ...["sweep", at("job.yaml"), "--quick", "--vary", "bait.thickness=3 mm..8 mm"],
  ...["--vary", "shot.temperature=160 degC..180 degC"],
  ...["--members", "200", "--out", at(out), "--workers", String(workers)],
];
const text = (name: string) => readFileSync(at(name), "utf8");

test("one thread, three threads, and killed in between: one file", async () => {
  execFileSync(process.execPath, words("one.csv", 1));
  execFileSync(process.execPath, words("three.csv", 3));
  expect(text("three.csv")).toBe(text("one.csv"));
  expect(text("one.csv").split("\n")).toHaveLength(202);

  const run = spawn(process.execPath, words("killed.csv", 2), { stdio: "ignore" });
  const gone = new Promise((resolve) => run.once("exit", resolve));
  const begun = () => existsSync(at("killed.csv")) && statSync(at("killed.csv")).size > 2000;
  while (run.exitCode === null && !begun()) await new Promise((r) => setTimeout(r, 5));
  run.kill("SIGKILL");
  await gone;
  const left = text("killed.csv");
  expect(text("one.csv").startsWith(left.slice(0, left.lastIndexOf("\n") + 1))).toBe(true);
  const told = execFileSync(process.execPath, words("killed.csv", 2), { encoding: "utf8" });
  expect(told).toMatch(/200 members/);
  expect(text("killed.csv")).toBe(text("one.csv"));
}, 120_000);

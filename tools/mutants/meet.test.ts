/** Each drawn mutant meets the tests that reach it; see sample.js. */
import { appendFileSync, existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { test } from "vitest";
import { type Declared, declared, endFile } from "./declared.ts";

/** Seconds that each mutant meets its tests for at first. */
const FIRST = 8;
const work = process.env["MUTANTS"] ?? "";

interface Placed {
  activeMutant?: string | undefined;
  currentTestId?: string | undefined;
  hitCount?: number | undefined;
  hitLimit?: number | undefined;
  mutantCoverage?: Coverage;
}
interface Coverage {
  static: Record<string, number>;
  perTest: Record<string, Record<string, number>>;
}
interface Plan {
  readonly drawn: readonly number[];
  readonly tests: string;
  readonly budget: number;
}
interface Known {
  readonly coverage: Coverage;
  /** Of each test, s; of one that fails by itself none. */
  readonly seconds: Readonly<Record<string, number>>;
}

const shared = globalThis as { __stryker__?: Placed };
shared.__stryker__ ??= {};
const placed = shared.__stryker__;
const write = (name: string, what: unknown) =>
  writeFileSync(join(work, name), JSON.stringify(what));
const files = import.meta.glob([
  "../../tests/lib/{heat,cure,models,formulas,numerics,solve,questions}/**/*.test.ts",
  "../../tests/reference/*.test.ts",
]);

async function passes(one: Declared): Promise<boolean> {
  try {
    await one.run();
    return true;
  } catch {
    return false;
  }
}

/** Runs all tests as they are once: how long each takes, and which mutants it reaches. */
async function lookAround(): Promise<Known> {
  const file = join(work, "known.json");
  if (existsSync(file)) return JSON.parse(readFileSync(file, "utf8")) as Known;
  const seconds: Record<string, number> = {};
  for (const one of declared) {
    placed.currentTestId = one.name;
    const start = performance.now();
    if (await passes(one)) seconds[one.name] = (performance.now() - start) / 1000;
    else appendFileSync(join(work, "looked.txt"), `fails by itself: ${one.name}\n`);
    const took = (performance.now() - start) / 1000;
    if (took > 1) appendFileSync(join(work, "looked.txt"), `${took.toFixed(1)} s ${one.name}\n`);
  }
  placed.currentTestId = undefined;
  const coverage = placed.mutantCoverage ?? { static: {}, perTest: {} };
  const known = { coverage, seconds };
  write("known.json", known);
  return known;
}

interface Verdict {
  readonly mutant: number;
  readonly status: "static" | "unreached" | "killed" | "survived" | "timeout";
  readonly by?: string;
  readonly tried?: number;
  readonly reaching?: number;
}

/** @returns the verdict, or undefined where the test fails without it, too: a mutant has left something behind in memory */
async function meet(
  mutant: number,
  known: Known,
  budget: number,
  from: number,
): Promise<Verdict | undefined> {
  const { coverage, seconds } = known;
  const hits = (one: Declared) => coverage.perTest[one.name]?.[mutant] ?? 0;
  const usual = (one: Declared) => seconds[one.name] ?? 0;
  const reaching = declared
    .filter((one) => hits(one) > 0 && seconds[one.name] !== undefined)
    .sort((a, b) => usual(a) - usual(b));
  if (reaching.length === 0)
    return { mutant, status: coverage.static[mutant] ? "static" : "unreached" };
  let tried = from;
  let spent = 0;
  for (const one of reaching.slice(from)) {
    if (spent + usual(one) > budget) break;
    spent += usual(one);
    tried++;
    write("now.json", { mutant, test: one.name, usual: usual(one) });
    placed.activeMutant = String(mutant);
    placed.hitCount = 0;
    placed.hitLimit = 100 * hits(one) + 1000;
    const unnoticed = await passes(one);
    placed.activeMutant = undefined;
    placed.hitCount = undefined;
    if (unnoticed) continue;
    return (await passes(one)) ? { mutant, status: "killed", by: one.name } : undefined;
  }
  return { mutant, status: "survived", tried, reaching: reaching.length };
}

/** Every mutant for a few seconds, then those that are left for longer. */
async function meetAll({ drawn, budget }: Plan, known: Known): Promise<void> {
  for (const part of [Math.min(FIRST, budget), budget])
    for (const mutant of drawn) {
      const file = `verdict-${mutant}.json`;
      const earlier = existsSync(join(work, file))
        ? (JSON.parse(readFileSync(join(work, file), "utf8")) as Verdict)
        : undefined;
      const { status, tried = 0, reaching = 0 } = earlier ?? {};
      const goesOn = status === "survived" && tried < reaching && part > FIRST;
      if (earlier && !goesOn) continue;
      const verdict = await meet(mutant, known, part, tried);
      const left = join(work, `left-${mutant}.json`);
      if (verdict) write(file, verdict);
      else if (existsSync(left)) write(file, { mutant, status: "killed" });
      else {
        // again in a new process; if it happens there as well, it was this one
        write(`left-${mutant}.json`, part);
        throw new Error("something was left in memory");
      }
    }
}

test("the drawn mutants", async () => {
  // what fails is not looked at more closely
  fc.configureGlobal({ ...fc.readConfigureGlobal(), endOnFailure: true });
  const plan = JSON.parse(readFileSync(join(work, "plan.json"), "utf8")) as Plan;
  for (const [name, load] of Object.entries(files)) {
    if (!new RegExp(plan.tests).test(name)) continue;
    await load();
    endFile();
  }
  const known = await lookAround();
  await meetAll(plan, known);
  write("done", true);
});

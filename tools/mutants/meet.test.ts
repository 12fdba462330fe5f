/** Each drawn mutant meets the tests that reach it; see sample.js. */
import { appendFileSync, existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { test } from "vitest";
import { beginFile, type Declared, declared } from "./declared.ts";

/** Seconds that each mutant meets its tests for at first. */
const FIRST = 6;
const work = process.env["MUTANTS"] ?? "";

interface Coverage {
  static: Record<string, number>;
  perTest: Record<string, Record<string, number>>;
}
interface Plan {
  readonly drawn: readonly number[];
  readonly files: readonly string[];
  readonly tests: string;
  readonly budget: number;
}
interface Known {
  readonly coverage: Coverage;
  /** Of each test, s; of one that fails by itself none. */
  readonly seconds: Record<string, number>;
}

/** Read by the placed mutants: how often each was reached, which is on, what is called when that one is met. */
const hits = new Float64Array(1e5);
const on = new Uint8Array(1e5);
let met = 0;
let most = 0;
Object.assign(globalThis, {
  mutantHits: hits,
  mutantOn: on,
  mutantMet: () => {
    if (++met > most) throw new Error("a mutant is met far more often than without it");
    return true;
  },
});
function reached(): Record<string, number> {
  const found: Record<string, number> = {};
  hits.forEach((count, mutant) => {
    if (count > 0) found[mutant] = count;
  });
  hits.fill(0);
  return found;
}

const write = (name: string, what: unknown) =>
  writeFileSync(join(work, name), JSON.stringify(what));
const files = import.meta.glob([
  "../../tests/lib/{heat,cure,models,formulas,numerics,solve,questions}/**/*.test.ts",
  "../../tests/reference/*.test.ts",
]);

/** Nothing that is kept in memory is taken over from one test to the next. */
let turn = 0;

async function passes(one: Declared): Promise<boolean> {
  Object.assign(globalThis, { mutantTurn: ++turn });
  try {
    await one.run();
    return true;
  } catch {
    return false;
  }
}

/** Runs all tests as they are once, of a sample that goes on the new ones alone: how long each takes, and which mutants it reaches. */
async function lookAround(): Promise<Known> {
  const file = join(work, "known.json");
  const atImport = reached();
  const known: Known = existsSync(file)
    ? (JSON.parse(readFileSync(file, "utf8")) as Known)
    : { coverage: { static: atImport, perTest: {} }, seconds: {} };
  const { coverage, seconds } = known;
  for (const one of declared) {
    if (coverage.perTest[one.name] !== undefined) continue;
    const start = performance.now();
    const passed = await passes(one);
    const took = (performance.now() - start) / 1000;
    coverage.perTest[one.name] = reached();
    if (passed) seconds[one.name] = took;
    if (!passed || took > 1)
      appendFileSync(
        join(work, "looked.txt"),
        `${passed ? took.toFixed(1) : "fails by itself"} ${one.name}\n`,
      );
  }
  write("known.json", known);
  return known;
}

interface Verdict {
  readonly mutant: number;
  readonly status: "static" | "unreached" | "killed" | "survived" | "timeout";
  readonly by?: string;
  /** Whether its last test fails without it, too, after it: something is left in memory. */
  readonly left?: boolean;
  readonly tried?: number;
  readonly reaching?: number;
  /** By name, where more are left. */
  readonly met?: readonly string[];
}

/** Shows a mutant to the tests that reach it until one notices it or the seconds are spent. */
async function meet(
  [mutant, code]: readonly [number, string],
  known: Known,
  budget: number,
  done: Set<string>,
): Promise<Verdict> {
  const { coverage, seconds } = known;
  const times = (one: Declared) => coverage.perTest[one.name]?.[mutant] ?? 0;
  const usual = (one: Declared) => seconds[one.name] ?? 0;
  const reaching = declared
    .filter((one) => times(one) > 0 && seconds[one.name] !== undefined)
    .sort((a, b) => promise(b, usual(b), code) - promise(a, usual(a), code));
  if (reaching.length === 0)
    return { mutant, status: coverage.static[mutant] ? "static" : "unreached" };
  let spent = 0;
  for (const one of reaching) {
    if (done.has(one.name)) continue;
    if (spent + usual(one) > budget) continue;
    spent += usual(one);
    done.add(one.name);
    asked.set(one.name, (asked.get(one.name) ?? 0) + 1);
    write("now.json", { mutant, test: one.name, usual: usual(one) });
    met = 0;
    most = 100 * times(one) + 1000;
    on[mutant] = 1;
    const unnoticed = await passes(one);
    on[mutant] = 0;
    if (unnoticed) continue;
    noticed.set(one.name, (noticed.get(one.name) ?? 0) + 1);
    return { mutant, status: "killed", by: one.name, left: !(await passes(one)) };
  }
  const left = done.size < reaching.length ? { met: [...done] } : {};
  return { mutant, status: "survived", tried: done.size, reaching: reaching.length, ...left };
}

/** How often a test has been asked, and has noticed something. */
const asked = new Map<string, number>();
const noticed = new Map<string, number>();
/** What a test may be hoped to notice in a second: what it has noticed, and more where its file is named like the code's or its folder. */
function promise({ name, file }: Declared, usual: number, code: string): number {
  const [folder, stem] = code.replace(".ts", "").split("/").slice(-2);
  const near = (file.includes(`/${folder}/`) ? 3 : 1) * (file.includes(stem!) ? 3 : 1);
  const share = ((noticed.get(name) ?? 0) + 0.5) / ((asked.get(name) ?? 0) + 2);
  return (near * share) / (usual + 0.2);
}

/** Every mutant for a few seconds, then those that are left for longer. */
async function meetAll({ drawn, files: codes, budget }: Plan, known: Known): Promise<void> {
  for (const part of [Math.min(FIRST, budget), budget])
    for (const [i, mutant] of drawn.entries()) {
      const file = `verdict-${mutant}.json`;
      const earlier = existsSync(join(work, file))
        ? (JSON.parse(readFileSync(join(work, file), "utf8")) as Verdict)
        : undefined;
      const { status, tried = 0, reaching = 0 } = earlier ?? {};
      const goesOn = status === "unreached" || (status === "survived" && tried < reaching);
      if (earlier && !(goesOn && part > FIRST)) continue;
      const met = new Set(earlier?.met);
      const verdict = await meet([mutant, codes[i]!], known, part, met);
      write(file, verdict);
      // the next ones must not be taken for what this one did: a new process
      if (verdict.left) throw new Error("something was left in memory");
    }
}

test("the drawn mutants", async () => {
  // what fails is not looked at more closely
  fc.configureGlobal({ ...fc.readConfigureGlobal(), endOnFailure: true });
  const plan = JSON.parse(readFileSync(join(work, "plan.json"), "utf8")) as Plan;
  for (const [name, load] of Object.entries(files)) {
    if (!new RegExp(plan.tests).test(name)) continue;
    beginFile(name.replace("../../", ""));
    await load();
  }
  const known = await lookAround();
  await meetAll(plan, known);
  write("done", true);
});

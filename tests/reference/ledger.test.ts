import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { formulaChecks } from "../../lib/proof/formulas.ts";
import { referenceCases } from "../../lib/proof/ledger.ts";
import { proof, proofCases } from "../../lib/proof/proof.ts";
import { checkCase, type ProofRow, rowNames } from "../../lib/proof/reference-run.ts";
import { solve } from "../../lib/solve/solve.ts";

// One test for each value of someone else's. A case is solved once, by the first of its tests.
for (const reference of referenceCases)
  describe(reference.id, { timeout: 60_000 }, () => {
    let rows: ProofRow[] | undefined;
    rowNames(reference).forEach((name, k) => {
      test(name, () => {
        rows ??= checkCase(reference, solve);
        held(rows[k]!);
      });
    });
  });

for (const formula of formulaChecks)
  describe(formula.case, () => {
    const { rows } = proof({ only: [formula.case] }).answer;
    for (const row of rows.filter((r) => r.case === formula.case))
      test(row.quantity, () => held(row));
  });

function held(row: ProofRow): void {
  expect(row.failure).toBeUndefined();
  expect(row.computed).not.toBeNull();
  expect(Math.abs(row.computed! - row.expected)).toBeLessThanOrEqual(row.tolerance);
  expect(row.passed).toBe(true);
}

describe("the ledger itself", () => {
  test("every file of cases is in it", () => {
    const folder = new URL("../../data/reference/", import.meta.url);
    const files = readdirSync(folder).filter((name) => !name.startsWith("whole-answers"));
    const ids = files.flatMap((name) =>
      (JSON.parse(readFileSync(new URL(name, folder), "utf8")) as { id: string }[]).map(
        ({ id }) => id,
      ),
    );
    expect(ids.sort()).toEqual(referenceCases.map(({ id }) => id).sort());
  });
  test("ids are unique, every case names a source and says why each tolerance", () => {
    const ids = proofCases().map((c) => c.id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const c of referenceCases) {
      expect(c.source.length, c.id).toBeGreaterThan(10);
      expect(c.checks.length, c.id).toBeGreaterThan(0);
      for (const check of c.checks) {
        expect(check.why.length, `${c.id} ${check.quantity}`).toBeGreaterThan(5);
        expect(check.tolerance, `${c.id} ${check.quantity}`).toBeGreaterThan(0);
        expect(["published", "closed form", "reference"]).toContain(check.kind);
        if (typeof check.expected !== "number")
          expect(check.read.at, `${c.id} ${check.quantity}`).toHaveLength(check.expected.length);
      }
    }
  });

  test("a wrong value fails: the egg with its time changed by 1 %", () => {
    const egg = referenceCases.find((c) => c.id === "boiling-egg")!;
    const [first] = egg.checks;
    const wrong = { ...egg, checks: [{ ...first!, expected: (first!.expected as number) * 1.01 }] };
    expect(checkCase(wrong, solve)[0]!.passed).toBe(false);
    expect(checkCase(egg, solve)[0]!.passed).toBe(true);
  });

  test("a run that throws fails all its rows and says what went wrong", () => {
    const egg = referenceCases.find((c) => c.id === "boiling-egg")!;
    const rows = checkCase({ ...egg, problem: { ...egg.problem, frame: "cube" } }, solve);
    expect(rows.every((r) => !r.passed && r.computed === null && r.failure !== undefined)).toBe(
      true,
    );
  });

  test("progress is told, a filter keeps to its cases, and it can be stopped", () => {
    const told: string[] = [];
    const { answer } = proof({ only: ["molded-plate"], progress: (_d, _a, id) => told.push(id) });
    expect(told).toEqual(["molded-plate", "molded-plate-film"]);
    expect(answer.cases.map((c) => c.id)).toEqual(told);
    expect(answer.failed).toBe(0);
    expect(answer.rows).toHaveLength(answer.passed);
    const stopped = proof({ only: ["molded-plate"], shouldStop: () => true }).answer;
    expect(stopped).toMatchObject({ rows: [], left: 2 });
  });
});

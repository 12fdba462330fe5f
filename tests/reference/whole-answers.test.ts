/** Whole answers against values that `independent/whole_answers.py` computed from the same jobs and the catalog alone. */
import { describe, expect, test } from "vitest";
import { answeredWhole, wholeAnswers as rows } from "../../src/cli/whole-answers.ts";

const cases = [...new Map(rows.map((r) => [`${r.job}: ${r.question}`, r])).values()];
/** Seconds each: one of a kind every day, LONG=1 all. */
const LONG =
  /^(flat, epoxy|round, aluminum|round, silicone): demold|^round, aluminum: shots|by a pot life/;
const mine = cases.filter(
  ({ job, question }) => process.env["LONG"] || !LONG.test(`${job}: ${question}`),
);

test("a dozen values at the least, each surer than what it is to judge", () => {
  expect(rows.length).toBeGreaterThanOrEqual(12);
  for (const { value, unit, error } of rows)
    expect(error).toBeLessThan(unit === "s" ? 0.01 * value : 0.1);
});

describe.each(mine)("$job: $question", ({ job, question }) => {
  const expected = rows.filter((r) => r.job === job && r.question === question);
  const found = answeredWhole(job, question);
  test.each(expected)("$what", (row) => {
    expect(Math.abs(found[row.what]! - row.value)).toBeLessThan(row.allowed);
  });
});

import { expect, test } from "vitest";
import { proof } from "../../../lib/proof/proof.ts";
import { ABOUT } from "../../../src/cli/about.ts";
import { runCommand } from "../../../src/cli/command.ts";
import { wholeAnswers } from "../../../src/cli/whole-answers.ts";
import { CHECKED } from "../../../src/messages/unchecked.ts";
import { testWorld } from "./world.ts";

test("of every question it is said what is checked from outside and what is not", () => {
  expect(Object.keys(CHECKED).sort()).toEqual([...Object.keys(ABOUT), "fit"].sort());
  for (const { outside, none } of Object.values(CHECKED))
    expect([outside.length > 0, none.length > 0]).toEqual([true, true]);
  // what is said to have whole answers has some, and the other way round
  const whole = Object.entries(CHECKED).flatMap(([question, { outside }]) =>
    outside.some((text) => text.startsWith("whole answer")) ? [question] : [],
  );
  expect(whole.sort()).toEqual([...new Set(wholeAnswers.map(({ question }) => question))].sort());
});

test.runIf(process.env["LONG"])(
  "the ledger as a document: every value, and every whole answer",
  async () => {
    const world = testWorld({});
    const code = await runCommand(["proof", "--markdown"], world);
    expect(code, world.printed).toBe(0);
    expect(world.printed.match(/^\|/gm)!.length).toBeGreaterThan(
      proof().answer.rows.length + wholeAnswers.length,
    );
  },
);

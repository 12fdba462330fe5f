import { expect, test } from "vitest";
import { runCommand } from "../../../src/cli/command.ts";
import { testWorld } from "./world.ts";

const asked = async (words: string[], job = "bait: { thickness: 16 mm, length: 100 mm }\n") => {
  const world = testWorld({ "job.yaml": job });
  const code = await runCommand(words, world);
  return { code, ...world };
};

test("every unknown option is named at once", async () => {
  const { code, complained } = await asked([
    "demold",
    "job.yaml",
    "--jsn",
    "--quik=1",
    "--jsn",
    "-q",
  ]);
  expect(code).toBe(2);
  expect(complained).toContain('There is no option "--jsn". Did you mean --json?');
  expect(complained).toContain('There is no option "--quik". Did you mean --quick?');
  expect(complained).toContain('There is no option "-q".');
  expect(complained.match(/--jsn/g)).toHaveLength(1);
});

test("one hook is not the largest and the smallest of several", async () => {
  const swim = "swim: { hook: { mass: 3 g, gap: 20 mm, at: 25 mm } }\n";
  const { printed } = await asked(
    ["swim", "job.yaml"],
    `bait: { thickness: 16 mm, length: 100 mm }\n${swim}`,
  );
  expect(printed).toContain("It clears the body.");
  expect(printed).not.toContain("the smallest:");
});

import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { pour, readJob } from "../../../lib/index.ts";
import { textOfParts } from "../../../lib/units/format.ts";
import { isProblem, readQuantity } from "../../../lib/units/quantity.ts";
import { runCommand } from "../../../src/cli/command.ts";
import type { AnswerOutput } from "../../../src/notebook/outputs/output.ts";
import { runPageText } from "../../../src/notebook/run/runner-node.ts";
import { answerShown } from "../../../src/ui/reading/shown.ts";
import { buildPrelude } from "../../../tools/vite-plugins.ts";
import { testWorld } from "./world.ts";

const JOB = `
name: Half mold, hot day
room: { temperature: 85 degF }
bait: { thickness: 5/8 in, length: 4 in }
pour: { material: filled epoxy, box: { length: 6 in, width: 5 in }, hardener: medium }
`;
const DEEPEST_LABEL = /^Deepest single pour, with room for bad luck$/;
const page = readFileSync(new URL("../../../notebooks/thick-pour.md", import.meta.url), "utf8");

async function printed(words: string[], job = JOB): Promise<string> {
  const world = testWorld({ "job.yaml": job });
  expect(await runCommand(words, world)).toBe(0);
  return world.printed;
}

describe.each(["metric", "us"])("the deepest pour that is safe, in units %s", (units) => {
  const lengthIn = (text: string, pattern: RegExp) => {
    const typed = pattern.exec(text)?.[1] ?? "";
    const read = readQuantity(typed, "length");
    if (isProblem(read)) throw new Error(`"${typed}" is no length`);
    return { typed, depth: read.value };
  };
  const DEEPEST = /[Dd]eepest single pour(?: today)?, with room for bad luck: ([^;\n]+)/;

  test("is never rounded up, and the tool agrees to pour it", async () => {
    const said = await printed(["pour", "job.yaml", "--units", units]);
    const { typed, depth } = lengthIn(said, DEEPEST);
    const { recommendedDepth, byRoom } = pour(readJob(JOB).job).answer;
    expect(depth).toBeLessThanOrEqual(recommendedDepth! + 1e-9);
    expect(depth).toBeGreaterThan(recommendedDepth! - 0.0016);
    const row =
      said.split("\n")[said.split("\n").findIndex((l) => /by the temperature/.test(l)) + 3]!;
    const cells = row.trim().split(/ {2,}/);
    byRoom.forEach(({ deepest }, i) => {
      const read = readQuantity(cells[i]!.replace(/[()]/g, ""), "length");
      expect(isProblem(read) ? Number.NaN : read.value).toBeLessThanOrEqual(deepest + 1e-9);
    });
    const poured = await printed([
      "pour",
      "job.yaml",
      "--units",
      units,
      "--set",
      `pour.depth=${typed}`,
    ]);
    expect(poured).toMatch(/Yes, in one go/);
  });

  test("reads the same on the sheet", async () => {
    const command = lengthIn(await printed(["pour", "job.yaml", "--units", units]), DEEPEST);
    const ran = await runPageText({
      text: page,
      jobText: JOB,
      prelude: await buildPrelude("full"),
      quick: false,
      milliseconds: 120_000,
    });
    const answer = ran.outputs
      .flat()
      .filter((o): o is AnswerOutput => o.kind === "answer")
      .find(({ label }) => DEEPEST_LABEL.test(label))!;
    const system = units === "us" ? "shop-us" : "metric";
    const { parts, range } = answerShown(answer, system)!;
    expect(textOfParts(parts)).toBe(command.typed);
    expect(range).toBe("");
  });
});

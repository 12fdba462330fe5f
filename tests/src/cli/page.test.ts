import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { runCommand } from "../../../src/cli/command.ts";
import { outputLines } from "../../../src/cli/page-text.ts";
import { runPageText } from "../../../src/notebook/run/runner-node.ts";
import { buildPrelude } from "../../../tools/vite-plugins.ts";
import { testWorld } from "./world.ts";

test("the evening's page says of the evening what the command says", async () => {
  const job = "bait: { thickness: 8 mm }\nrun: { molds: 2, session: 2.5 h }\n";
  const { outputs } = await runPageText({
    text: readFileSync(new URL("../../../notebooks/evening.md", import.meta.url), "utf8"),
    jobText: job,
    prelude: await buildPrelude("full"),
    quick: true,
    milliseconds: 300_000,
  });
  const page = outputs.flat().flatMap((output) => outputLines(output, "metric"));
  const command = testWorld({ "job.yaml": job });
  expect(await runCommand(["plan", "job.yaml", "--quick"], command)).toBe(0);
  const [, baits, low = baits, high = baits] = /(\d+) baits(?:, between (\d+) and (\d+))?,/.exec(
    command.printed,
  )!;
  expect(page).toContain(
    low === high
      ? `Baits this evening: ${baits}`
      : `Baits this evening: between ${low} and ${high}, most likely ${baits}`,
  );
  const [, lasts] = /and (\d.*) from heating/.exec(command.printed)!;
  expect(page.join("\n")).toContain(`about ${lasts}.`);
}, 300_000);

test("an evening too short for a shot says so, and lists no cups and shots of none", async () => {
  const world = testWorld({
    "job.yaml": "bait: { thickness: 40 mm }\nrun: { session: 5 min }\n",
  });
  expect(await runCommand(["plan", "job.yaml", "--quick"], world)).toBe(0);
  expect(world.printed).toMatch(/No shot opens before the session ends/);
  expect(world.printed).not.toMatch(/0 baits|0 cups|^Shots$|^Cups$/m);
});

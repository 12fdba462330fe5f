/** What a quick look leaves out stands right under its numbers, with the way it errs. */
import { expect, test } from "vitest";
import { readJob } from "../../../lib/job/job.ts";
import { shots } from "../../../lib/questions/shots/shots.ts";
import { runCommand } from "../../../src/cli/command.ts";
import { testWorld } from "./world.ts";

const NEIGHBORS =
  "bait: { thickness: 20 mm }\nmold: { cavities: 3, spacing: 4 mm, material: silicone, wall: 12 mm }\n";
const FLAT =
  "bait: { length: 120 mm, stations: [{ width: 40 mm, height: 10 mm, form: flat }] }\nmold: { material: plaster, wall: 25 mm }\n";
const ROUND = "bait: { thickness: 14 mm }\n";

async function headline(question: string, text: string, ...more: readonly string[]) {
  const world = testWorld({ "job.yaml": text });
  expect(await runCommand([question, "job.yaml", ...more], world)).toBe(0);
  // the name of the job, an empty line, then the headline up to the next empty one
  return world.printed.split("\n\n")[1]!;
}

test("the sentence says which way the section lies, and it does lie there", async () => {
  for (const [text, says, later] of [
    [NEIGHBORS, "opens later than this says", true],
    [FLAT, "opens sooner than this says", false],
  ] as const) {
    for (const question of ["shots", "plan"])
      expect(await headline(question, text, "--quick")).toContain(says);
    const { job } = readJob(text);
    const { settled } = shots(job, { quick: true }).answer;
    const section = shots(job, { likelyOnly: true }).answer.settled.value;
    if (later) expect(section).toBeGreaterThan(settled.high);
    else expect(section).toBeLessThan(settled.low);
  }
});

test("a quick look says that it is one, the whole answer and what has no quicker one do not", async () => {
  for (const question of ["demold", "shots", "touch", "walls", "sprue"])
    expect(await headline(question, ROUND, "--quick"), question).toContain("A quick look");
  expect(await headline("demold", ROUND)).not.toContain("quick look");
  expect(await headline("mix", ROUND, "--quick")).not.toContain("quick look");
}, 30_000);

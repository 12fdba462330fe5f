import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { readJob } from "../../../lib/job/job.ts";
import { questions } from "../../../src/cli/questions.ts";

// what a text has no room for is not computed for it: the text is the same letter for letter as of the whole answer
test.each([
  ["layer", "two-tone-belly", true],
  ["layer", "thin-skin", true],
  ["layer", "two-tone-belly", false],
  ["pour", "cold-garage", true],
  ["pour", "four-kilo-half", true],
  ["pour", "hot-garage", false],
] as const)(
  "%s of %s reads the same without what it does not show (quick: %s)",
  (name, file, quick) => {
    const url = new URL(`../../../data/jobs/${file}.yaml`, import.meta.url);
    const { job } = readJob(readFileSync(url, "utf8"));
    const question = questions.find((q) => q.name === name)!;
    const [brief, whole] = [true, false].map((only) => question.run(job, { quick, brief: only }));
    for (const system of ["shop-us", "metric"] as const) {
      const shown = question.text(brief!, job, system);
      expect(shown.headline.length).toBeGreaterThan(0);
      expect(shown).toEqual(question.text(whole!, job, system));
    }
    expect(brief!.cautions).toEqual(whole!.cautions);
  },
);

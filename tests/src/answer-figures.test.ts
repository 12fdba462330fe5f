/** Each single figure of an answer has words of its own. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { parse } from "yaml";
import { FIGURE_NAMES } from "../../src/messages/answer-figures.ts";
import { askable, type QuestionName } from "../../src/sweep/askable.ts";
import { columnsOf } from "../../src/sweep/members.ts";

const raw = parse(
  readFileSync(new URL("../../data/jobs/two-tone-belly.yaml", import.meta.url), "utf8"),
) as Record<string, unknown>;

test.each(Object.keys(askable) as QuestionName[])("%s: every figure has a name", (question) => {
  const { keys } = columnsOf({ question, raw, varied: [], quick: true });
  const bare = keys.filter((key) => !Object.hasOwn(FIGURE_NAMES, key));
  expect(bare).toEqual([]);
});

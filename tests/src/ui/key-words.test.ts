import { expect, test } from "vitest";
import { checkJob } from "../../../lib/job/job.ts";
import { InputError } from "../../../lib/units/problem.ts";
import { problemLine } from "../../../src/messages/all-problems.ts";
import { type Field, jobFields } from "../../../src/ui/job/fields.ts";
import { inLabels } from "../../../src/ui/job/key-words.ts";

test.each([
  ["mold.temperature: -5 degF is too little.", "Mold at the start: -5 degF is too little."],
  [
    "Give mold.material and pour.material as the same resin.",
    "Give \u201cMold\u201d and \u201cResin\u201d as the same resin.",
  ],
  ["pour.potLife.at: too much", "Pot life, at: too much"],
  ["mold.inserts[1].distance: 30 mm", "From the cavity to the plate: 30 mm"],
  // what is no key stays
  ["Line 3, verdict: e.g. 1.5 mm in my.yaml", "Line 3, verdict: e.g. 1.5 mm in my.yaml"],
])("%s", (text, labeled) => {
  expect(inLabels(text)).toBe(labeled);
});

test("no key of the job is left in what is said of its own problem", () => {
  const paths: string[] = [];
  const walk = (fields: readonly Field[], above: string) => {
    for (const field of fields) {
      const path = [above, field.path.at(-1)].filter(Boolean).join(".");
      if (field.kind === "group") walk(field.fields, path);
      else if (field.kind === "list")
        walk(
          [field.item(0)].flatMap((f) => (f.kind === "group" ? f.fields : [])),
          `${path}[0]`,
        );
      else paths.push(path);
    }
  };
  walk(jobFields(), "");
  expect(paths.length).toBeGreaterThan(100);
  for (const path of paths.filter((one) => one.includes(".")))
    expect(inLabels(`${path}: this is missing.`), path).not.toContain(path);
  try {
    checkJob({ bait: { thickness: "16 mm" }, mold: { temperature: "200 degC" } });
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    expect(error.problems.map((p) => inLabels(problemLine(p))).join()).not.toMatch(/mold\./);
    return;
  }
  throw new Error("it is taken");
});

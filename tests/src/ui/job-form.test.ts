import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { readJob } from "../../../lib/job/job.ts";
import { withJobValue, withOneMore } from "../../../src/ui/job/edit.ts";
import { type Field, jobFields } from "../../../src/ui/job/fields.ts";

const TEXT = `# the two-tone
name: Dune minnow
bait:
  thickness: 16 mm # at the shoulder
room: { temperature: 68 degF, air: still }
`;

test("a value is changed where it stands; comments and order stay", () => {
  const changed = withJobValue(TEXT, ["bait", "thickness"], "5/8 in");
  expect(changed).toBe(TEXT.replace("16 mm", "5/8 in"));
  expect(readJob(changed).job.bait.thickness).toBeCloseTo(0.015875, 9);
});

test("a value that was not there is added, and taken out again", () => {
  const added = withJobValue(TEXT, ["mold", "wall"], "25 mm");
  expect(readJob(added).job.mold.wall).toBeCloseTo(0.025, 9);
  expect(withJobValue(added, ["mold", "wall"], undefined)).toBe(TEXT);
});

test("a text that is no YAML is left alone", () => {
  expect(withJobValue("a: [", ["name"], "x")).toBe("a: [");
});

test("one more station is a copy of the last", () => {
  const stations = "bait:\n  stations:\n    - { at: 20 mm, width: 9 mm, height: 9 mm }\n";
  expect(readJob(withOneMore(stations, ["bait", "stations"])).job.bait.stations).toHaveLength(2);
});

function leaves(fields: readonly Field[]): string[] {
  return fields.flatMap((f) => {
    if (f.kind === "leaf") return [f.path.join(".")];
    if (f.kind === "group") return leaves(f.fields);
    const item = f.item(0);
    return item.kind === "group" ? leaves(item.fields) : [];
  });
}

test("every key of the example jobs has a field in the form, or is an outline", () => {
  const known = new Set(leaves(jobFields()));
  expect(known.size).toBeGreaterThan(60);
  const folder = new URL("../../../data/jobs/", import.meta.url);
  for (const file of readdirSync(folder)) {
    const { defaults } = readJob(readFileSync(new URL(file, folder), "utf8"));
    for (const path of defaults) {
      const plain = path.replaceAll(/\[\d+\]/g, ".0");
      const found = [...known].some((k) => k === plain || k.startsWith(`${plain}.`));
      expect(found || plain.includes("outline"), `${file}: ${path}`).toBe(true);
    }
  }
});

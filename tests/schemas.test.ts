/** The schemas that editors complete and check by are those of the readers, and take what the readers take. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { Ajv2020, type ValidateFunction } from "ajv/dist/2020.js";
import { expect, test } from "vitest";
import { parse } from "yaml";
import { jobJsonSchema } from "../lib/job/schema.ts";
import { solveJsonSchema } from "../lib/solve/schema.ts";
import { KEYS } from "../src/notebook/dials/block.ts";
import { dialSchema, pageJsonSchema } from "../src/notebook/dials/schema.ts";
import { readPage } from "../src/notebook/page/page.ts";

const root = fileURLToPath(new URL("..", import.meta.url));
const text = (path: string) => readFileSync(join(root, path), "utf8");
const namesIn = (folder: string, ending: string) =>
  readdirSync(join(root, folder)).filter((name) => name.endsWith(ending));

const ajv = new Ajv2020({ strict: false, allErrors: true });
const job = ajv.compile(jobJsonSchema());
const problem = ajv.compile(solveJsonSchema());
const page = ajv.compile(pageJsonSchema());

function told(check: ValidateFunction, data: unknown): string[] {
  return check(data) ? [] : (check.errors ?? []).map((e) => `${e.instancePath} ${e.message}`);
}

test.each([
  ["job", jobJsonSchema()],
  ["problem", solveJsonSchema()],
  ["page", pageJsonSchema()],
])(
  "schemas/%s.schema.json is what the reader goes by (npm run schemas writes it anew)",
  (name, schema) => {
    expect(JSON.parse(text(`schemas/${name}.schema.json`))).toEqual(
      JSON.parse(JSON.stringify(schema)),
    );
  },
);

test.each(namesIn("data/jobs", ".yaml"))("%s fits the schema that it names", (name) => {
  const own = text(`data/jobs/${name}`);
  expect(told(job, parse(own))).toEqual([]);
  expect(own).toMatch(/^# yaml-language-server: \$schema=..\/..\/schemas\/job.schema.json$/m);
});

test("an editor sees a wrong key, a wrong word and a bare number", () => {
  expect(told(job, { bait: { thicknes: "16 mm" } })).not.toEqual([]);
  expect(told(job, { bait: { thickness: "16 mm" }, room: { air: "windy" } })).not.toEqual([]);
  expect(told(job, { bait: { thickness: 16 } })).not.toEqual([]);
  expect(told(job, { room: { air: "still" } })).not.toEqual([]);
});

test("an editor is told of each key what it is, its range and what is usual", () => {
  const { properties } = jobJsonSchema() as {
    properties: {
      shot: { properties: { temperature: unknown; material: { examples: string[] } } };
    };
  };
  expect(properties.shot.properties.temperature).toMatchObject({
    description: expect.stringMatching(/ to .*; usual /),
    default: expect.any(String),
  });
  expect(properties.shot.properties.material.examples).toContain("soft plastisol");
});

test.each(namesIn("tests/reference/problems", ".json"))("%s fits the problem's schema", (name) => {
  expect(told(problem, JSON.parse(text(`tests/reference/problems/${name}`)))).toEqual([]);
});

test.each(namesIn("notebooks", ".md"))("the dials of %s fit the page's schema", (name) => {
  const own = text(`notebooks/${name}`);
  expect(readPage(own).problems).toEqual([]);
  for (const [, block] of own.matchAll(/^```dials\n([\s\S]*?)^```/gm))
    expect(told(page, parse(block!))).toEqual([]);
});

test("the page's schema has the keys that the reader takes", () => {
  expect(Object.keys(dialSchema.shape).sort()).toEqual([...KEYS].sort());
});

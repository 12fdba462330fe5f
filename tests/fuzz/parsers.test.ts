/**
 * Every reader of a file against mutated real files: an answer or problems of ours, soon, and nothing that steers a terminal.
 *
 * A sample every day, the whole by `npm run fuzz`: FUZZ=100000 inputs in all, FUZZ_SEED for another run; FUZZ_LAST names a
 * file that holds the input at hand, for one that never ends.
 */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import fc from "fast-check";
import { expect, test } from "vitest";
import { checkJob } from "../../lib/job/job.ts";
import { parseJobText } from "../../lib/job/text.ts";
import { withSetting } from "../../lib/job/with-setting.ts";
import { readViews } from "../../lib/shape/drawing-reading.ts";
import { readMesh } from "../../lib/shape/mesh-reading.ts";
import { readSolveProblem } from "../../lib/solve/solve.ts";
import { compileExpression } from "../../lib/units/expression.ts";
import { kinds } from "../../lib/units/kinds.ts";
import { InputError, type Problem } from "../../lib/units/problem.ts";
import { isProblem, readQuantity } from "../../lib/units/quantity.ts";
import { readBenchLog } from "../../src/cli/bench-log.ts";
import { plainText } from "../../src/cli/plain-text.ts";
import { problemLine } from "../../src/messages/all-problems.ts";
import { readDials } from "../../src/notebook/dials/dials.ts";
import { readLog } from "../../src/notebook/files/log-file.ts";
import { readPage } from "../../src/notebook/page/page.ts";
import { openJob } from "../../src/notebook/run/open-job.ts";
import { binaryStl, ellipsoid, textStl } from "../lib/shape/solids.ts";
import { mutated, mutatedBytes } from "./mutations.ts";

const LAST = process.env["FUZZ_LAST"];
const INPUTS = Number(process.env["FUZZ"] ?? 2000);
const SEED = Number(process.env["FUZZ_SEED"] ?? 20_260_128);
const IN_ALL = 100;
/** Of processor time, so that a busy machine is no fault. */
const LONGEST_MS = 1000;

const root = fileURLToPath(new URL("../..", import.meta.url));
const texts = (folder: string, ending: string) =>
  readdirSync(join(root, folder))
    .filter((name) => name.endsWith(ending))
    .map((name) => readFileSync(join(root, folder, name), "utf8"));

const DRAWINGS = [
  `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" viewBox="0 0 400 200">
  <g transform="translate(10 5) scale(1.5,-1) rotate(3)"><path id="side" d="M10 50 C 30 10 90 10 120 48 S 200 60 240 50 A 20 10 30 0 1 10 50 Z"/></g>
  <ellipse id="top" cx="120" cy="150" rx="110" ry="20"/><line id="mark" x1="0" y1="190" x2="100" y2="190"/></svg>`,
  `<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg" xmlns:x="urn:x" width="110mm" height="20mm" viewBox="0 0 110 20">
  <x:note>eye &#x41;</x:note><polygon id="side" points="0,10 20,1 60,0 110,9 110,11 60,20 20,19"/>
  <rect id="top" x="0" y="3" width="110" height="14" rx="7"/><circle cx="15" cy="8" r="2" style="display:none"/></svg>`,
  readFileSync(join(root, "src/ui/public/icon.svg"), "utf8"),
];
const SOLID = ellipsoid(110, 16, 22, 10);
const LOGS = [
  ...texts("data/logs", ".csv"),
  "time,probe\n0:00,170\n0:30,150\n1:00,131\n",
  "mold,injected,opened\n1,0 s,7 min\n2,1 min 30 s,\n",
  "Time (min);Temp [degF];mold (degF)\n0;340;70\n0,5;300;72\n1;280;75\n",
];
const QUANTITIES = [
  ...["16 mm", "5/8 in", "1 1/4 in", "0,5 mm", "338 degF", "170 °C", "2 lb 4 oz", "7 min 30 s"],
  ...["4 hours", "1500 J/(kg K)", "0.16 W/(m K)", '5 1/2"', "12 fl oz", "20 +- 2 degC"],
];
const EXPRESSIONS = ["1500 + 2.5*T", "20 + 80*min(t/600, 1)", "t < 60 ? 25 : exp(-t/90)", "-(2^T)"];

/** Problems that a reader threw; anything else thrown is a fault. */
function problemsOf(read: () => unknown): readonly Problem[] {
  try {
    const found = read() as { problems?: readonly Problem[] } | undefined;
    return found?.problems ?? [];
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    expect(error.problems.length).toBeGreaterThan(0);
    return error.problems;
  }
}

function expectTold(problems: readonly Problem[], given: string): void {
  for (const problem of problems.slice(0, 50)) {
    const line = plainText(problemLine({ ...problem, path: problem.path ?? "" }));
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
    expect(line).not.toMatch(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u2028-\u202e]/);
    // a message may show a part of the file, whatever stands there
    if (!/undefined|object/.test(given)) expect(line).not.toMatch(/\bundefined\b|\[object /);
    expect(line).not.toMatch(/\n\s+at |\.ts:\d/);
    expect(line.length).toBeLessThan(2500);
  }
}

interface Target {
  readonly name: string;
  /** Of a hundred inputs. */
  readonly share: number;
  readonly input: fc.Arbitrary<string | Uint8Array>;
  read(input: never): readonly Problem[];
}

const problemFiles = texts("tests/reference/problems", ".json").filter((t) => t.length < 20_000);
const jobFiles = texts("data/jobs", ".yaml");

/** A job that reads well with a value of it typed anew. */
const settings = fc
  .tuple(fc.constantFrom(...jobFiles), mutated(QUANTITIES), fc.nat())
  .map(([job, typed, n]) => {
    const keys = [...job.matchAll(/(\w+): [\d"]/g)].map(([, key]) => key!);
    return JSON.stringify([job, keys[n % keys.length], typed.slice(0, 400)]);
  });

const targets: readonly Target[] = [
  {
    name: "job",
    share: 24,
    input: mutated(jobFiles),
    read: (text: string) => problemsOf(() => void checkJob(parseJobText(text))),
  },
  {
    name: "value of a job",
    share: 10,
    input: settings,
    read: (packed: string) => {
      const [job, key, typed] = JSON.parse(packed) as [string, string, string];
      return problemsOf(() => void checkJob(withSetting(parseJobText(job), `shot.${key}`, typed)));
    },
  },
  {
    name: "problem",
    share: 14,
    input: mutated(problemFiles),
    read: (text: string) => {
      let data: unknown;
      try {
        data = JSON.parse(text);
      } catch {
        return []; // told by the command as `not_json`
      }
      return problemsOf(() => void readSolveProblem(data));
    },
  },
  {
    name: "page",
    share: 14,
    input: mutated([...texts("notebooks", ".md"), ...texts("tests/browser/hostile", ".md")]),
    read: (text: string) => {
      const page = readPage(text);
      const job = openJob("bait: { thickness: 16 mm }");
      const { problems } = readDials(page, "problems" in job ? undefined : job);
      return [...page.problems, ...problems].map((p) => ({ ...p, path: p.name ?? "" }) as Problem);
    },
  },
  {
    name: "log",
    share: 10,
    input: mutated(LOGS),
    read: (text: string) => problemsOf(() => void readLog(text)),
  },
  {
    name: "log of an evening",
    share: 5,
    input: mutated(LOGS),
    read: (text: string) => problemsOf(() => void readBenchLog(text)),
  },
  {
    name: "drawing",
    share: 9,
    input: mutated(DRAWINGS),
    read: (text: string) => problemsOf(() => void readViews(text, {})),
  },
  {
    name: "mesh as text",
    share: 3,
    input: mutated([new TextDecoder().decode(textStl(SOLID))]),
    read: (text: string) =>
      problemsOf(() => void readMesh(new TextEncoder().encode(text), { unit: 1e-3 })),
  },
  {
    name: "mesh",
    share: 3,
    input: mutatedBytes([binaryStl(SOLID)]),
    read: (bytes: Uint8Array) => problemsOf(() => void readMesh(bytes, { unit: 1e-3 })),
  },
  {
    name: "quantity",
    share: 5,
    input: mutated(QUANTITIES),
    read: (text: string) =>
      (Object.keys(kinds) as (keyof typeof kinds)[]).flatMap((kind) => {
        const read = readQuantity(text, kind, "bait.thickness");
        if (isProblem(read)) return [read];
        expect(Number.isFinite(read.value)).toBe(true);
        return [];
      }),
  },
  {
    name: "formula",
    share: 3,
    input: mutated(EXPRESSIONS),
    read: (text: string) => problemsOf(() => void compileExpression(text, "T")(20)),
  },
];

test("the shares are of a hundred", () => {
  expect(targets.reduce((sum, { share }) => sum + share, 0)).toBe(IN_ALL);
});

test.each(targets)(
  "$name: an answer or problems, within a second",
  ({ share, input, read }) => {
    fc.assert(
      fc.property(input, (given) => {
        if (LAST !== undefined) writeFileSync(LAST, given);
        const start = process.cpuUsage();
        const problems = read(given as never);
        const { user, system } = process.cpuUsage(start);
        expect((user + system) / 1000).toBeLessThan(LONGEST_MS);
        expectTold(problems, String(given));
      }),
      {
        seed: SEED,
        numRuns: Math.ceil((INPUTS * share) / IN_ALL),
        interruptAfterTimeLimit: 3_600_000,
      },
    );
  },
  3_600_000,
);

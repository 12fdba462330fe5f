// What a page may do, and what it may not, run without a browser.
import { expect, test } from "vitest";
import { type PageRun, runPageText } from "../../../../src/notebook/run/runner-node.ts";
import { buildPrelude } from "../../../../tools/vite-plugins.ts";

const pageOf = (body: string, head = "") => `# T\n${head}\n\`\`\`ts First\n${body}\n\`\`\`\n`;

async function run(body: string, more: Partial<PageRun> = {}) {
  return await runPageText({
    text: pageOf(body),
    prelude: await buildPrelude("shop"),
    milliseconds: 6000,
    megabytes: 96,
    ...more,
  });
}

const say = (expression: string) =>
  `let said; try { said = ${expression}; } catch (e) { said = "refused: " + e.name; }\nshow.note({ text: String(said), tone: "info" });`;

test.each([
  ["process", "typeof process"],
  ["require", "typeof require"],
  ["module", "typeof module"],
  ["fetch", "typeof fetch"],
  ["global object", "typeof globalThis + typeof global + typeof self"],
  ["timers", "typeof setTimeout + typeof setInterval + typeof queueMicrotask"],
  ["WebAssembly", "typeof WebAssembly"],
  ["shared memory", "typeof SharedArrayBuffer + typeof Atomics"],
  ["this", "typeof (function () { return this; })()"],
  ["the host's own function", "typeof tellHost"],
])("a working does not see %s", async (_, expression) => {
  const { outputs, problem } = await run(say(expression));
  expect(problem).toBeUndefined();
  expect(outputs[0]?.[0]).toMatchObject({ text: expect.stringMatching(/^(?:undefined)+$/) });
});

const JOB = "bait: { thickness: 16 mm }\n";

test.each([
  ["constructor of a function", '(() => {}).constructor("return process")()'],
  ["constructor of show", 'show.note.constructor("return process")()'],
  ["constructor of a library function", 'simulate.constructor("return process")()'],
  ["constructor of a generator", '(function* () {}).constructor("yield 1")()'],
  ["constructor of an async function", '(async () => {}).constructor("return 1")()'],
  ["constructor of the job", 'job.constructor.constructor("return process")()'],
  [
    "constructor of a list in the job",
    'job.bait.stations.constructor.constructor("return process")()',
  ],
  ["eval", 'eval("1")'],
  ["a prototype", "(Object.prototype.evil = 1)"],
  ["a prototype by its own door", "({}).__proto__.evil = 1"],
  ["a library error's class", "(InputError.prototype.evil = 1)"],
  ["setting a prototype", "Object.setPrototypeOf(Array.prototype, { evil: 1 })"],
])("a working gets no further through %s", async (_, expression) => {
  const { outputs, problem } = await run(say(expression), { jobText: JOB });
  expect(problem).toBeUndefined();
  expect(outputs[0]?.[0]).toMatchObject({ text: expect.stringMatching(/^refused: /) });
});

test("an import never comes back, and what it rejects with leads nowhere", async () => {
  const trick =
    'import("node:fs").then((m) => show.note({ text: "got it", tone: "info" }), (e) => e.constructor.constructor("return process")().exit(7));';
  const { outputs, problem } = await run(trick);
  // a busy machine may have it rejected before the run has ended: then it is told, and has found nothing
  if (problem !== undefined)
    expect(problem).toMatchObject({
      code: "fault",
      detail: "ReferenceError: process is not defined",
    });
  expect(outputs).toEqual([[]]);
});

test.each([
  ["an endless loop", "for (;;) {}", "time"],
  ["an endless recursion", "const f = () => f() + 1; f();", "memory"],
  ["a heap that only grows", "const l = []; for (;;) l.push(new Array(1000).fill(1.5));", "memory"],
  ["blocks that only grow", "const l = []; for (;;) l.push(new Float64Array(1e6));", "memory"],
  ["one huge block", "new ArrayBuffer(2 ** 33);", "memory"],
  ["copies of blocks", "let b = new Float64Array(1e6); for (;;) b = b.toReversed();", "memory"],
  ["a thrown error", 'throw new Error("no");', "error"],
  ["a thrown nothing", "throw null;", "error"],
  [
    "an error with evil getters",
    "throw { get message() { throw 1; }, get name() { for (;;); } };",
    "time",
  ],
  ["code that is none", "const = 3;", "syntax"],
  ["code that only the engine refuses", "let x = 1; let x = 2;", "syntax"],
  [
    "a number that is none",
    'show.answer({ label: "x", value: 0 / 0, low: 0, high: 1, unit: "s" });',
    "error",
  ],
  [
    "an unknown mark",
    'show.figure({ caption: "", x: { label: "" }, y: { label: "" }, marks: [{ mark: "image", data: [] }] });',
    "output",
  ],
  ["an unknown option", 'show.note({ text: "a", tone: "info", html: "<b>" });', "output"],
  [
    "a color that is an address",
    'show.figure({ caption: "", x: { label: "" }, y: { label: "" }, marks: [{ mark: "dot", data: [], fill: "url(http://a)" }] });',
    "output",
  ],
  ["a function", 'show.note({ text: () => 1, tone: "info" });', "error"],
  ["too many outputs", 'for (;;) show.note({ text: "a", tone: "info" });', "error"],
  ["too long a note", 'show.note({ text: "a".repeat(1e7), tone: "info" });', "output"],
  ["too large a table", 'show.table({ caption: "", columns: [], rows: new Array(3e6) });', "error"],
  [
    "too deep a thing",
    "let o = {}; for (let i = 0; i < 100; i++) o = { o }; show.note(o);",
    "error",
  ],
  ["a thing that holds itself", "const o = {}; o.o = o; show.note(o);", "error"],
  ["a proxy", 'show.note(new Proxy({}, { ownKeys() { throw new Error("no"); } }));', "error"],
])("%s is stopped and named", async (_, body, code) => {
  const { problem, outputs } = await run(body, { milliseconds: code === "time" ? 1500 : 15_000 });
  expect(problem).toMatchObject({ code, detail: expect.stringMatching(/./) });
  if (code !== "syntax") expect(problem?.working).toBe(0);
  expect(outputs).toHaveLength(1);
});

test("the working and the line are named, wherever they stand", async () => {
  const text = `# T\n\n\`\`\`ts One\nconst f = (x: number) => { if (x < 3) return f(x + 1);\n  throw new Error("deep"); };\n\`\`\`\n\nprose\n\n\`\`\`ts Two\nshow.note({ text: "before", tone: "info" });\nf(0);\n\`\`\`\n`;
  const { problem, outputs } = await runPageText({ text, prelude: await buildPrelude("shop") });
  expect(problem).toMatchObject({ code: "error", working: 1, line: 5, detail: "Error: deep" });
  expect(outputs[1]).toEqual([{ kind: "note", text: "before", tone: "info" }]);
});

test("getters and prototypes of what is shown stay inside: plain data comes out", async () => {
  const { outputs } = await run(`
    class Sly { get text() { return "read once"; } get tone() { return "info"; } toJSON() { return { evil: 1 }; } }
    const sly = new Sly();
    show.note({ text: sly.text, tone: "info" });
    const list = ["a"]; list.toJSON = () => "evil";
    show.table({ caption: "c", columns: [{ key: "constructor", label: "k" }], rows: [{ constructor: 1 }] });
    const bag = Object.create({ kind: "figure" }); bag.text = "t"; bag.tone = "info"; bag.kind = "answer";
    show.note(bag);
  `);
  expect(outputs[0]).toEqual([
    { kind: "note", text: "read once", tone: "info" },
    {
      kind: "table",
      caption: "c",
      columns: [{ key: "constructor", label: "k" }],
      rows: [{ constructor: 1 }],
    },
    { kind: "note", text: "t", tone: "info" },
  ]);
});

test("bad dials and an unknown dial are said before anything runs", async () => {
  const dials = "```dials\na: { label: A, value: 16 mm, max: 20 mm }\n```\n";
  const text = pageOf("for (;;) {}", dials);
  const prelude = await buildPrelude("shop");
  const wide = await runPageText({ text, prelude, dials: { a: "30 mm" } });
  expect(wide.pageProblems).toMatchObject([{ code: "dial.range", name: "a", most: "20 mm" }]);
  const unknown = await runPageText({ text, prelude, dials: { b: "30 mm" } });
  expect(unknown.pageProblems).toMatchObject([{ code: "dial.unknown", possible: ["a"] }]);
});

test("the library's ranges are shown as they come: unit by their kind, never as a word", async () => {
  const { outputs, problem } = await run(`
    show.answer({ label: "t", value: 60, low: 50, high: Infinity, kind: "duration" });
    show.answer({ label: "w", value: Infinity, low: 30, high: Infinity, kind: "duration" });
    show.answer({ label: "d", value: Infinity, low: 1, high: Infinity, kind: "length" });
    show.table({ caption: "c", columns: [{ key: "a", label: "a", unit: "mm" }, { key: "b", label: "b", unit: "min" }], rows: [
      { a: { value: 1, low: 0, high: 2, kind: "length" } }, { a: Infinity, b: Infinity }, { a: { value: 1, low: 0, high: Infinity } } ] });
  `);
  expect(problem).toBeUndefined();
  expect(outputs[0]).toMatchObject([
    { value: 60, low: 50, high: null, unit: "s" },
    { value: null, low: 30, high: null, unit: "s", instead: "never" },
    // any length is no moment that does not come
    { value: null, low: 1, high: null, unit: "mm", instead: "no limit" },
    { rows: [{ a: { value: 1, low: 0, high: 2 } }, { a: "no limit", b: "never" }, { a: 1 }] },
  ]);
});

test("errors can be made the usual ways though everything is frozen", async () => {
  const { outputs, problem } = await run(`
    class Mine extends Error { constructor(m) { super(m); this.name = "Mine"; } toString() { return "mine"; } }
    const plain = {}; plain.toString = () => "own"; plain.constructor = 3;
    const e = new Mine("m"); e.message = "changed";
    function Old() {} Old.prototype = Object.create(Error.prototype); Old.prototype.constructor = Old;
    show.note({ text: [String(plain), e.name, e.message, String(e), new Old() instanceof Error].join(), tone: "info" });
  `);
  expect(problem).toBeUndefined();
  expect(outputs[0]?.[0]).toMatchObject({ text: "own,Mine,changed,mine,true" });
});

test("of a job that can't be read its own problems are told, not that there is none", async () => {
  const head =
    "```dials\ncount: { label: Shots, kind: number, job: run.shots, min: 1, max: 9 }\n```\n";
  const codesOf = async (more: Partial<PageRun>) => {
    const { pageProblems } = await run("", { ...more, text: pageOf("", head) });
    return pageProblems.map(({ code }) => code);
  };
  expect(await codesOf({})).toEqual(["dial.noJob"]);
  expect(await codesOf({ jobText: "bait: { thickness: -3 mm }\n" })).toEqual(["too_small"]);
});

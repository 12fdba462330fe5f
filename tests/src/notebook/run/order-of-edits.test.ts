// Running a page twice, or after any edits that end in the same text, gives the same bytes.
import fc from "fast-check";
import { expect, test } from "vitest";
import { readPage, withWorking } from "../../../../src/notebook/page/page.ts";
import { withDial } from "../../../../src/notebook/page/set-dial.ts";
import { openRealm } from "./realm.ts";

/** A page whose workings try to remember something from one run to the next, in every way that a program has. */
const REMEMBERING = `# Remember

\`\`\`dials
a: { label: A, value: 16 mm }
b: { label: B, value: 2 }
\`\`\`

\`\`\`ts
let count = 0;
const seen = [];
const kept = new Map();
function bump() { count += 1; return count; }
bump.calls = (bump.calls ?? 0) + 1;
const tag = (strings: TemplateStringsArray) => strings;
const attempt = (what: () => unknown) => { try { return String(what()); } catch (e) { return e.constructor.name; } };
const traces = [
  attempt(() => { globalThis.left = (globalThis.left ?? 0) + 1; return globalThis.left; }),
  attempt(() => { this.left = (this.left ?? 0) + 1; return this.left; }),
  attempt(() => { Array.prototype.left = (Array.prototype.left ?? 0) + 1; return [].left; }),
  attempt(() => { Object.prototype.left = 1; return {}.left; }),
  attempt(() => { Math.left = (Math.left ?? 0) + 1; return Math.left; }),
  attempt(() => { simulate.left = (simulate.left ?? 0) + 1; return simulate.left; }),
  attempt(() => { InputError.prototype.left = (InputError.prototype.left ?? 0) + 1; return InputError.prototype.left; }),
  attempt(() => { show.left = 1; return show.left; }),
  attempt(() => { const t = tag\`x\`; t.left = (t.left ?? 0) + 1; return t.left; }),
  attempt(() => { RegExp.input = String(a); return RegExp.$1; }),
  attempt(() => { const was = RegExp.$1; /(\\d+)/.exec(String(a)); return was; }),
  attempt(() => { const s = Symbol.for("left"); s.description; return Symbol.keyFor(s); }),
  attempt(() => { (function* () {}).constructor.prototype.left = 1; return "set"; }),
  attempt(() => { const p = Object.getPrototypeOf(Int8Array); p.left = (p.left ?? 0) + 1; return p.left; }),
  attempt(() => { Error.stackTraceLimit = 3 + (Error.stackTraceLimit ?? 0); return Error.stackTraceLimit; }),
  attempt(() => { Float64Array.left = (Float64Array.left ?? 0) + 1; return Float64Array.left; }),
  attempt(() => Date.now()),
  attempt(() => new Date().getTime()),
  attempt(() => Math.random()),
  attempt(() => performance.now()),
  attempt(() => crypto.randomUUID()),
  attempt(() => (0.1).toLocaleString()),
  attempt(() => new Intl.DateTimeFormat().resolvedOptions().timeZone),
  attempt(() => new WeakRef({}).deref()),
  attempt(() => { job.left = 1; return job.left; }),
  ...[Promise, Int8Array, WeakMap, Object, RangeError].flatMap((kind) => {
    const { get, set } = Object.getOwnPropertyDescriptor(kind.prototype, "constructor") ?? {};
    return [get, set].map((door) => attempt(() => { door.left = (door.left ?? 0) + 1; return door.left; }));
  }),
];
seen.push(a);
kept.set(a, bump());
\`\`\`

\`\`\`ts
show.table({
  caption: "traces",
  columns: [{ key: "i", label: "i" }, { key: "t", label: "t" }],
  rows: traces.map((t, i) => ({ i, t })),
});
\`\`\`

\`\`\`ts
seen.push(b);
show.note({ text: [a, b, bump(), bump.calls, seen.length, kept.size].join(" "), tone: "info" });
\`\`\`
`;

test("nothing that a program leaves behind reaches its next run", async () => {
  const realm = await openRealm(REMEMBERING);
  const first = realm.run();
  expect(realm.run()).toBe(first);
  const other = withDial(readPage(REMEMBERING), "a", "18 mm");
  expect(realm.run(other)).not.toBe(first);
  expect(realm.run()).toBe(first);
  expect((await openRealm(REMEMBERING)).run()).toBe(first);
});

test("where a program tried to keep something, it was refused", async () => {
  const [, table] = JSON.parse((await openRealm(REMEMBERING)).run()).outputs;
  const traces = table[0].rows.map((row: { t: string }) => row.t);
  expect(traces.slice(0, 10)).toEqual(Array(10).fill("TypeError").with(0, "ReferenceError"));
  expect(traces.slice(16, 21)).toEqual([
    "ReferenceError",
    "ReferenceError",
    "TypeError",
    "ReferenceError",
    "ReferenceError",
  ]);
  expect(traces.slice(-10)).toEqual(Array(10).fill("TypeError"));
});

/** A page that computes with the library, so that remembered answers take part. */
const COMPUTING = `# Compute

\`\`\`dials
wall: { label: W, value: 20 mm, min: 5 mm, max: 60 mm }
hot: { label: H, value: 170 degC }
\`\`\`

\`\`\`ts
const plate = (thickness: number) =>
  simulate({
    frame: "slab",
    materials: { m: { name: "m", conductivity: 1, density: 1700, specificHeat: 1150 } },
    layers: [{ name: "plate", material: "m", thickness, initial: hot }],
    boundary: { left: { kind: "insulated" }, right: { kind: "held", temperature: 293.15 } },
    stages: [{ until: 600 }],
    probes: { face: { kind: "point", x: 0 } },
    times: [60, 600],
  });
\`\`\`

\`\`\`ts
const history = plate(wall);
const face = history.probes.face;
show.answer({ label: "face", value: face[1], low: face[1], high: face[0], unit: "degC" });
\`\`\`

\`\`\`ts
face[1] = 0; // an answer is a copy: this changes nothing elsewhere
const again = plate(wall).probes.face[1];
show.answer({ label: "again", value: again, low: again, high: again, unit: "degC" });
\`\`\`
`;

type Edit =
  | { kind: "dial"; name: string; value: string }
  | { kind: "working"; number: number; body: string };

function edited(text: string, edit: Edit): string {
  const page = readPage(text);
  return edit.kind === "dial"
    ? withDial(page, edit.name, edit.value)
    : withWorking(page, edit.number, edit.body);
}

const FINAL: readonly Edit[] = [
  { kind: "dial", name: "wall", value: "25 mm" },
  { kind: "dial", name: "hot", value: "338 degF" },
  {
    kind: "working",
    number: 2,
    body: 'const once = plate(wall / 2).probes.face[1];\nshow.answer({ label: "half", value: once, low: once, high: once, unit: "degC" });\n',
  },
];

const detour: fc.Arbitrary<Edit> = fc.oneof(
  fc
    .record({
      kind: fc.constant("dial" as const),
      name: fc.constantFrom("wall", "hot"),
      value: fc.constantFrom("10 mm", "33 mm"),
    })
    .map((edit) => (edit.name === "hot" ? { ...edit, value: "150 degC" } : edit)),
  fc.record({
    kind: fc.constant("working" as const),
    number: fc.constantFrom(2),
    body: fc.constantFrom(
      'show.note({ text: "on the way", tone: "info" });\n',
      "face.fill(1);\n",
      'throw new Error("half typed");\n',
    ),
  }),
);

test("any order of edits that ends in the same text gives the same bytes", async () => {
  const target = FINAL.reduce(edited, COMPUTING);
  const fresh = (await openRealm(target)).run();
  const finals = fc.shuffledSubarray([...FINAL], { minLength: FINAL.length });
  await fc.assert(
    fc.asyncProperty(fc.array(detour, { maxLength: 6 }), finals, async (detours, last) => {
      let text = COMPUTING;
      let realm: Awaited<ReturnType<typeof openRealm>> | undefined;
      let bodies = "";
      let bytes = "";
      for (const edit of [...detours, ...last]) {
        text = edited(text, edit);
        // as the browser does it: another program is another worker, other dials are the same one
        const now = readPage(text)
          .workings.map((w) => w.body)
          .join("\0");
        if (realm === undefined || now !== bodies) realm = await openRealm(text);
        bodies = now;
        bytes = realm.run(text);
      }
      expect(text).toBe(target);
      expect(bytes).toBe(fresh);
    }),
    { seed: 5, numRuns: 40 },
  );
});

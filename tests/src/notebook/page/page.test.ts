import fc from "fast-check";
import { expect, test } from "vitest";
import { readPage, withWorking } from "../../../../src/notebook/page/page.ts";

const TEXT = `# How *long*?

Some prose with \`code\`.

\`\`\`dials
thickness: { label: Thickest part, value: 16 mm, min: 1 mm, max: 60 mm }
twoColor: { label: Two colors, value: true } # a remark
\`\`\`

\`\`\`ts The answer
const x: number = thickness;
show.note({ text: String(x), tone: "info" });
\`\`\`

    \`\`\`ts
    indented: code, not a working
    \`\`\`

\`\`\`formula How it is found
t = \\frac{L^2}{a}
source: Carslaw and Jaeger 1959
holds for a slab
\`\`\`
> \`\`\`ts
> in a quotation
> \`\`\`

~~~ts
let y = 1
~~~
The end`;

test.each([
  ["*How* long?", "How long?"],
  ["1 \\* 2 &amp; `3`", "1 * 2 & 3"],
  ["\\# five &lt; six", "# five < six"],
  ["[Words][far]\n\n[far]: #/page/shots", "Words"],
])("the title of # %s is its plain text", (heading, title) => {
  expect(readPage(`# ${heading}\n`).title).toBe(title);
});

test("a page falls into passages with their lines, and its title is the first heading", () => {
  const page = readPage(TEXT);
  expect(page.title).toBe("How long?");
  expect(page.problems).toEqual([]);
  expect(page.passages.map((p) => [p.kind, p.from, p.to])).toEqual([
    ["prose", 1, 4],
    ["dials", 5, 8],
    ["prose", 9, 9],
    ["working", 10, 13],
    ["prose", 14, 18],
    ["formula", 19, 23],
    ["prose", 24, 27],
    ["working", 28, 30],
    ["prose", 31, 31],
  ]);
  expect(page.workings.map((w) => [w.name, w.bodyLine, w.body])).toEqual([
    [
      "The answer",
      11,
      'const x: number = thickness;\nshow.note({ text: String(x), tone: "info" });\n',
    ],
    ["Working 2", 29, "let y = 1\n"],
  ]);
  expect(page.dials.map((d) => [d.name, d.kind, d.value, d.line])).toEqual([
    ["thickness", "quantity", "16 mm", 6],
    ["twoColor", "flag", true, 7],
  ]);
  const formula = page.passages[5];
  expect(formula).toMatchObject({
    name: "How it is found",
    latex: "t = \\frac{L^2}{a}",
    source: "Carslaw and Jaeger 1959\nholds for a slab",
  });
});

test("the passages joined are the page, to the byte, whatever the text", () => {
  const piece = fc.constantFrom(
    "```ts\n",
    "```\n",
    "```dials\n",
    "~~~formula x\r\n",
    "~~~\r",
    "a: {label: A, value: 1 mm}\n",
    "# head\n",
    "text",
    "\r\n",
    "\r",
    "\n",
    "> quoted\n",
    "- item\n  ```ts\n",
    "   ```ts\n",
    "\u2028",
    "\t",
  );
  fc.assert(
    fc.property(fc.array(fc.oneof(piece, fc.string()), { maxLength: 30 }), (pieces) => {
      const text = pieces.join("");
      const page = readPage(text);
      expect(page.passages.map((p) => p.text).join("")).toBe(text);
      expect(page.passages.map((p) => p.text).join("")).toBe(text);
    }),
    { seed: 1, numRuns: 500 },
  );
});

test("a working gets another body; a body with fences gets a longer fence", () => {
  const page = readPage(TEXT);
  const once = withWorking(page, 1, "let y = 2");
  expect(once).toBe(TEXT.replace("let y = 1", "let y = 2"));
  const fenced = withWorking(page, 0, "const s = `\n```\n`;\n");
  const again = readPage(fenced);
  expect(again.workings.map((w) => w.body)).toEqual(["const s = `\n```\n`;\n", "let y = 1\n"]);
  expect(again.workings[0]?.name).toBe("The answer");
});

test("any body put into a working is read back as it was", () => {
  const page = readPage(TEXT);
  const line = fc.constantFrom("```", "````", "~~~", "  ```", "x = 1;", "", "`", "   ");
  fc.assert(
    fc.property(fc.array(line, { minLength: 1, maxLength: 8 }), fc.nat(1), (lines, number) => {
      const body = `${lines.join("\n")}\n`;
      expect(readPage(withWorking(page, number, body)).workings[number]?.body).toBe(body);
    }),
    { seed: 2, numRuns: 300 },
  );
});

test("mistakes in dials are listed all at once, each with its line", () => {
  const page = readPage(`# T

\`\`\`dials
thickness: { label: T, value: 16 mm, colour: red }
show: { label: S, value: 1 mm }
noLabel: { value: 3 mm }
noValue: { label: N }
hardener: { label: H, choices: [slow, fast], value: medium }
flat: 3
one: { label: O, choices: [only] }
wrong: { label: W, kind: flag, value: 3 mm }
two: { label: W, value: [1, 2] }
list: { label: W, value: true, min: 3 }
\`\`\`
`);
  expect(page.problems.map((p) => [p.line, p.code, p.name])).toEqual([
    [4, "dial.key", "thickness"],
    [5, "dial.name", "show"],
    [6, "dial.label", "noLabel"],
    [7, "dial.value", "noValue"],
    [8, "dial.choice", "hardener"],
    [9, "dial.notKeys", "flat"],
    [10, "dial.choices", "one"],
    [11, "dial.flag", "wrong"],
    [12, "dial.plain", "two"],
    [13, "dial.unfit", "list"],
  ]);
});

test.each([
  ["not YAML", "a: { label: A", "dials.yaml"],
  ["not names", "- a\n- b", "dials.notNames"],
  ["a name twice", "a: { label: A, value: 1 mm }\na: { label: B, value: 2 mm }", "dial.twice"],
  ["an alias", "a: &x { label: A, value: 1 mm }\nb: *x", "dial.notKeys"],
])("dials: %s", (_, body, code) => {
  const page = readPage(`\`\`\`dials\n${body}\n\`\`\`\n`);
  expect(page.problems.map((p) => p.code)).toContain(code);
});

test("the same name in two blocks is a mistake, and a very long page is refused", () => {
  const block = "```dials\na: { label: A, value: 1 mm }\n```\n";
  expect(readPage(`${block}\n${block}`).problems).toMatchObject([{ code: "dial.twice", line: 6 }]);
  expect(readPage("x".repeat(500_001)).problems).toMatchObject([{ code: "page.long" }]);
});

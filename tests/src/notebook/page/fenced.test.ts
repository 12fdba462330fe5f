import fc from "fast-check";
import MarkdownIt from "markdown-it";
import { expect, test } from "vitest";
import { type Fenced, fencedIn, fencedInPieces } from "../../../../src/notebook/page/fenced.ts";

/** Lines that open, go on with and close blocks of every kind, in each other, too. */
const LINES = [
  "",
  "words",
  "# A title",
  "a title",
  "===",
  "---",
  "```",
  "```ts Work",
  "~~~ formula",
  "~~~",
  "````dials",
  "    indented",
  "- item",
  "- ```ts",
  "  ```ts",
  "  ~~~",
  "  more of it",
  "   - deeper",
  "    - not an item",
  "1. first",
  "7) seventh",
  "-",
  "> quoted",
  "> ```ts",
  "> - item",
  ">   ```formula",
  "> # Quoted title",
  "[a]: b",
  "[a]:",
  "  'with a title'",
  "# Link [a]",
  "* * *",
];

/** What a reader of all of it at once finds: the parser on its own. */
function wholeOf(text: string): { first: number; after: number; word: string }[] {
  const tokens = new MarkdownIt("commonmark", { html: false }).parse(text, {});
  return tokens.flatMap(({ type, level, map, info }) => {
    const word = info.trim().split(/\s+/)[0] ?? "";
    const ours = type === "fence" && level === 0 && ["dials", "ts", "formula"].includes(word);
    return ours && map ? [{ first: map[0], after: map[1], word }] : [];
  });
}

function inPieces(text: string, most: number): { steps: number; found: Fenced } {
  const pieces = fencedInPieces(text, most);
  for (let steps = 0; ; steps++) {
    const piece = pieces.next();
    if (piece.done) return { steps, found: piece.value };
  }
}

const anyText = fc
  .array(fc.constantFrom(...LINES), { maxLength: 60 })
  .chain((lines) => fc.constantFrom("\n", "\r\n", "\r").map((ending) => lines.join(ending)));

test("a page read in pieces has the blocks and the title of the page read at once", () => {
  fc.assert(
    fc.property(anyText, fc.integer({ min: 1, max: 12 }), (text, most) => {
      const { found } = inPieces(text, most);
      expect(found.fences.map(({ first, after, word }) => ({ first, after, word }))).toEqual(
        wholeOf(text),
      );
      expect(found).toEqual(inPieces(text, 1e9).found);
    }),
    { numRuns: 3000 },
  );
});

test.each([
  ["a list", Array.from({ length: 9000 }, (_, i) => `- item ${i}`)],
  ["a list that is quoted", Array.from({ length: 9000 }, (_, i) => `> - item ${i}`)],
  ["paragraphs", Array.from({ length: 4500 }, (_, i) => `words ${i}\n`)],
])("%s of 9000 lines is read in a dozen steps", (_, lines) => {
  const text = `# Long\n\n${lines.join("\n")}\n\n\`\`\`ts\nend\n\`\`\`\n`;
  const { steps, found } = inPieces(text, 800);
  expect(steps).toBeGreaterThanOrEqual(10);
  expect(steps).toBeLessThanOrEqual(13);
  expect(found.title).toBe("Long");
  expect(found.fences).toEqual([{ first: 9003, after: 9006, word: "ts", rest: "", body: "end\n" }]);
});

test("one block that is longer than a piece is read whole", () => {
  const body = "x = 1\n".repeat(5000);
  const { fences } = fencedIn(`\`\`\`ts\n${body}\`\`\`\n\nwords\n`);
  expect(fences).toEqual([{ first: 0, after: 5002, word: "ts", rest: "", body }]);
});

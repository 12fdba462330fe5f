/** Where a page's fenced blocks of our own stand, and what it is called: CommonMark's blocks alone, read in pieces. */
import MarkdownIt from "markdown-it";

type Token = ReturnType<InstanceType<typeof MarkdownIt>["parse"]>[number];

/** Blocks only: which words of a paragraph lean or link is read when it is drawn. */
const commonMark = new MarkdownIt("commonmark", { html: false }).disable("inline");

/** Lines that are read in one go: some 10 to 20 ms. */
const PIECE = 800;
/** What holds blocks without moving them to the right: a piece may begin with any block in it. */
const FLUSH = /^(?:blockquote|bullet_list|ordered_list)_open$/;

/** A block of our own. Lines count from 0. */
interface Fence {
  readonly first: number;
  readonly after: number;
  readonly word: string;
  readonly rest: string;
  readonly body: string;
}

export interface Fenced {
  readonly fences: readonly Fence[];
  /** The words of the first heading of the first rank; empty where there is none. */
  readonly title: string;
}

/** Pieces of the text by line, endings included: the counting of lines is CommonMark's. */
export function linesOf(text: string): string[] {
  return text.match(/[^\r\n]*(?:\r\n?|\n)|[^\r\n]+$/g) ?? [];
}

/** The blocks `dials`, `ts` and `formula` of a page that stand in no other block, and its title. */
export function fencedIn(text: string): Fenced {
  const pieces = fencedInPieces(text);
  let piece = pieces.next();
  while (!piece.done) piece = pieces.next();
  return piece.value;
}

/**
 * The same, a piece of the text with each step. The last block of a piece may go on behind it, so the next piece begins
 * with that block; of a list or a quotation, with the last one that it holds. `most` lines make a piece, or twice as
 * many and more where one block is longer.
 */
export function* fencedInPieces(text: string, most = PIECE): Generator<void, Fenced> {
  const lines = linesOf(text);
  const fences: Fence[] = [];
  const references = {};
  let heading: string | undefined;
  let from = 0;
  let size = most;
  while (from < lines.length) {
    const tokens = commonMark.parse(lines.slice(from, from + size).join(""), references);
    const isLast = from + size >= lines.length;
    const cut = isLast ? lines.length - from : lastStart(tokens);
    if (cut === 0) {
      size *= 2;
    } else {
      heading ??= firstHeading(tokens, cut);
      for (const fence of ownFences(tokens, cut))
        fences.push({ ...fence, first: fence.first + from, after: fence.after + from });
      from += cut;
      size = most;
    }
    if (!isLast) yield;
  }
  return { fences, title: heading === undefined ? "" : plainText(heading, references) };
}

/** Line of the last block that stands as far left as the page does; 0 where that is the first one. */
function lastStart(tokens: readonly Token[]): number {
  let last = 0;
  // how deep the blocks are that move what they hold
  let moved = 0;
  for (const { type, nesting, map } of tokens) {
    if (moved === 0 && nesting >= 0 && map !== null) last = map[0];
    if (!FLUSH.test(nesting < 0 ? type.replace(/close$/, "open") : type)) moved += nesting;
  }
  return last;
}

function firstHeading(tokens: readonly Token[], before: number): string | undefined {
  const at = tokens.findIndex(
    ({ type, tag, map }) =>
      type === "heading_open" && tag === "h1" && map !== null && map[0] < before,
  );
  return at < 0 ? undefined : tokens[at + 1]?.content;
}

function ownFences(tokens: readonly Token[], before: number): Fence[] {
  const found: Fence[] = [];
  for (const { type, level, map, info, content } of tokens) {
    if (type !== "fence" || level !== 0 || map === null || map[0] >= before) continue;
    const [word = "", ...rest] = info.trim().split(/\s+/);
    if (word !== "dials" && word !== "ts" && word !== "formula") continue;
    found.push({ first: map[0], after: map[1], word, rest: rest.join(" "), body: content });
  }
  return found;
}

function plainText(heading: string, references: Readonly<Record<string, unknown>>): string {
  const inline: Parameters<typeof commonMark.inline.parse>[3] = [];
  commonMark.inline.parse(heading, commonMark, references, inline);
  return inline
    .filter(({ type }) => type === "text" || type === "text_special" || type === "code_inline")
    .map((t) => t.content)
    .join("")
    .trim();
}

/**
 * A page: CommonMark with three kinds of fenced blocks of our own, `dials`, `ts` and `formula`.
 *
 * The text is the truth. Reading splits it into passages whose texts, joined, are the page again to the byte;
 * every change is made to the text.
 */
import { readDialsBlock } from "../dials/block.ts";
import type { Dial, PageProblem } from "../dials/types.ts";
import { type Fenced, fencedIn, fencedInPieces, linesOf } from "./fenced.ts";
import { calmWords } from "./prose.ts";
import type { Formula, Page, Passage, Working } from "./types.ts";

/** Characters of a page past which it is not read: pages are written by hand. */
const MOST_CHARACTERS = 200_000;
const MOST_WORKINGS = 100;
/** Letters of what stands behind a fence, and of a formula's source. */
const MOST_NAME = 120;
const MOST_SOURCE = 4000;
const nameOf = (words: string) => calmWords(words).slice(0, MOST_NAME);
/** Letters of a title. */
const MOST_TITLE = 200;

/** Reads a page. Never throws: what is wrong is listed in `problems`, all at once. */
export function readPage(text: string): Page {
  return text.length > MOST_CHARACTERS ? tooLong(text) : pageOf(text, fencedIn(text));
}

/** The same in steps, with a pause after each of them: for a page that listens while it opens. */
export async function readPageInSteps(text: string, pause: () => Promise<void>): Promise<Page> {
  if (text.length > MOST_CHARACTERS) return tooLong(text);
  const pieces = fencedInPieces(text);
  let piece = pieces.next();
  for (; !piece.done; piece = pieces.next()) await pause();
  await pause();
  return pageOf(text, piece.value);
}

function tooLong(text: string): Page {
  const problem = { line: 1, given: `${text.length}`, most: `${MOST_CHARACTERS}` };
  const problems: PageProblem[] = [{ code: "page.long", ...problem }];
  return { title: "", text, passages: [], dials: [], workings: [], problems };
}

function pageOf(text: string, { fences, title }: Fenced): Page {
  const problems: PageProblem[] = [];
  const lines = linesOf(text);
  const passages: Passage[] = [];
  const dials: Dial[] = [];
  const workings: Working[] = [];
  const slice = (first: number, after: number) => lines.slice(first, after).join("");
  let reached = 0;
  const prose = (after: number) => {
    if (after <= reached) return;
    passages.push({ kind: "prose", from: reached + 1, to: after, text: slice(reached, after) });
  };
  for (const fence of fences) {
    prose(fence.first);
    const place = {
      from: fence.first + 1,
      to: fence.after,
      text: slice(fence.first, fence.after),
    };
    const bodyLine = fence.first + 2;
    if (fence.word === "ts") {
      const working: Working = {
        kind: "working",
        ...place,
        number: workings.length,
        name: nameOf(fence.rest) || `Working ${workings.length + 1}`,
        body: fence.body,
        bodyLine,
      };
      workings.push(working);
      passages.push(working);
    } else if (fence.word === "dials") {
      const read = readDialsBlock(fence.body, bodyLine, dials);
      problems.push(...read.problems);
      dials.push(...read.dials);
      passages.push({
        kind: "dials",
        ...place,
        body: fence.body,
        bodyLine,
        dials: read.dials,
      });
    } else {
      passages.push({ kind: "formula", ...place, ...formulaOf(fence.rest, fence.body) });
    }
    reached = fence.after;
  }
  prose(lines.length);
  if (workings.length > MOST_WORKINGS) {
    problems.push({
      code: "page.workings",
      line: workings[MOST_WORKINGS]?.from ?? 1,
      given: `${workings.length}`,
      most: `${MOST_WORKINGS}`,
    });
  }
  return {
    title: calmWords(title).slice(0, MOST_TITLE) || "Untitled page",
    text,
    passages,
    dials,
    workings,
    problems,
  };
}

/** LaTeX up to a line that starts with `source:`; from there on, where it is from and where it stops holding. */
function formulaOf(name: string, body: string): Pick<Formula, "name" | "latex" | "source"> {
  const lines = body.split("\n");
  const at = lines.findIndex((line) => /^source:/i.test(line.trim()));
  const latex = (at < 0 ? lines : lines.slice(0, at)).join("\n").trim();
  const source =
    at < 0
      ? ""
      : lines
          .slice(at)
          .map((line) => line.trim())
          .join("\n")
          .replace(/^source:\s*/i, "")
          .trim();
  return {
    name: nameOf(name) || "Formula",
    latex,
    source: calmWords(source).slice(0, MOST_SOURCE),
  };
}

/** The page's text with one passage written anew. */
export function withPassage(page: Page, index: number, text: string): string {
  return page.passages.map((p, i) => (i === index ? text : p.text)).join("");
}

/** The page's text with another body for a working. A fence too short for the body is made longer. */
export function withWorking(page: Page, number: number, body: string): string {
  const index = page.passages.findIndex((p) => p.kind === "working" && p.number === number);
  const passage = page.passages[index];
  if (passage === undefined) return page.text;
  return withPassage(page, index, fenced(passage.text, body));
}

function fenced(passage: string, body: string): string {
  const lines = linesOf(passage);
  const opening = lines[0] ?? "```ts\n";
  const marker = /^ {0,3}(`{3,}|~{3,})/.exec(opening)?.[1] ?? "```";
  const sign = marker[0] ?? "`";
  const longest = [...body.matchAll(new RegExp(`^\\s*(${sign}{3,})`, "gm"))].reduce(
    (most, m) => Math.max(most, m[1]?.length ?? 0),
    0,
  );
  const fence = sign.repeat(Math.max(marker.length, longest + 1));
  const ending = /[\r\n]+$/.exec(opening)?.[0] ?? "\n";
  const last = lines.at(-1) ?? "";
  const lastEnding = lines.length > 1 ? (/[\r\n]+$/.exec(last)?.[0] ?? "") : "\n";
  const head = opening.replace(marker, fence).replace(/[\r\n]+$/, "") + ending;
  const inner = body === "" || body.endsWith("\n") ? body : `${body}${ending}`;
  return `${head}${inner}${fence}${lastEnding}`;
}

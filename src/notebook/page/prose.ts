/**
 * A page's prose as HTML. Pages come from strangers: no raw HTML, no images, no address that the browser would
 * open elsewhere. Links lead to pages of this shelf; any other address is written out.
 */
import MarkdownIt from "markdown-it";

const markdown = new MarkdownIt("commonmark", { html: false, langPrefix: "code-" }).enable("table");

/** `#/page/NAME`, `#/` and the like: inside this site, by our own router. */
const INSIDE = /^#[\w/.%-]*$/;

// every address is read by the parser, and answered for below
markdown.validateLink = () => true;
const { rules, utils } = { rules: markdown.renderer.rules, utils: markdown.utils };

rules["image"] = (tokens, index) => {
  const token = tokens[index];
  const words = token?.content ?? "";
  const address = String(token?.attrGet("src") ?? "");
  return `<span class="picture-elsewhere">${utils.escapeHtml(words)} (${utils.escapeHtml(address)})</span>`;
};

rules["link_open"] = (tokens, index) => {
  const address = String(tokens[index]?.attrGet("href") ?? "");
  return INSIDE.test(address)
    ? `<a href="${utils.escapeHtml(address)}">`
    : `<span class="elsewhere">`;
};

rules["link_close"] = (tokens, index) => {
  let depth = 0;
  for (let i = index; i >= 0; i--) {
    const { type } = tokens[i] ?? { type: "" };
    if (type === "link_close") depth++;
    if (type === "link_open" && --depth === 0) {
      const address = String(tokens[i]?.attrGet("href") ?? "");
      if (INSIDE.test(address)) return "</a>";
      const words = tokens[i + 1]?.content ?? "";
      const said = words === address || safeDecode(words) === safeDecode(address);
      return said
        ? "</span>"
        : ` <span class="address">(${utils.escapeHtml(address)})</span></span>`;
    }
  }
  return "</span>";
};

// alignment of a table as a class: no style attributes
for (const kind of ["th_open", "td_open"]) {
  rules[kind] = (tokens, index) => {
    const align = /text-align:(left|center|right)/.exec(
      String(tokens[index]?.attrGet("style") ?? ""),
    )?.[1];
    const tag = kind.slice(0, 2);
    return align === undefined ? `<${tag}>` : `<${tag} class="to-${align}">`;
  };
}

// the word behind a fence says a language: letters only
rules["fence"] = (tokens, index) => {
  const token = tokens[index];
  const language = /^[a-z]{1,20}/i.exec(token?.info.trim() ?? "")?.[0];
  const open = language === undefined ? "<code>" : `<code class="code-${language.toLowerCase()}">`;
  return `<pre>${open}${utils.escapeHtml(token?.content ?? "")}</code></pre>\n`;
};

function safeDecode(address: string): string {
  try {
    return decodeURI(address);
  } catch {
    return address;
  }
}

/** Letters of a word past which it is cut: no language has such words, and setting them takes seconds. */
const LONGEST_WORD = 400;
const LONG_WORD = new RegExp(`([^\\s]{${LONGEST_WORD}})[^\\s]+`, "gu");
/** Marks stacked on one letter. */
const STACKED = /(\p{M}{6})\p{M}+/gu;
/** Letters of prose that are set in one go; one passage may hold this much, at any blank line. */
const PIECE = 6000;
/** Letters of one passage that are shown at all. */
const MOST = 120_000;

/** Words and towers of marks that would hold up the sheet, cut; the cut is shown. */
export function calmWords(text: string): string {
  return text.replace(STACKED, "$1").replace(LONG_WORD, "$1 \u2026");
}

/** Prose as HTML: safe to put into a document as it is. */
export function proseHtml(text: string): string {
  return markdown.render(calmWords(text));
}

/** Long prose in pieces that can be set one after the other, cut at blank lines outside of fences. */
export function prosePieces(text: string): readonly string[] {
  if (text.length <= PIECE) return [text];
  const shown =
    text.length <= MOST
      ? text
      : `${text.slice(0, MOST)}\n\n(${text.length - MOST} more letters are not shown.)`;
  const pieces: string[] = [];
  let piece = "";
  let isFenced = false;
  for (const line of shown.split(/(?<=\n)/)) {
    if (/^ {0,3}(?:```|~~~)/.test(line)) isFenced = !isFenced;
    if (piece.length + line.length > PIECE && (!isFenced || piece.length > 2 * PIECE)) {
      pieces.push(piece);
      piece = "";
    }
    // a line without end is cut where it stands
    for (let at = 0; at < line.length; at += PIECE) {
      piece += line.slice(at, at + PIECE);
      if (line.length - at > PIECE) {
        pieces.push(piece);
        piece = "";
      }
    }
  }
  return [...pieces, piece];
}

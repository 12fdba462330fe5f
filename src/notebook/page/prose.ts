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

/** Prose as HTML: safe to put into a document as it is. */
export function proseHtml(text: string): string {
  return markdown.render(text);
}

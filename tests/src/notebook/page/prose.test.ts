import { parseHTML } from "linkedom";
import { expect, test } from "vitest";
import { formulaHtml } from "../../../../src/notebook/page/formula.ts";
import { proseHtml } from "../../../../src/notebook/page/prose.ts";

/** Tags and attributes that prose may become. */
const TAGS = new Set(
  "P H1 H2 H3 H4 H5 H6 EM STRONG CODE PRE UL OL LI BLOCKQUOTE HR BR A SPAN TABLE THEAD TBODY TR TH TD".split(
    " ",
  ),
);

function elementsOf(html: string): Element[] {
  const { document } = parseHTML(`<!doctype html><html><body>${html}</body></html>`);
  return [...document.body.querySelectorAll("*")];
}

test.each([
  "<script>alert(1)</script>",
  "<img src=x onerror=alert(1)>",
  "<svg onload=alert(1)><use href='data:image/svg+xml,x'></svg>",
  "<style>*{background:url(http://127.0.0.1/x)}</style>",
  "<iframe src=//example.org></iframe>",
  "[a](javascript:alert(1))",
  "[a](JaVaScRiPt:alert(1))",
  "[a](data:text/html,<script>alert(1)</script>)",
  "[a](vbscript:x)",
  "[a](https://example.org/?q=1)",
  "[a](//example.org)",
  "[a](#/page/x:javascript)",
  "![pixel](https://example.org/p.png)",
  '![pixel](x.png "title\\" onload=alert(1)")',
  "<https://example.org>",
  "<javascript:alert(1)>",
  "[ref]\n\n[ref]: https://example.org 'x'",
  '```"><script>alert(1)</script>\nx\n```',
  "```x onclick=alert(1)\nx\n```",
  "| a |\n|:-:|\n| <b onclick=x>b</b> |",
  "# <a name=x>h</a>",
  "&lt;script&gt;alert(1)&lt;/script&gt;",
  "[a](\u0001javascript:alert(1))",
  "[a](%2f%2fexample.org)",
  "[x](<#/page/a b>)",
])("%j becomes harmless", (text) => {
  for (const element of elementsOf(proseHtml(text))) {
    expect(TAGS).toContain(element.tagName);
    for (const { name, value } of [...element.attributes]) {
      if (name === "href") expect(value).toMatch(/^#[\w/.%-]*$/);
      else expect([name, value]).toEqual(["class", expect.stringMatching(/^[a-z-]+$/)]);
    }
  }
});

test("addresses of elsewhere are written out, pages of the shelf are linked", () => {
  expect(proseHtml("[a source](https://example.org/paper)")).toBe(
    '<p><span class="elsewhere">a source <span class="address">(https://example.org/paper)</span></span></p>\n',
  );
  expect(proseHtml("<https://example.org/paper>")).toBe(
    '<p><span class="elsewhere">https://example.org/paper</span></p>\n',
  );
  expect(proseHtml("[next](#/page/demold)")).toBe('<p><a href="#/page/demold">next</a></p>\n');
  expect(proseHtml("![a pot](pot.png)")).toContain("a pot (pot.png)");
});

test("a formula is typeset without trust", async () => {
  expect(await formulaHtml("t = \\frac{L^2}{a}")).toContain("<math");
  for (const latex of [
    "\\href{javascript:alert(1)}{x}",
    "\\url{http://example.org}",
    "\\includegraphics{http://example.org/x.png}",
    "\\htmlStyle{background:url(x)}{x}",
    "\\def\\x{\\x\\x}\\x",
    "\\rule{99999em}{99999em}",
    "<img src=x onerror=alert(1)>",
  ]) {
    const html = await formulaHtml(latex);
    for (const element of elementsOf(html)) {
      expect(["A", "IMG", "SCRIPT", "IFRAME"]).not.toContain(element.tagName.toUpperCase());
      expect(element.getAttribute("style") ?? "").not.toContain("url");
      expect(
        [...element.attributes].map((a) => a.name).filter((n) => /^on|href|src/.test(n)),
      ).toEqual([]);
    }
  }
});

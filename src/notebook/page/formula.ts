/** A formula, typeset. KaTeX is loaded when the first formula is opened; it runs without trust in what it is given. */

const MOST_CHARACTERS = 4000;

/** HTML and MathML of the formula; what can't be typeset comes back as the text it was, marked as such. */
export async function formulaHtml(latex: string): Promise<string> {
  const { default: katex } = await import("katex");
  return katex.renderToString(latex.slice(0, MOST_CHARACTERS), {
    displayMode: true,
    throwOnError: false,
    trust: false,
    strict: "ignore",
    maxSize: 20,
    maxExpand: 500,
    output: "htmlAndMathml",
    errorColor: "currentColor",
  });
}

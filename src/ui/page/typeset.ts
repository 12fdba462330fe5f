import "katex/dist/katex.min.css";
import { formulaHtml } from "../../notebook/page/formula.ts";

export async function typeset(latex: string): Promise<string> {
  return await formulaHtml(latex);
}

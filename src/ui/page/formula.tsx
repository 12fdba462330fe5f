import { useState } from "preact/hooks";
import type { Formula } from "../../notebook/page/types.ts";
import { Scroll } from "../frame/scroll.tsx";

/** One tap away: the formula, typeset, and where it is from. The typesetter is loaded on that tap. */
export function FormulaFold({ formula }: { formula: Formula }) {
  const [html, setHtml] = useState<string | undefined>();
  const [asked, setAsked] = useState(false);
  function open(): void {
    if (asked) return;
    setAsked(true);
    void import("./typeset.ts").then(
      async (t) => setHtml(await t.typeset(formula.latex)),
      () => setHtml(undefined),
    );
  }
  return (
    <details class="closer formula" onToggle={open}>
      <summary>Formula and source: {formula.name}</summary>
      {html === undefined ? (
        <pre class="formula-box">{formula.latex}</pre>
      ) : (
        <Scroll label={`Formula: ${formula.name}`}>
          <div class="formula-box" dangerouslySetInnerHTML={{ __html: html }} />
        </Scroll>
      )}
      {formula.source.split("\n").map((line) => (
        <p class="small" key={line}>
          {line}
        </p>
      ))}
    </details>
  );
}

import { useEffect, useState } from "preact/hooks";

/** The texts with the form's labels in place of keys of the job, once the form is there. */
export function useLabels(texts: readonly string[]): readonly string[] {
  const all = texts.join("\n");
  const [labeled, setLabeled] = useState({ all, texts });
  useEffect(() => {
    if (!/[a-z]\.[a-z]/.test(all)) return;
    let live = true;
    void import("../job/key-words.ts").then(({ inLabels }) => {
      if (live) setLabeled({ all, texts: texts.map(inLabels) });
    });
    return () => {
      live = false;
    };
  }, [all]);
  return labeled.all === all ? labeled.texts : texts;
}

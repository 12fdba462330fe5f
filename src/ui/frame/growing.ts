import { useEffect, useState } from "preact/hooks";
import { nextTurn } from "./next-turn.ts";

/** A count that grows to `all` by `step` with each turn of the browser: a long list is drawn in slices. */
export function useSlices(all: number, step: number): number {
  const [grown, setGrown] = useState(step);
  useEffect(() => {
    if (grown >= all) return;
    let left = false;
    void nextTurn().then(() => {
      if (!left) setGrown(grown + step);
    });
    return () => {
      left = true;
    };
  }, [grown, all, step]);
  return Math.min(all, grown);
}

import type { DialsPassage, Passage } from "../../notebook/page/types.ts";

/** A dials passage with all that follows it up to the next one. */
interface Spread {
  readonly dials: DialsPassage | undefined;
  readonly passages: readonly Passage[];
}

export function spreadsOf(passages: readonly Passage[]): Spread[] {
  const spreads: { dials: DialsPassage | undefined; passages: Passage[] }[] = [];
  for (const p of passages) {
    if (p.kind === "dials") spreads.push({ dials: p, passages: [] });
    else {
      if (spreads.length === 0) spreads.push({ dials: undefined, passages: [] });
      spreads.at(-1)!.passages.push(p);
    }
  }
  return spreads;
}

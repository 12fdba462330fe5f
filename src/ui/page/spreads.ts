import type { Passage } from "../../notebook/page/types.ts";

/** What is set, by the names of its dials, with all that follows it. */
interface Spread {
  readonly dials: readonly string[] | undefined;
  readonly passages: readonly Passage[];
}

/** Each set of dials with what follows it up to the next one: one below the other, for a narrow sheet. */
export function spreadsOf(passages: readonly Passage[]): Spread[] {
  const spreads: { dials: readonly string[] | undefined; passages: Passage[] }[] = [];
  for (const p of passages) {
    if (p.kind === "dials") spreads.push({ dials: p.dials.map((d) => d.name), passages: [] });
    else {
      if (spreads.length === 0) spreads.push({ dials: undefined, passages: [] });
      spreads.at(-1)!.passages.push(p);
    }
  }
  return spreads;
}

/** As many dials as a window has room for. */
const ONE_COLUMN = 8;

/**
 * For a wide sheet: all that is set stands in one column beside all that it gives, in sight while one reads. `whole` are
 * the passages of the page, of which the first ones are `shown`. Where the dials are too many, as on a narrow sheet.
 */
export function wideSpreadsOf(whole: readonly Passage[], shown: readonly Passage[]): Spread[] {
  const names = whole.flatMap((p) => (p.kind === "dials" ? p.dials.map((d) => d.name) : []));
  const first = shown.findIndex((p) => p.kind === "dials");
  if (first < 0 || names.length > ONE_COLUMN) return spreadsOf(shown);
  const rest = shown.slice(first).filter((p) => p.kind !== "dials");
  const before = first > 0 ? [{ dials: undefined, passages: shown.slice(0, first) }] : [];
  return [...before, { dials: names, passages: rest }];
}

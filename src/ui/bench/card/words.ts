/** The sentences of the card. */
import type { Range } from "../../../../lib/confidence/range.ts";
import { timeText, windowTexts } from "../../../../lib/units/format.ts";
import type { CardFacts } from "../../asking/asked.ts";
import { jobFields } from "../../job/fields.ts";

/** Times for the wall, as everywhere; the sure end away from danger. A bait that is cool before its sprue has closed waits for it. */
export function openText(range: Range | null, end: "value" | "high", closed: number): string {
  if (range === null) return "never";
  return closed >= range[end]
    ? timeText(closed, "up")
    : timeText(range[end], end === "high" ? "up" : "nearest");
}

/** When the sprue has closed at the latest, s, in whichever shot it takes longest; 0 where that is not worked out. */
export function sprueClosed({ sprueCloses, sprueClosesSettled }: CardFacts): number {
  return Math.max(sprueCloses?.high ?? 0, sprueClosesSettled?.high ?? 0);
}

/** Whether some time on the card is that of the sprue and not of the bait. */
function waitsForSprue(facts: CardFacts): boolean {
  const closed = sprueClosed(facts);
  return [...facts.byShot, ...facts.byMold].some(
    ({ open }) => open !== null && open.value < closed,
  );
}

function rangeText({ low, high }: Range): string {
  return `${timeText(low, "down")} to ${timeText(high, "up")}`;
}

/** As the answer itself says it: from when until when, the best moment, and whether luck may spoil it. */
export function windowText(facts: CardFacts, mark: (path: string) => string): string {
  const { window } = facts;
  if (!window) return "no window: see the sheet on two colors";
  const { open, close, injectAt, sure, noMomentFor } = window;
  const none = noMomentFor === null ? "" : `; none for color ${noMomentFor}`;
  const star = none + mark("layer.depth");
  if (injectAt === null)
    return `not sure; likely ${timeText(open.value)} to ${timeText(close.value)}${star}`;
  const { value, low, high } = windowTexts(injectAt);
  const best = `best at ${value}`;
  if (!sure) return `${best}, not sure: with bad luck there may be none${star}`;
  // the window that is sure: what is rounded makes it shorter
  return low === high ? `${best}${star}` : `${low} to ${high}, ${best}${star}`;
}

/** What most shifts the times on the card, in this order; the rest is counted. */
const MATTERS = ["bait", "mold", "shot", "room", "limits", "layer", "run", "sprue"];
const MOST_NAMED = 5;

export function defaultWords(defaults: readonly string[]): string {
  const top = (path: string) => path.split(".")[0] ?? "";
  const here = defaults
    .filter((path) => MATTERS.includes(top(path)))
    .toSorted((a, b) => MATTERS.indexOf(top(a)) - MATTERS.indexOf(top(b)));
  const named = here.flatMap((path) => labelOf(path) ?? []).slice(0, MOST_NAMED);
  const more = here.length - named.length;
  return named.join(", ").toLowerCase() + (more > 0 ? ` and ${more} more` : "");
}

/** What the form calls it. */
function labelOf(path: string): string | undefined {
  let fields = jobFields();
  for (const key of path.split(".")) {
    const field = fields.find((f) => f.path.at(-1) === key);
    if (field?.kind === "leaf") return field.label;
    fields = field?.kind === "group" ? field.fields : [];
  }
  return undefined;
}

/** How long the injector stays on: at the first shot, and in a mold that has settled, where its sprue sets later or sooner. */
export function holdText(facts: CardFacts): string {
  const { sprueCloses, sprueClosesSettled } = facts;
  if (sprueCloses === null) return "not worked out";
  return waitsForSprue(facts)
    ? `${holdTimes(sprueCloses, sprueClosesSettled)}; opened sooner, the sprue is molten`
    : holdTimes(sprueCloses, sprueClosesSettled);
}

function holdTimes(sprueCloses: Range, sprueClosesSettled: Range | null): string {
  const first = rangeText(sprueCloses);
  const settled = sprueClosesSettled && rangeText(sprueClosesSettled);
  if (settled === null) return `${first} at the first shot; a warm mold takes longer`;
  return settled === first ? first : `${first} at the first shot, ${settled} in a settled mold`;
}

/** The sentences of the card. */
import type { Range } from "../../../../lib/confidence/range.ts";
import type { CardFacts } from "../../asking/asked.ts";
import { jobFields } from "../../job/fields.ts";
import { clockWords } from "../../reading/clock.ts";

/** Times for the wall, up to the step that their range bears out. */
export function timeText(range: Range | null, end: "value" | "high"): string {
  if (range === null) return "never";
  const step = range.high - range.low > 60 ? 10 : 5;
  return clockWords(Math.ceil(range[end] / step - 1e-9) * step);
}

export function rangeText({ low, high }: Range): string {
  return `${clockWords(low)} to ${clockWords(high)}`;
}

export function windowText(facts: CardFacts, mark: (path: string) => string): string {
  const { window } = facts;
  if (!window) return "no window: see the sheet on two colors";
  const { open, close, injectAt } = window;
  if (injectAt === null)
    return `not sure; likely ${clockWords(open.value)} to ${clockWords(close.value)}${mark("layer.depth")}`;
  return `${clockWords(open.high)} to ${clockWords(close.low)}, best at ${clockWords(injectAt)}${mark("layer.depth")}`;
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

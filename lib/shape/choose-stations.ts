/** The few sections that stand for a body: where it is thickest and thinnest, and where it would else be missed. */
import { type BodySection, bodyOf, bodyVolume } from "./body.ts";
import { measuresOf } from "./polygon.ts";
import type { Reading, Slice } from "./slice.ts";

/** A station with its name. */
export interface NamedSection extends BodySection {
  readonly name: string;
}

/** No bait needs more: each is solved, and typed into the job. */
const MOST = 9;
/** A dip or a bulge counts from this share of the thickness beside it. */
const COUNTS = 0.12;
/** From so much less volume on, if its stations are joined straight, a bait has too few of them. A guess. */
export const FEW_STATIONS = 0.1;
/** A job takes no side that is smaller, m. */
export const SMALLEST_SIDE = 5e-4;
/** Good enough: no slice is missed by more than this share of the largest. */
const CLOSE = 0.03;
/** The area of the outermost slice over the next: a paraboloid has a third, a blunt end one. */
const BLUNT = 0.7;

/**
 * Chooses stations among the slices: two at least, since one alone stands for a bar of even section.
 *
 * @example chooseStations(readViews('<svg><ellipse id="side" cx="50" cy="10" rx="50" ry="10"/></svg>',
 * { length: 0.1 })).length // 5
 */
export function chooseStations({ length, slices }: Reading): NamedSection[] {
  /** By slice; null: nothing but its place tells it, and it is numbered along the bait. */
  const named = new Map<number, string | null>();
  const thick = slices.map(({ thickness }) => thickness);
  const thickest = thick.indexOf(Math.max(...thick));
  named.set(thickest, "thickest");
  const { dips, bulges } = turningPoints(thick);
  dips.forEach((i, k) => {
    named.set(i, dips.length === 1 ? "waist" : `waist ${k + 1}`);
  });
  const others = bulges.filter((i) => i !== thickest);
  others.forEach((i, k) => {
    named.set(i, others.length === 1 ? "second bulge" : `bulge ${k + 2}`);
  });
  const last = slices.length - 1;
  const bluntNose = slices[0].area > BLUNT * slices[1].area;
  const bluntTail = slices[last].area > BLUNT * slices[last - 1].area;
  const sectionsOf = (): NamedSection[] => {
    let numbered = 0;
    const chosen = [...named.keys()]
      .filter((i) => !(bluntNose && i === 0) && !(bluntTail && i === last))
      .sort((a, b) => a - b)
      .map((i) => sectionOf(slices[i], named.get(i) ?? `section ${++numbered}`));
    const nose = sectionOf(slices[0], named.get(0) ?? "nose");
    const tail = sectionOf(slices[last], named.get(last) ?? "tail");
    return [
      ...(bluntNose ? [{ ...nose, at: 0 }] : []),
      ...chosen,
      ...(bluntTail ? [{ ...tail, at: length }] : []),
    ];
  };
  while (named.size < MOST) {
    const missed = mostMissed({ length, slices }, sectionsOf(), named);
    if (missed === undefined) break;
    named.set(missed, null);
  }
  return sectionsOf();
}

/** The slice that the body through some sections misses most; undefined: it is close enough to all of them. */
function mostMissed(
  { length, slices }: Pick<Reading, "length" | "slices">,
  sections: readonly NamedSection[],
  named: ReadonlyMap<number, string | null>,
): number | undefined {
  const largest = Math.max(...slices.map(({ area }) => area));
  const smooth = bodyOf(length, sections);
  const straight = bodyOf(length, sections, "straight");
  const few = sections.length < 2 || bodyVolume(straight) < (1 - FEW_STATIONS) * bodyVolume(smooth);
  const worstOf = (body: typeof smooth) => {
    const missed = slices.map(({ at, area, width, height }, i) =>
      named.has(i) || Math.min(width, height) < SMALLEST_SIDE
        ? 0
        : Math.abs(measuresOf(body.outlineAt(at)).area - area),
    );
    const most = Math.max(...missed);
    return { slice: missed.indexOf(most), most };
  };
  const bySmooth = worstOf(smooth);
  if (bySmooth.most > CLOSE * largest) return bySmooth.slice;
  const byStraight = worstOf(straight);
  return few && byStraight.most > 0 ? byStraight.slice : undefined;
}

function sectionOf({ at, width, height, rise, form, outline }: Slice, name: string): NamedSection {
  return { name, at, width, height, rise, form, ...(outline && { outline }) };
}

/** Lows and highs that stand out from what lies beside them; ends do not count. */
function turningPoints(values: readonly number[]): { dips: number[]; bulges: number[] } {
  const dips: number[] = [];
  const bulges: number[] = [];
  let [low, high] = [0, 0];
  let rising = true;
  for (let i = 1; i < values.length; i++) {
    if (values[i] > values[high]) high = i;
    if (values[i] < values[low]) low = i;
    if (rising && values[i] < values[high] * (1 - COUNTS)) {
      bulges.push(high);
      low = i;
      rising = false;
    } else if (!rising && values[i] > values[low] * (1 + COUNTS)) {
      dips.push(low);
      high = i;
      rising = true;
    }
  }
  return { dips, bulges };
}

/** The whole bait of a job, joined through its stations. */
import { productOf, type Range } from "../../confidence/range.ts";
import type { Bait, Station } from "../../job/types.ts";
import { memoized } from "../../numerics/memoized.ts";
import {
  type Body,
  type BodyMeasures,
  type BodySection,
  bodyMeasures,
  bodyOf,
  bodyVolume,
} from "../../shape/body.ts";

/** A station as a section of a body. */
function sectionOf({ at, width, height, form, outline, rise = 0 }: Station): BodySection {
  return { at, width, height, form, rise, ...(outline && { outline }) };
}

/**
 * The body through the stations of a bait: closed to a tip at nose and tail. Of a bait whose thickness alone is known, a
 * bar of even section, as long as the bait.
 */
export function baitBody({ length, stations }: Bait): Body {
  // a copied station says the same twice
  const sections = stations
    .map(sectionOf)
    .filter(({ at }, i) => i === 0 || at > stations[i - 1].at);
  const [only] = sections;
  if (sections.length > 1) return bodyOf(length, sections);
  return bodyOf(
    length,
    [0, length].map((at) => ({ ...only, at })),
  );
}

/** Volume, surface and moments of a bait. */
export function baitMeasures(bait: Bait): BodyMeasures {
  return memoized(measured, bait, 16, () => bodyMeasures(baitBody(bait)));
}

/** Its volume, m3. */
export function baitVolume(bait: Bait): number {
  return memoized(volumes, bait, 16, () => bodyVolume(baitBody(bait)));
}

/** By the bait itself: questions of one job share theirs. */
const volumes = new Map<Bait, number>();
const measured = new Map<Bait, BodyMeasures>();

/** Volume of a body as measured with calipers, which are off by as much on every side, m3. */
export function caliperedVolume(body: Body, off: number): Range {
  const at = (by: number) => {
    const sections = body.sections.map((s) => ({
      ...s,
      width: Math.max(s.width / 4, s.width + by),
      height: Math.max(s.height / 4, s.height + by),
    }));
    return bodyVolume(bodyOf(body.length, sections));
  };
  return { value: bodyVolume(body), low: at(-off), high: at(off) };
}

interface StationVolume extends Range {
  /** How much less straight sides between the stations would hold, as a share; 0: not less. */
  readonly straightLess: number;
  /** What most of the range comes from. */
  readonly mostly: "bait.thickness" | "bait.stations";
}

/** Volume of a body that is known at its stations alone, m3: between them its sides may run smoothly or straight. */
export function volumeByStations(body: Body, off: number): StationVolume {
  const calipered = caliperedVolume(body, off);
  const { value } = calipered;
  const straight = bodyVolume(bodyOf(body.length, body.sections, "straight")) / value;
  const joined = { value: 1, low: Math.min(1, straight), high: Math.max(1, straight) };
  const width = ({ value: middle, low, high }: Range) => (high - low) / middle;
  return {
    ...productOf(calipered, joined),
    straightLess: 1 - joined.low,
    mostly: width(joined) > width(calipered) ? "bait.stations" : "bait.thickness",
  };
}

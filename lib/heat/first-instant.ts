/**
 * What a probe reads at the very start of a stage, where bodies of different temperatures have just come together: a grid
 * has no answer then, for its cells have sizes, but the bodies have one.
 *
 * A body is everywhere at its own temperature; where two touch perfectly both faces jump to the temperature between them,
 * weighed by their effusivities; behind a contact resistance, or in air, each face is still its body's.
 *
 * @source Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. 1959, section 2.8
 */
import type { Contents } from "./contents.ts";
import { faceOfFirstContact, faceOfLaterContact } from "./first-contact.ts";
import type { FaceSide, LinkSide, Meeting, Reading } from "./probe-places.ts";
import type { StageSetup } from "./stage-setups.ts";

/** Where a stage starts anew: temperatures K. */
export type Start = Pick<StageSetup, "newT" | "setting">;

type Fill = Contents["fill"];

/**
 * The reading at the start of a stage; undefined where nothing is new and the grid's own reading holds. Of an extreme it is
 * that of the body's inside: its faces may be beyond it, see `faceAtStart`.
 */
export function firstReading(
  reading: Reading,
  start: Start,
  fill: Fill,
  T: Float64Array,
): number | undefined {
  const { newT } = start;
  if (reading.kind !== "faces") return newT[reading.region];
  let sum = 0;
  let total = 0;
  let extreme: number | undefined;
  for (const side of reading.sides) {
    const value = faceAtStart(side, start, fill, T);
    if (value === undefined) return undefined;
    sum += side.weight * value;
    total += side.weight;
    extreme =
      extreme === undefined
        ? value
        : reading.of === "hottest"
          ? Math.max(extreme, value)
          : Math.min(extreme, value);
  }
  return reading.of === "mean" ? sum / total : extreme;
}

/** Temperature of a face at the start of a stage; undefined where nothing is new beside it, or its boundary holds it. */
export function faceAtStart(
  face: FaceSide,
  start: Start,
  fill: Fill,
  T: Float64Array,
): number | undefined {
  const { newT, setting } = start;
  const { before, after, side } = face.kind === "cells" ? face.meet : meetingOf(face);
  if (after === undefined) {
    const own = face.kind === "link" ? face.link.side : undefined;
    // a face that is held is where it is held at once
    return own !== undefined && setting.boundary[own].kind === "held" ? undefined : newT[before];
  }
  if (newT[before] === undefined && newT[after] === undefined) return undefined;
  const [first, second] =
    face.kind === "cells" ? [face.cells[0], face.cells[0]] : [face.link.a, face.link.b];
  // beside a cut cell only the own side's temperature is known where it isn't new
  if (face.kind === "cells" && newT[side === "before" ? after : before] === undefined)
    return undefined;
  const a = newT[before] ?? T[first];
  const b = newT[after] ?? T[second];
  const p = fill[before];
  const q = fill[after];
  if (!p || !q) return p ? newT[before] : newT[after];
  if (setting.contact(before, after) < Number.POSITIVE_INFINITY)
    return side === "before" ? a : side === "after" ? b : 0.5 * (a + b);
  const bothNew = newT[before] !== undefined && newT[after] !== undefined;
  return bothNew ? faceOfFirstContact(p, a, q, b) : faceOfLaterContact(p, a, q, b);
}

/** Whether two bodies of one temperature each, both new in the stage, touch perfectly on a face: it keeps what it has at first. */
export function isFirstContact(face: LinkSide, { newT, setting }: Start, fill: Fill): boolean {
  const { before, after } = meetingOf(face);
  return (
    after !== undefined &&
    newT[before] !== undefined &&
    newT[after] !== undefined &&
    fill[before] !== undefined &&
    fill[after] !== undefined &&
    setting.contact(before, after) === Number.POSITIVE_INFINITY
  );
}

function meetingOf({ link, before, side }: LinkSide): Meeting {
  const after = link.b < 0 ? undefined : link.parts[before + 1]?.region;
  return { before: link.parts[before].region, after, side };
}

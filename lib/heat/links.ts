/**
 * The links of a grid, which cross interfaces, as they are filled now: connected where both sides hold matter, open
 * faces toward the surroundings where one side is empty.
 */
import type { Contents } from "./contents.ts";
import type { Link } from "./grid-links.ts";
import type { Grid } from "./grid-type.ts";
import type { Side } from "./problem.ts";
import type { Properties } from "./properties.ts";
import type { Connect, Resistance, ResistanceBuilder } from "./resistance.ts";
import { EXPOSED, type Setting, SIDES } from "./setting.ts";

/** A place where a cell faces its surroundings. */
export interface OpenFace {
  readonly cell: number;
  readonly area: number;
  /** Index of its boundary: the four sides, then what is exposed. */
  readonly kind: number;
  readonly link: Link;
  /** Cell of the link that it belongs to: 0 the first, 1 the second. */
  readonly end: 0 | 1;
  readonly resistance: Pick<Resistance, "fixed" | "slots" | "shapes">;
}

type Filling = Pick<Contents, "fill" | "active">;

/** Connects every link; returns the faces where something between its cells is empty. */
export function connectLinks(
  grid: Grid,
  { fill, active }: Filling,
  setting: Setting,
  builder: ResistanceBuilder,
  note: Connect,
): OpenFace[] {
  const faces: OpenFace[] = [];
  for (const link of grid.links) {
    const { a, b, axis } = link;
    if (link.parts.every((p) => fill[p.region])) {
      note(a, axis, wholeLink(link, fill, setting, builder));
      continue;
    }
    // something between is empty: each side that holds matter looks out through the outline
    const fromA = outward(link, 0, fill, builder, faces);
    const fromB = outward(link, 1, fill, builder, faces);
    // a sliver whose center is empty hangs on the neighbor whose center isn't
    if (fromA && !fromB && active[b] === 1) note(a, axis, fromA);
    else if (fromB && !fromA && active[a] === 1)
      note(a, axis, { ...fromB, ends: fromB.ends.map(() => 1) });
  }
  return faces;
}

/** Resistance of a link with matter all along: its parts and the contacts between them. */
function wholeLink(
  { parts, interfaces, a, b }: Link,
  fill: Filling["fill"],
  setting: Setting,
  builder: ResistanceBuilder,
): Resistance {
  const sum = builder.none();
  parts.forEach((part, k) => {
    builder.add(sum, fill[part.region] as Properties, part.end === 0 ? a : b, part);
    if (k < interfaces.length && interfaces[k] > 0)
      builder.addContact(sum, setting.contact(part.region, parts[k + 1].region), interfaces[k]);
  });
  return sum;
}

/** From a cell of a link to the first empty part: its resistance, and the open face there; undefined: the cell is empty. */
function outward(
  link: Link,
  end: 0 | 1,
  fill: Filling["fill"],
  builder: ResistanceBuilder,
  faces: OpenFace[],
): Resistance | undefined {
  const { parts, interfaces } = link;
  const step = end === 0 ? 1 : -1;
  const cell = end === 0 ? link.a : link.b;
  let k = end === 0 ? 0 : parts.length - 1;
  if (!fill[parts[k].region]) return undefined;
  const resistance = builder.none();
  for (; k >= 0 && k < parts.length && fill[parts[k].region]; k += step)
    builder.add(resistance, fill[parts[k].region] as Properties, cell, {
      shape: parts[k].shape,
      end: 0,
    });
  const area = end === 0 ? interfaces[k - 1] : interfaces[k];
  if (area > 0) faces.push({ cell, area, kind: EXPOSED, resistance, link, end });
  return resistance;
}

/** The faces at the four sides, or at what is left standing before an empty part there. */
export function outerFaces(
  grid: Grid,
  { fill }: Filling,
  setting: Setting,
  builder: ResistanceBuilder,
): OpenFace[] {
  const faces: OpenFace[] = [];
  for (const link of grid.faces) {
    const { parts, interfaces, a, side } = link;
    if (!fill[parts[0].region]) continue;
    const resistance = builder.none();
    let k = 0;
    for (; k < parts.length && fill[parts[k].region]; k++) {
      builder.add(resistance, fill[parts[k].region] as Properties, a, {
        shape: parts[k].shape,
        end: 0,
      });
      if (k + 1 < parts.length && interfaces[k] > 0 && fill[parts[k + 1].region])
        builder.addContact(
          resistance,
          setting.contact(parts[k].region, parts[k + 1].region),
          interfaces[k],
        );
    }
    const whole = k === parts.length;
    const area = whole ? link.area : interfaces[k - 1];
    const kind = whole ? SIDES.indexOf(side as Side) : EXPOSED;
    if (whole || area > 0) faces.push({ cell: a, area, kind, resistance, link, end: 0 });
  }
  return faces;
}

/** Outer faces of cells that an outline cuts: what lies on the way in a row, and where something on it is empty. */
import { describe, expect, test } from "vitest";
import { isMoving } from "../../../lib/heat/boundary.ts";
import type { Grid } from "../../../lib/heat/grid-type.ts";
import { outerFaces } from "../../../lib/heat/links.ts";
import { propertiesOf } from "../../../lib/heat/properties.ts";
import { ResistanceBuilder } from "../../../lib/heat/resistance.ts";
import { EXPOSED, type Setting, SIDES } from "../../../lib/heat/setting.ts";

const made = (conductivity: number) =>
  propertiesOf({ name: "m", conductivity, density: 1000, specificHeat: 1000 }, 250, 500);
const [p, q] = [made(0.5), made(2)];

/** The face of cell 7 at the top, through parts of these regions, 3 and 5 1/m long, over an interface between. */
function topFace(
  regions: readonly number[],
  interfaces: readonly number[],
  fill: readonly (typeof p | undefined)[] = [p, q],
) {
  const parts = regions.map((region, k) => ({ region, shape: [3, 5][k]!, end: 0 }));
  const link = { a: 7, b: -1, axis: 1, side: "top", parts, interfaces, places: [], area: 0.02 };
  const setting = {
    contact: (a: number, b: number) => (a === b ? 1e-9 : 400),
  } as unknown as Setting;
  const active = new Uint8Array(8).fill(1);
  const grid = { faces: [link] } as unknown as Grid;
  return outerFaces(grid, { fill, active }, setting, new ResistanceBuilder(fill));
}

describe("a face beyond an outline", () => {
  test("has both parts and the contact between them before it", () => {
    const [face, ...rest] = topFace([0, 1], [0.01]);
    expect(rest).toEqual([]);
    expect(face).toMatchObject({ cell: 7, area: 0.02, kind: SIDES.indexOf("top"), end: 0 });
    expect(face!.resistance.fixed).toBeCloseTo(3 / 0.5 + 1 / (400 * 0.01) + 5 / 2, 12);
  });
  test("has no contact where the region stays, nor beyond its last part", () => {
    expect(topFace([0, 0], [0])[0]!.resistance.fixed).toBeCloseTo(8 / 0.5, 12);
    expect(topFace([0], [])[0]!.resistance.fixed).toBeCloseTo(3 / 0.5, 12);
  });
  test("looks out at the outline where what lies beyond is empty, if it meets it at all", () => {
    const [face] = topFace([0, 1], [0.01], [p, undefined]);
    expect(face).toMatchObject({ cell: 7, area: 0.01, kind: EXPOSED, end: 0 });
    expect(face!.resistance.fixed).toBeCloseTo(3 / 0.5, 12);
    expect(topFace([0, 1], [0], [p, undefined])).toEqual([]);
    expect(topFace([0, 1], [0.01], [undefined, q])).toEqual([]);
  });
});

test("a boundary moves where one of its laws is a table or a function", () => {
  const table = { t: [0, 1], value: [300, 310] };
  for (const law of [table, (t: number) => 300 + t]) {
    expect(isMoving({ kind: "held", temperature: law })).toBe(true);
    expect(isMoving({ kind: "flux", flux: law })).toBe(true);
    expect(isMoving({ kind: "exchange", h: law, ambient: 300 })).toBe(true);
    expect(isMoving({ kind: "exchange", h: 5, ambient: law })).toBe(true);
  }
  expect(isMoving({ kind: "held", temperature: 300 })).toBe(false);
  expect(isMoving({ kind: "flux", flux: 300 })).toBe(false);
  expect(isMoving({ kind: "exchange", h: 5, ambient: 300, emissivity: 0.9 })).toBe(false);
  expect(isMoving({ kind: "insulated" })).toBe(false);
});

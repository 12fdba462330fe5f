/** The path from cell to cell through what a line crosses: cut at every outline and at the face between, by hand. */
import { expect, test } from "vitest";
import { facesOf, type Line, type Link, linksAlong } from "../../../lib/heat/grid-links.ts";

const AT = [0, 2.5, 4, 7.3, 7.8, 12];
const REGION = [0, 1, 2, 0, 3];
const NORMAL = [0.8, 1, 0.5, 0.7];
const FACES = Float64Array.of(0, 2, 4, 6, 8, 10, 12);
const CENTERS = Float64Array.of(1, 3, 5, 7, 9, 11);
const CONTENT = [0, -1, 2, -2, 3, 3];

/** Resistance grows as around an axis, area with the place. */
const shape = (p: number, q: number) => Math.log((q + 1) / (p + 1));
const area = (p: number) => 2 * (p + 1);

function lineOf(more: Partial<Line> = {}): Line {
  return {
    scan: { at: AT, region: REGION, normal: NORMAL },
    axis: 0,
    n: 6,
    faces: FACES,
    centers: CENTERS,
    first: 0,
    stride: 1,
    shape,
    area,
    ...more,
  };
}

/** From one place to another: a part for each stretch, cut once more at `split`. */
function pathBetween(
  from: number,
  to: number,
  split: number,
): Pick<Link, "parts" | "interfaces" | "places"> {
  const outlines = AT.slice(1, -1);
  const places = [...new Set([...outlines, split])]
    .filter((at) => at > from && at < to)
    .sort((a, b) => a - b);
  const ends = [from, ...places, to];
  const parts = ends.slice(1).map((end, k) => {
    const middle = (ends[k]! + end) / 2;
    return {
      region: REGION[AT.findLastIndex((at) => at < middle)]!,
      shape: shape(ends[k]!, end),
      end: middle < split ? (0 as const) : (1 as const),
    };
  });
  const interfaces = places.map((at) => {
    const k = outlines.indexOf(at);
    return k < 0 ? 0 : area(at) * NORMAL[k]!;
  });
  return { parts, interfaces, places };
}

test("links lead from center to center wherever the two are not full of one region", () => {
  for (const [axis, first, stride] of [
    [0, 0, 1],
    [0, 30, 1],
    [1, 4, 7],
  ] as const) {
    const content = new Int32Array(60).fill(-9);
    CONTENT.forEach((one, k) => {
      content[first + k * stride] = one;
    });
    const links: Link[] = [];
    linksAlong(lineOf({ axis, first, stride }), content, links);
    expect(links).toEqual(
      [0, 1, 2, 3].map((k) => ({
        a: first + k * stride,
        b: first + (k + 1) * stride,
        axis,
        area: area(FACES[k + 1]!),
        ...pathBetween(CENTERS[k]!, CENTERS[k + 1]!, FACES[k + 1]!),
      })),
    );
  }
});

test("two cut cells beside each other are linked, though both hold the same", () => {
  const links: Link[] = [];
  linksAlong(lineOf(), Int32Array.of(-1, -1, 2, 2, 2, 2), links);
  expect(links.map(({ a }) => a)).toEqual([0, 1]);
  linksAlong(lineOf(), Int32Array.of(5, 5, 5, 5, 5, 5), links);
  expect(links).toHaveLength(2);
});

test("faces lead from the outer centers outwards, whatever lies there", () => {
  for (const axis of [0, 1] as const) {
    const found: Link[] = [];
    const wide = lineOf({
      axis,
      first: 10,
      stride: 3,
      n: 2,
      faces: Float64Array.of(0, 6, 12),
      centers: Float64Array.of(3, 9),
    });
    facesOf(wide, found);
    const left = pathBetween(0, 3, 3);
    const right = pathBetween(9, 12, 12);
    expect(found).toEqual([
      {
        a: 10,
        b: -1,
        axis,
        side: axis === 0 ? "left" : "bottom",
        area: area(0),
        parts: [...left.parts].reverse(),
        interfaces: [...left.interfaces].reverse(),
        places: [...left.places].reverse(),
      },
      { a: 13, b: -1, axis, side: axis === 0 ? "right" : "top", area: area(12), ...right },
    ]);
    expect(left.parts).toHaveLength(2);
  }
  // from the outermost center through three regions
  const found: Link[] = [];
  facesOf(lineOf({ n: 1, faces: Float64Array.of(0, 12), centers: Float64Array.of(6) }), found);
  expect(found[0]!.parts.map(({ region }) => region)).toEqual([2, 1, 0]);
  expect(found[0]!.places).toEqual([4, 2.5]);
  expect(found[1]).toMatchObject(pathBetween(6, 12, 12));
});

test("an axis is no face", () => {
  const found: Link[] = [];
  facesOf(lineOf({ area: (p) => p }), found);
  expect(found.map(({ side }) => side)).toEqual(["right"]);
});

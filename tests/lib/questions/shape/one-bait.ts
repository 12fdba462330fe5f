/** One invented bait in the three forms in which a shop may have it: caliper stations, a drawing, a mesh. */
import { type Body, bodyOf } from "../../../../lib/shape/body.ts";
import { type Corner, surface, type Triangle } from "../../shape/solids.ts";

/** From the nose, width, height; mm. */
export const CALIPERS: readonly (readonly [number, number, number])[] = [
  [5, 6, 6],
  [15, 12, 14],
  [32, 15, 18],
  [55, 11, 13],
  [75, 5, 6],
  [85, 3.2, 4],
  [97, 4, 9],
  [106, 3, 8],
];
export const LENGTH = 110;

export const body: Body = bodyOf(
  LENGTH / 1000,
  CALIPERS.map(([at, w, h]) => ({
    at: at / 1000,
    width: w / 1000,
    height: h / 1000,
    form: "round",
  })),
);

export const job = `name: Three forms
bait:
  length: ${LENGTH} mm
  stations:
${CALIPERS.map(([at, w, h]) => `    - { at: ${at} mm, width: ${w} mm, height: ${h} mm, form: round }`).join("\n")}
`;

/** In mm, the nose at x = 0, z up. */
export function mesh(around = 96, along = 160): Triangle[] {
  return surface(around, along, (u, v): Corner => {
    const x = (LENGTH * (1 - Math.cos(Math.PI * v))) / 2;
    if (v === 0 || v === 1) return [x, 0, 0];
    const outline = body.outlineAt(x / 1000);
    const at = u * outline.length;
    const [a, b] = [outline[Math.floor(at)]!, outline[(Math.floor(at) + 1) % outline.length]!];
    const s = at - Math.floor(at);
    return [x, 1000 * (a[0] + s * (b[0] - a[0])), 1000 * (a[1] + s * (b[1] - a[1]))];
  });
}

/** Side and top view at two units to the mm, with a mark of 50 mm. */
export function drawing(change: (svg: string) => string = (svg) => svg): string {
  const view = (half: (x: number) => number, y: number) => {
    const at = Array.from(
      { length: 121 },
      (_, i) => (LENGTH * (1 - Math.cos((Math.PI * i) / 120))) / 2,
    );
    const point = (x: number, side: 1 | -1) =>
      `${(2 * x + 20).toFixed(2)},${(y - side * 2000 * half(x / 1000)).toFixed(2)}`;
    return [
      ...at.map((x) => point(x, 1)),
      ...at
        .slice(1, -1)
        .reverse()
        .map((x) => point(x, -1)),
    ].join(" ");
  };
  return change(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 260 200">
  <g transform="translate(0 10)"><polygon id="side" points="${view((x) => body.sizeAt(x).height / 2, 50)}"/></g>
  <polygon id="top" points="${view((x) => body.sizeAt(x).width / 2, 120)}"/>
  <path id="mark" d="M20 180 h100"/>
</svg>`);
}

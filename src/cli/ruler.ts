/** A ruler to print at its true size: it reads the bait while it measures the larger master. */
import type { UnitSystem } from "../../lib/units/display.ts";

/** Fits a sheet of paper, m. */
const LONGEST = 0.25;
const MARGIN = 8; // mm
const HEIGHT = 34; // mm

interface Marks {
  /** Of one mark, m; in units of the reader. */
  readonly step: number;
  /** So many marks to a number. */
  readonly numbered: number;
  readonly unit: string;
  readonly long: (k: number) => number; // mm
}

const MARKS: Readonly<Record<"metric" | "us", Marks>> = {
  metric: {
    step: 1e-3,
    numbered: 10,
    unit: "mm",
    long: (k) => (k % 10 === 0 ? 12 : k % 5 === 0 ? 9 : 6),
  },
  us: {
    step: 0.0254 / 16,
    numbered: 16,
    unit: "in",
    long: (k) => (k % 16 === 0 ? 12 : k % 8 === 0 ? 10 : k % 4 === 0 ? 8 : k % 2 === 0 ? 6 : 4),
  },
};

/**
 * A shrink ruler as an SVG of its true size.
 *
 * @param scale size of the master over that of the bait
 * @param length of the bait, m: the ruler is a little longer, as far as a sheet allows
 */
export function rulerSvg(scale: number, length: number, system: UnitSystem): string {
  const marks = MARKS[system === "metric" ? "metric" : "us"];
  const most = Math.min(LONGEST / scale, length + 0.02);
  const count = Math.floor(most / marks.step);
  const mm = (k: number) => Number((MARGIN + k * marks.step * scale * 1000).toFixed(4));
  const width = Math.ceil(mm(count) + MARGIN);
  const lines = Array.from(
    { length: count + 1 },
    (_, k) => `<path d="M${mm(k)} 4v${marks.long(k)}"/>`,
  );
  const numbers = Array.from({ length: Math.floor(count / marks.numbered) + 1 }, (_, n) => {
    const k = n * marks.numbered;
    const value = marks.unit === "mm" ? k : n;
    return `<text x="${mm(k)}" y="21" text-anchor="middle">${value}</text>`;
  });
  const check = marks.unit === "mm" ? 50 : 50.8;
  const larger = ((scale - 1) * 100).toFixed(2);
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${HEIGHT}mm" viewBox="0 0 ${width} ${HEIGHT}" font-family="sans-serif" font-size="4">
<g stroke="#000" stroke-width="0.2" fill="none">${lines.join("")}<path d="M${MARGIN} 4H${mm(count)}"/><path d="M${MARGIN} 26v3m0 -1.5h${check}m0 -1.5v3"/></g>
${numbers.join("")}
<text x="${MARGIN}" y="33" font-size="3">Reads the bait in ${marks.unit}, measures a master ${larger} % larger. Print at 100 %: this bar is ${marks.unit === "mm" ? "50 mm" : "2 in"} long.</text>
</svg>
`;
}

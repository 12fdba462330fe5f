/**
 * Molds with sheets, shells and tubes of metal: times at which the center reaches 50 degC, by fitted triangles of degree 2 and an
 * implicit march of the enthalpy, refined until four digits stood (`independent/finite_elements_sections.py`).
 */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { solve } from "../../lib/index.ts";

const CROSSINGS: readonly (readonly [file: string, seconds: number])[] = [
  ["alu-shell-1.5mm-curved", 630.06],
  ["copper-tubes-water-h3000", 585.48],
  ["round-alu-shell-1.5mm-curved", 404.62],
  ["aluminum-mold", 470.19],
  ["round-aluminum-mold", 337.79],
  ["steel-plate-6mm-behind", 630.99],
  ["steel-sheet-1mm-behind", 654.81],
  ["round-steel-sheet-1mm-behind", 425.25],
  ["epoxy-mold", 682.83],
];

const problem = (file: string): unknown =>
  JSON.parse(readFileSync(new URL(`problems/${file}.json`, import.meta.url), "utf8"));

test.each(CROSSINGS)("%s: the center is at 50 degC after %d s", (file, seconds) => {
  const { crossings, effort } = solve(problem(`mold-${file}`));
  const { time, error } = crossings[0] ?? { time: null, error: 0 };
  expect(time).not.toBeNull();
  // what is said of the error holds; the reference has two decimals
  expect(Math.abs((time ?? 0) - seconds)).toBeLessThan(error + 0.01);
  // the default grid keeps two parts in a thousand
  expect(Math.abs((time ?? 0) / seconds - 1)).toBeLessThan(2e-3);
  // what the grid cuts by the size of the sheet along the sheet took up to 1.8 million cells and 19 000 steps
  expect(effort.cells).toBeLessThan(20_000);
  expect(effort.steps).toBeLessThan(200);
});

/** No independent value: thin layers that went unsolved for want of a grid, held to each other. */
test("a glue line of 0.05 mm and one of 0.2 mm are solved, and are near each other", () => {
  const [thin, thick] = ["glue-line-0.05mm", "glue-line-0.2mm"].map((f) =>
    solve(problem(`mold-${f}`)),
  );
  const [a, b] = [thin?.crossings[0]?.time ?? 0, thick?.crossings[0]?.time ?? 0];
  expect(thin?.effort.cells).toBeLessThan(5000);
  expect(Math.abs(a / b - 1)).toBeLessThan(0.01);
});

/**
 * A wall whose aluminum reaches 1.5 mm thick into its insulation, after 10 s: rectangular volumes of 54 x 49 to 141 x 130 cells
 * with a two-stage diagonally implicit method and sparse elimination, no code shared with the engine; D, where three materials
 * meet, extrapolated.
 */
const BRIDGES: readonly (readonly [string, Readonly<Record<string, number>>])[] = [
  [
    "iso-section-10s",
    { A: 6.521, B: 2.597, C: 7.258, D: 5.999, F: 14.649, G: 14.58, H: 15.006, I: 16.609 },
  ],
  [
    "iso-round-10s",
    { A: 4.791, B: 2.597, C: 5.453, D: 4.471, F: 12.867, G: 12.715, H: 16.357, I: 16.741 },
  ],
];

test.each(BRIDGES)(
  "%s: every point of the bridge, those where materials meet on a face, too",
  (file, at) => {
    const { probes, effort } = solve({ ...Object(problem(file)), mostCells: 9000 });
    for (const [name, T] of Object.entries(at))
      expect(Math.abs((probes[name]?.[0] ?? 0) - T), name).toBeLessThan(0.02);
    expect(effort.steps).toBeLessThan(50);
  },
);

/** Every picture of the command: in the units that it names, lines as lines, and no word of the plot library's own. */
import { afterEach, expect, test, vi } from "vitest";
import { readJob } from "../../../lib/job/job.ts";
import { questions } from "../../../src/cli/questions.ts";
import { svgFiles } from "../../../src/cli/svg.ts";

afterEach(() => vi.restoreAllMocks());

const JOBS = [
  `bait: { length: 120 mm, stations: [ { at: 2 mm, width: 6 mm, height: 7 mm }, { at: 45 mm, width: 18 mm, height: 24 mm }, { at: 98 mm, width: 4 mm, height: 6 mm } ] }
mold: { wall: 15 mm }
run: { shots: 5, molds: 2, session: 1 h }`,
  `bait: { thickness: 5/8 in, length: 4 in }
run: { shots: 3, preheat: 100 degF, session: 1 h }
limits: { wall: 160 degF }`,
];

/** How many of a unit are in one of SI's: NIST SP 811 (2008), appendix B. */
const IN_SI: Readonly<Record<string, (si: number) => number>> = {
  mm: (m) => m * 1000,
  in: (m) => m / 0.0254,
  "\u00b0C": (K) => K - 273.15,
  "\u00b0F": (K) => (K - 273.15) * 1.8 + 32,
  s: (s) => s,
  min: (s) => s / 60,
  h: (s) => s / 3600,
  "": (n) => n,
};

interface Axis {
  readonly unit: string;
  readonly figures: readonly number[];
}

/** Both axes as they are read off: their figures, and the unit in the title block. */
function axesOf(svg: string): { across: Axis; up: Axis } {
  const frame = /<g class="frame">.*?<\/g>/s.exec(svg)![0];
  const texts = [...frame.matchAll(/<text([^>]*)>([^<]*)</g)].map(([, how, words]) => ({
    how: how!,
    words: words!,
  }));
  const figures = (anchor: string) =>
    texts
      .filter(({ how }) => how.includes(`text-anchor="${anchor}"`))
      .map(({ words }) => {
        const [whole, part] = words.split(":").map(Number);
        return whole! + (part ?? 0) / 60;
      });
  const titled = (name: string) => {
    const at = texts.findIndex(({ words }) => words === name);
    return /\(([^()]*)\)$/.exec(texts[at + 1]?.words ?? "")?.[1] ?? "";
  };
  return {
    across: { unit: titled("across"), figures: figures("middle") },
    up: { unit: titled("up"), figures: figures("end") },
  };
}

/** Paths to numbers of the answer that its picture has to hold, SI: within the figures of its axis, and a step beyond. */
const HELD: Readonly<Record<string, { readonly across?: string; readonly up?: string }>> = {
  "shape-side": { across: "length" },
  "shape-top": { across: "length" },
  "shape-sections": { across: "sections.0.width" },
  demold: { across: "time.value", up: "limit" },
  shots: { across: "shots.length", up: "first.value" },
  "pour-course": { up: "peak.value" },
  "pour-depth": { up: "peak.value" },
  walls: { across: "points.1.wall", up: "points.0.wallPeak" },
  "touch-air": { up: "core.value" },
  "touch-water": { up: "core.value" },
  plan: { across: "shots.0.opened", up: "shots.0.mold" },
};

const numberAt = (answer: unknown, path: string): number => {
  const value = path
    .split(".")
    .reduce<unknown>((at, key) => (at as Record<string, unknown>)[key], answer);
  if (typeof value !== "number") throw new Error(`the answer has no ${path}`);
  return value;
};

const drawn = questions.filter(({ drawings }) => drawings !== undefined);
const cases = drawn.flatMap((question) => JOBS.map((_, job) => ({ name: question.name, job })));

test.each(cases)("$name of job $job", ({ name, job: number }) => {
  const warned = [
    vi.spyOn(console, "warn").mockImplementation(() => {}),
    vi.spyOn(console, "error").mockImplementation(() => {}),
  ];
  const question = drawn.find((one) => one.name === name)!;
  const { job } = readJob(JOBS[number]!);
  const found = question.run(job, { quick: true });
  const drawings = question.drawings!(found, job);
  expect(drawings.length).toBeGreaterThan(0);
  for (const system of ["metric", "shop-us"] as const) {
    for (const [i, { name: file, text }] of svgFiles(drawings, system).entries()) {
      const { figure } = drawings[i]!;
      expect(text, file).not.toContain("\u26a0");
      // a line is one path of its own color
      const lines = figure.marks.filter(({ mark }) => mark === "line");
      const groups = [...text.matchAll(/<g [^>]*aria-label="line"[^>]*>(.*?)<\/g>/gs)];
      expect(groups, file).toHaveLength(lines.length);
      for (const [, inside] of groups) expect(inside!.match(/<path /g), file).toHaveLength(1);
      const axes = axesOf(text);
      const held = HELD[file.replace(".svg", "")]!;
      for (const way of ["across", "up"] as const) {
        const { unit, figures } = axes[way];
        expect(IN_SI, `${file} ${way}`).toHaveProperty([unit]);
        const path = held[way];
        if (path === undefined) continue;
        const value = IN_SI[unit]!(numberAt(found.answer, path));
        const step = (figures[1] ?? figures[0]! + 1) - figures[0]!;
        expect(value, `${file} ${way}`).toBeGreaterThanOrEqual(figures[0]! - step);
        expect(value, `${file} ${way}`).toBeLessThanOrEqual(figures.at(-1)! + step);
        // and the axis is of its order: a thousand times is another unit
        if (unit !== "\u00b0C" && unit !== "\u00b0F")
          expect(figures.at(-1)!, `${file} ${way}`).toBeLessThan(30 * value + step);
        if (unit === "") for (const figure of figures) expect(figure % 1, file).toBe(0);
      }
    }
  }
  for (const spy of warned) expect(spy).not.toHaveBeenCalled();
});

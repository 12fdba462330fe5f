/** Speed of what a shop asks: the settled shot, shots in a row, the window for a second color. */
import {
  type HeatProblem,
  type Job,
  layer,
  makeRepeat,
  periodic,
  readJob,
  shots,
} from "../../lib/index.ts";
import { windowOf } from "../../lib/models/layer/color-window.ts";
import { coolOpenColor } from "../../lib/models/layer/open-color.ts";
import { layerSection } from "../../lib/models/layer/section.ts";
import { colorHorizon, colorRules, whatIf } from "../../lib/questions/layer/table.ts";
import { measure, printTable } from "./measure.ts";
import { withNewGrid } from "./problems.ts";

const ZERO = 273.15;
const air = { kind: "exchange", h: 10, ambient: 22 + ZERO } as const;
const materials = {
  mold: { name: "mold", conductivity: 0.9, density: 1700, specificHeat: 1100 },
  plastic: {
    name: "plastic",
    conductivity: 0.16,
    density: 1000,
    specificHeat: { T: [ZERO, ZERO + 300], value: [1500, 2250] },
  },
};
const refill = [{ name: "bait", temperature: 175 + ZERO }];

/** Half of 12 mm of plastisol on 40 mm of mold, shot anew every 300 s: its settled face peaks at 153.3414 degC. */
export const slab: HeatProblem = {
  frame: "slab",
  materials,
  layers: [
    { name: "bait", material: "plastic", thickness: 0.006, initial: 175 + ZERO, contact: 2000 },
    { name: "wall", material: "mold", thickness: 0.04, initial: 25 + ZERO },
  ],
  boundary: { left: { kind: "insulated" }, right: air },
  stages: [{ until: 300, refill }],
  probes: { wall: { kind: "face", region: "wall", neighbor: "bait", of: "hottest" } },
};
export const SETTLED_PEAK = 153.3414;

/** An ellipse of 28 x 16 mm in a block of 80 x 60 mm, opened at 65 degC, 60 s open. */
const section: HeatProblem = {
  frame: "section",
  materials,
  block: { width: 0.08, height: 0.06, material: "mold", initial: 25 + ZERO },
  shapes: [
    {
      name: "bait",
      outline: { kind: "ellipse", axes: [0.028, 0.016], center: [0.04, 0.03] },
      material: "plastic",
      initial: 175 + ZERO,
      contact: 1000,
    },
  ],
  boundary: { left: air, right: air, top: air, bottom: air },
  stages: [
    { until: 9000, refill, stop: { probe: "hottest", below: 65 + ZERO } },
    { until: 18_000, lasts: 60, absent: ["bait"], exposed: air },
  ],
  probes: {
    wall: { kind: "face", region: "block", neighbor: "bait", of: "hottest" },
    hottest: { kind: "hottest", region: "bait" },
  },
  estimateGrid: false,
  resolution: 0.5,
};

export const peakOf = (h: { extremes: Readonly<Record<string, { max: number }>> }) =>
  (h.extremes["wall"]?.max ?? Number.NaN) - ZERO;

function marched(problem: HeatProblem, cycles: number): number {
  const repeat = makeRepeat(problem);
  let history = repeat.next();
  for (let k = 1; k < cycles; k++) history = repeat.next();
  return peakOf(history);
}

const ms = (run: (call: number) => unknown): string => {
  const { least, median } = measure(run);
  return `${least.toFixed(2)} / ${median.toFixed(2)}`;
};

export function shopBench(): void {
  const row = (name: string, problem: HeatProblem, cycles: number, exact?: number): string[][] => {
    const direct = periodic(problem);
    const off = (peak: number) => (exact === undefined ? "" : (peak - exact).toFixed(3));
    const direct1 = peakOf(direct.history);
    const marched1 = marched(problem, cycles);
    return [
      [
        `${name}, direct`,
        String(direct.cycles),
        ms((call) => periodic(withNewGrid(problem, call))),
        direct1.toFixed(3),
        off(direct1),
      ],
      [
        `${name}, marched`,
        String(cycles),
        ms((call) => marched(withNewGrid(problem, call), cycles)),
        marched1.toFixed(3),
        off(marched1),
      ],
    ];
  };
  printTable(
    "The shot that a mold settles to: cavity face peak, degC",
    ["problem", "cycles", "ms (least / median)", "peak", "off, K"],
    [
      ...row("half slab, two grids", slab, 40, SETTLED_PEAK),
      // the cells that 0.1 % takes
      ...row("half slab, resolution 0.5", { ...slab, resolution: 0.5 }, 40, SETTLED_PEAK),
      ...row("half slab, one grid", { ...slab, estimateGrid: false }, 40, SETTLED_PEAK),
      ...row("ellipse in a block, quick", section, 40),
      ...row("ellipse in a block, default", { ...section, resolution: 1 }, 40),
    ],
  );
  const { job } = readJob("{ bait: { thickness: 16 mm }, layer: { depth: 8 mm } }");
  const scenario = { job, airFactor: 1 };
  const [station] = job.bait.stations;
  if (!station) throw new Error("a job has a station");
  const windowIn = (own: Job, resolution: number) => {
    const solving = { resolution, tolerance: 1e-3 };
    const options = { solving, horizon: colorHorizon(own.layer.depth) };
    return windowOf(
      coolOpenColor(layerSection(scenario, station), 0, colorRules(own), options),
    ).close(1);
  };
  printTable(
    "Questions of a shop",
    ["question", "ms (least / median)"],
    [
      ["shots, one dimension", ms(() => shots(job, { quick: true }))],
      ["shots, section", ms(() => shots(job))],
      ["second color: 180 windows of the what-if table", ms(() => whatIf(scenario, station))],
      ["second color: one window in the section, quick", ms(() => windowIn(job, 0.5))],
      ["second color: one window in the section, default", ms(() => windowIn(job, 1))],
      [
        "layer, one dimension, without table",
        ms(() => layer(job, { quick: true, further: false })),
      ],
    ],
  );
}

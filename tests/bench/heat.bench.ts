/** Speed and accuracy of the engine on problems with known answers. */
import { type HeatProblem, simulate } from "../../lib/index.ts";
import { measure, percent, printTable } from "./measure.ts";
import {
  CURING_SLAB,
  CURING_SQUARE,
  curingSlab,
  curingSquare,
  ELLIPSE_S,
  ellipseInBlock,
  LAYERED_SLAB_S,
  layeredSlab,
  problemOf,
  withNewGrid,
} from "./problems.ts";

const ms = ({ least, median }: { least: number; median: number }) =>
  `${least.toFixed(2)} / ${median.toFixed(2)}`;

function row(name: string, problem: HeatProblem, seconds: number): string[] {
  const h = simulate(problem);
  const time = h.crossings[0].time ?? Number.NaN;
  return [
    name,
    String(h.effort.cells),
    String(h.effort.steps),
    ms(measure((call) => simulate(withNewGrid(problem, call)))),
    percent(time, seconds),
  ];
}

function peakRow(
  name: string,
  problem: HeatProblem,
  known: { peakC: number; peakS: number },
): string[] {
  const h = simulate(problem);
  const { max, maxTime } = h.extremes["center"];
  return [
    name,
    String(h.effort.cells),
    String(h.effort.steps),
    ms(measure((call) => simulate(withNewGrid(problem, call)))),
    percent(max - 273.15, known.peakC),
    percent(maxTime, known.peakS),
  ];
}

// the cells that 0.1 % takes
const ONE_GRID = { estimateGrid: false, resolution: 1.2 };

export function heatBench(): void {
  const P1 = problemOf(layeredSlab);
  printTable(
    "Time at which the center reaches 50 degC (cells and steps of both grids)",
    ["problem", "cells", "steps", "ms least / median", "error"],
    [
      row("P1 layered slab", P1, LAYERED_SLAB_S),
      // the cells that 0.1 % takes, for slabs and sections like these
      row("P1 layered slab, resolution 0.4", { ...P1, resolution: 0.4 }, LAYERED_SLAB_S),
      row("P1, tolerance 1e-3", { ...P1, tolerance: 1e-3 }, LAYERED_SLAB_S),
      row("P2 ellipse, perfect contact", problemOf(ellipseInBlock()), ELLIPSE_S.perfect),
      row("P2 ellipse, contact 1000", problemOf(ellipseInBlock(1000)), ELLIPSE_S.film),
      row(
        "P2, resolution 0.8, perfect contact",
        problemOf(ellipseInBlock(), { resolution: 0.8 }),
        ELLIPSE_S.perfect,
      ),
      row(
        "P2, resolution 0.8, contact 1000",
        problemOf(ellipseInBlock(1000), { resolution: 0.8 }),
        ELLIPSE_S.film,
      ),
      row(
        "P2 quick, perfect contact",
        problemOf(ellipseInBlock(), { resolution: 0.6, estimateGrid: false }),
        ELLIPSE_S.perfect,
      ),
      row(
        "P2 quick, contact 1000",
        problemOf(ellipseInBlock(1000), { resolution: 0.6, estimateGrid: false }),
        ELLIPSE_S.film,
      ),
      row(
        "P2 whole section (no mirror)",
        problemOf(ellipseInBlock(1000), { useSymmetry: false }),
        ELLIPSE_S.film,
      ),
    ],
  );
  printTable(
    "Peak of a curing body and its time",
    ["problem", "cells", "steps", "ms least / median", "peak", "its time"],
    [
      peakRow("P4 slab", problemOf(curingSlab), CURING_SLAB),
      peakRow("P4 slab, coarse", problemOf(curingSlab, { resolution: 0.7 }), CURING_SLAB),
      peakRow("P4 slab, one grid", problemOf(curingSlab, ONE_GRID), CURING_SLAB),
      peakRow("P4 square", problemOf(curingSquare), CURING_SQUARE),
      peakRow("P4 square, coarse", problemOf(curingSquare, { resolution: 0.6 }), CURING_SQUARE),
    ],
  );
  convergence();
  growth();
  memory();
}

/** Cell size against error: the whole section, one grid, time steps far finer than the grid. */
function convergence(): void {
  const rows = [0.5, 1, 2, 4].map((resolution) => {
    const cells: string[] = [String(resolution)];
    for (const [contact, known] of [
      [undefined, ELLIPSE_S.perfect],
      [1000, ELLIPSE_S.film],
    ] as const) {
      const problem = problemOf(ellipseInBlock(contact), {
        resolution,
        estimateGrid: false,
        tolerance: 3e-6,
      });
      const h = simulate(problem);
      cells.push(String(h.effort.cells), percent(h.crossings[0].time ?? Number.NaN, known));
    }
    return cells;
  });
  printTable(
    "Convergence of the ellipse's time with the grid (a single grid; resolution 1 is the default's finer one)",
    ["resolution", "cells", "perfect contact", "cells", "contact 1000"],
    rows,
  );
}

/** Cost over two decades of cells and of steps. */
function growth(): void {
  const base = problemOf(ellipseInBlock(1000), { estimateGrid: false, useSymmetry: false });
  printTable(
    "Cost against cells (whole section, one grid)",
    ["resolution", "cells", "steps", "ms", "ns a cell and step"],
    [0.35, 0.6, 1, 2, 3.5].map((resolution) => {
      const problem = { ...base, resolution };
      const h = simulate(problem);
      const { least } = measure(() => simulate(problem));
      const each = (1e6 * least) / (h.effort.cells * h.effort.steps);
      return [
        String(resolution),
        String(h.effort.cells),
        String(h.effort.steps),
        least.toFixed(1),
        each.toFixed(0),
      ];
    }),
  );
  printTable(
    "Cost against steps (layered slab, one grid)",
    ["tolerance", "steps", "ms", "us a step"],
    [1e-2, 1e-4, 1e-6, 1e-8].map((tolerance) => {
      const problem = problemOf(layeredSlab, { tolerance, estimateGrid: false });
      const h = simulate(problem);
      const { least } = measure(() => simulate(problem));
      return [
        String(tolerance),
        String(h.effort.steps),
        least.toFixed(2),
        ((1e3 * least) / h.effort.steps).toFixed(1),
      ];
    }),
  );
}

/** Bytes held for a cell while a large section is solved, and what the steps allocate. */
function memory(): void {
  const gc = (globalThis as { gc?: () => void }).gc;
  if (!gc) return;
  const problem = problemOf(ellipseInBlock(1000), {
    estimateGrid: false,
    useSymmetry: false,
    resolution: 8,
  });
  let vectors = 0;
  let objects = 0;
  let asked = 0;
  // vectors of the problems before are given back only by the second collection
  gc();
  gc();
  const before = process.memoryUsage();
  const h = simulate({
    ...problem,
    stages: [{ until: 20 }],
    shouldStop: () => {
      if (++asked === 20) {
        gc();
        gc();
        const now = process.memoryUsage();
        vectors = now.arrayBuffers - before.arrayBuffers;
        objects = now.heapUsed - before.heapUsed;
      }
      return false;
    },
  });
  printTable(
    "Memory of a large section while it runs: vectors of the step, and what describes the outlines (grows with their length)",
    ["cells", "vectors, bytes a cell", "outlines, bytes a cell"],
    [
      [
        String(h.effort.cells),
        (vectors / h.effort.cells).toFixed(0),
        (objects / h.effort.cells).toFixed(0),
      ],
    ],
  );
}

/**
 * The engine beside a general-purpose solver in the same run: SciPy, with scripts that share no code with the engine.
 * Both are tuned with the answer known: every setting of a small search is tried, and the fastest that is accurate enough
 * is told, grid and matrices included, imports not. A setting
 * counts only if it stays accurate when its tolerance is cut to a thirtieth: not where the errors of grid and steps cancel. Beside them the engine as it comes, which is not told the answer.
 */
import { spawnSync } from "node:child_process";
import { type HeatProblem, periodic, simulate } from "../../lib/index.ts";
import { measure, printTable } from "./measure.ts";
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
} from "./problems.ts";
import { peakOf, SETTLED_PEAK, slab } from "./shop.bench.ts";

const PYTHON = "/usr/bin/python3";
const SCRIPTS = "tests/reference/independent";

interface Case {
  /** As the script names it. */
  readonly name: string;
  readonly problem: HeatProblem;
  readonly solve: (problem: HeatProblem) => number;
  /** Largest error that counts as accurate. */
  readonly allowed: number;
  readonly unit: "%" | "K";
}

const timed = (name: string, problem: HeatProblem, seconds: number): Case => ({
  name,
  problem,
  solve: (p) => (simulate(p).crossings[0].time ?? Number.NaN) / seconds - 1,
  allowed: 1e-3,
  unit: "%",
});

/** The larger of the errors of the peak in degC and of its time. */
const peaked = (
  name: string,
  problem: HeatProblem,
  known: { peakC: number; peakS: number },
): Case => ({
  name,
  problem,
  solve: (p) => {
    const { max, maxTime } = simulate(p).extremes["center"];
    const errors = [(max - 273.15) / known.peakC - 1, maxTime / known.peakS - 1];
    return Math.abs(errors[0]) > Math.abs(errors[1]) ? errors[0] : errors[1];
  },
  allowed: 1e-3,
  unit: "%",
});

const groups: readonly (readonly [script: string, cases: readonly Case[]])[] = [
  ["layered_slab.py", [timed("layered slab", problemOf(layeredSlab), LAYERED_SLAB_S)]],
  [
    "section_ellipse.py",
    [
      timed("ellipse, perfect contact", problemOf(ellipseInBlock()), ELLIPSE_S.perfect),
      timed("ellipse, contact 1000", problemOf(ellipseInBlock(1000)), ELLIPSE_S.film),
    ],
  ],
  [
    "curing_bodies.py",
    [
      peaked("curing slab", problemOf(curingSlab), CURING_SLAB),
      peaked("curing square", problemOf(curingSquare), CURING_SQUARE),
    ],
  ],
  [
    "repeated_shots.py",
    [
      {
        name: "repeated shots",
        problem: slab,
        solve: (p) => peakOf(periodic(p).history) - SETTLED_PEAK,
        allowed: 0.02,
        unit: "K",
      },
    ],
  ],
];

interface Best {
  readonly ms: number;
  readonly error: number;
  readonly setting: string;
}

/** The fastest accurate setting of the engine within a limit in ms: one grid or two, box size, tolerance of the steps. */
function tuned({ problem, solve, allowed }: Case, limit: number): Best | undefined {
  const good: { problem: HeatProblem; ms: number; error: number; setting: string }[] = [];
  for (const estimateGrid of [true, false])
    for (const resolution of [0.35, 0.5, 0.7, 1, 1.4, 2])
      for (const tolerance of [1e-2, 3e-3, 1e-3, 3e-4, 1e-4]) {
        const own = { ...problem, estimateGrid, resolution, tolerance };
        let error = Number.NaN;
        let ms = Number.POSITIVE_INFINITY;
        for (let k = 0; k < 3; k++) {
          const start = performance.now();
          error = solve(own);
          ms = Math.min(ms, performance.now() - start);
          if (ms > 2 * limit || !(Math.abs(error) <= allowed)) break;
        }
        if (ms > limit || !(Math.abs(error) <= allowed)) continue;
        // the errors of grid and steps must not merely cancel
        const steady = solve({ ...own, tolerance: tolerance / 30 });
        if (!(Math.abs(steady) <= allowed)) continue;
        const setting = `${estimateGrid ? "two grids" : "one grid"}, resolution ${resolution}, tolerance ${tolerance}`;
        good.push({ problem: own, ms, error, setting });
      }
  good.sort((a, b) => a.ms - b.ms);
  return good
    .slice(0, 4)
    .map(({ problem: own, error, setting }) => ({
      ms: measure(() => solve(own)).least,
      error,
      setting,
    }))
    .sort((a, b) => a.ms - b.ms)[0];
}

/** What a script found for its cases, by name, or why it found nothing. */
function told(script: string): ReadonlyMap<string, Best> | string {
  const { stdout, stderr, status, signal } = spawnSync(
    PYTHON,
    [`${SCRIPTS}/${script}`, "--bench"],
    {
      encoding: "utf8",
    },
  );
  if (status !== 0) return stderr.trim().split("\n").at(-1) || `ended by ${signal ?? status}`;
  const lines = stdout.split("\n").filter((line) => line.startsWith("{"));
  return new Map(
    lines.map((line) => {
      const found = JSON.parse(line) as Best & { problem: string };
      return [found.problem, found];
    }),
  );
}

export function othersBench(): void {
  if (spawnSync(PYTHON, ["-c", "import scipy"]).status !== 0) {
    console.log("\nSciPy is not installed (Debian: python3-scipy): no comparison in the same run.");
    return;
  }
  const rows: string[][] = [];
  const settings: string[][] = [];
  for (const [script, cases] of groups) {
    // before and after the script, so that a slow spell of the machine does not decide
    const time = (c: Case) => measure(() => c.solve(c.problem)).least;
    const before = cases.map(time);
    const best = cases.map((c, k) => tuned(c, 1.2 * before[k]));
    const found = told(script);
    if (typeof found === "string") {
      console.log(`\n${SCRIPTS}/${script} --bench did not run: ${found}`);
      continue;
    }
    for (const [k, c] of cases.entries()) {
      const theirs = found.get(c.name);
      if (!theirs) throw new Error(`${script} tells nothing of "${c.name}"`);
      const off = (error: number) =>
        c.unit === "K" ? `${error.toFixed(3)} K` : `${(100 * error).toFixed(3)} %`;
      const ms = Math.min(before[k], time(c));
      const own = best[k];
      rows.push([
        c.name,
        ms.toFixed(2),
        off(c.solve(c.problem)),
        own ? own.ms.toFixed(2) : "none",
        own ? off(own.error) : "",
        theirs.ms.toFixed(2),
        off(theirs.error),
        (theirs.ms / ms).toFixed(2),
        own ? (theirs.ms / own.ms).toFixed(2) : "",
      ]);
      settings.push([c.name, own?.setting ?? "none is accurate enough", theirs.setting]);
    }
  }
  printTable(
    "Beside SciPy in the same run: each one's fastest setting within 0.1 % (0.02 K); above 1 Castclock is the faster",
    [
      "problem",
      "as it comes, ms",
      "error",
      "tuned, ms",
      "error",
      "SciPy tuned, ms",
      "error",
      "ratio as it comes",
      "ratio tuned",
    ],
    rows,
  );
  printTable("Settings of those", ["problem", "Castclock", "SciPy"], settings);
}

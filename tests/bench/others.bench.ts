/**
 * The engine beside general-purpose solvers in the same run: SciPy, DOLFINx and FreeFEM, where they are installed, with
 * scripts that share no code with the engine. All are tuned with the answer known: every setting of a small search is tried,
 * and the fastest that is accurate enough is told. Matrices are included, imports and compiling are not; SciPy's time and the
 * engine's include the grid, the finite-element libraries' is told apart. A setting counts only if it stays accurate when its
 * tolerance is cut to a thirtieth: not where the errors of grid and steps cancel. Beside them the
 * engine as it comes, which is not told the answer.
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
  withNewGrid,
} from "./problems.ts";
import { peakOf, SETTLED_PEAK, slab } from "./shop.bench.ts";

const PYTHON = "/usr/bin/python3";
const SCRIPTS = "tests/reference/independent";

interface Solver {
  readonly name: string;
  /** Where it comes from. */
  readonly packages: string;
  /** Python that fails where it is missing. */
  readonly needs: string;
  readonly scripts: readonly string[];
}

const solvers: readonly Solver[] = [
  {
    name: "SciPy",
    packages: "python3-scipy",
    needs: "import scipy",
    scripts: ["layered_slab.py", "section_ellipse.py", "curing_bodies.py", "repeated_shots.py"],
  },
  {
    name: "DOLFINx",
    packages: "python3-dolfinx, python3-gmsh, python3-scipy",
    needs: "import scipy, dolfinx, gmsh",
    scripts: ["finite_elements_dolfinx.py"],
  },
  {
    name: "FreeFEM",
    packages: "freefem++, python3-scipy",
    needs: "import scipy, shutil; assert shutil.which('FreeFem++-nw')",
    scripts: ["finite_elements_freefem.py"],
  },
];

interface Case {
  /** As the scripts name it. */
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

const cases: readonly Case[] = [
  timed("layered slab", problemOf(layeredSlab), LAYERED_SLAB_S),
  timed("ellipse, perfect contact", problemOf(ellipseInBlock()), ELLIPSE_S.perfect),
  timed("ellipse, contact 1000", problemOf(ellipseInBlock(1000)), ELLIPSE_S.film),
  peaked("curing slab", problemOf(curingSlab), CURING_SLAB),
  peaked("curing square", problemOf(curingSquare), CURING_SQUARE),
  {
    name: "repeated shots",
    problem: slab,
    solve: (p) => peakOf(periodic(p).history) - SETTLED_PEAK,
    allowed: 0.02,
    unit: "K",
  },
];

interface Best {
  readonly ms: number;
  /** Mesh and space, where they are not in `ms`. */
  readonly mesh_ms?: number;
  readonly error: number;
  readonly setting: string;
}

interface Tuned extends Best {
  readonly problem: HeatProblem;
}

/** The fastest accurate setting of the engine within a limit in ms: one grid or two, box size, tolerance of the steps. */
function tuned({ problem, solve, allowed }: Case, limit: number): Tuned | undefined {
  const good: Tuned[] = [];
  const holds = (error: number) => Math.abs(error) <= allowed;
  for (const { setting, ...change } of settings()) {
    const own = { ...problem, ...change };
    let error = Number.NaN;
    let ms = Number.POSITIVE_INFINITY;
    for (let k = 0; k < 3; k++) {
      const start = performance.now();
      error = solve(own);
      ms = Math.min(ms, performance.now() - start);
      if (ms > 2 * limit || !holds(error)) break;
    }
    if (ms > limit || !holds(error)) continue;
    // the errors of grid and steps must not merely cancel
    const finer = solve({ ...own, tolerance: (change.tolerance ?? 1e-4) / 30 });
    if (holds(finer)) good.push({ problem: own, ms, error, setting });
  }
  good.sort((a, b) => a.ms - b.ms);
  return good
    .slice(0, 4)
    .map((found) => ({
      ...found,
      ms: measure((call) => solve(withNewGrid(found.problem, call))).least,
    }))
    .sort((a, b) => a.ms - b.ms)[0];
}

/** A tolerance that is given governs two grids as well, and they may be halved; without one only the steps, by 1e-4. */
function* settings() {
  for (const estimateGrid of [true, false])
    for (const resolution of [0.35, 0.5, 0.7, 1, 1.4, 2])
      for (const tolerance of [undefined, 1e-2, 3e-3, 1e-3, 3e-4, 1e-4])
        yield {
          estimateGrid,
          resolution,
          ...(tolerance && { tolerance }),
          setting: `${estimateGrid ? "two grids" : "one grid"}, resolution ${resolution}, tolerance ${tolerance ?? "of steps as it comes"}`,
        };
}

/** What a solver found for each problem; says which of its scripts did not run, and why. */
function told({ name, packages, needs, scripts }: Solver): ReadonlyMap<string, Best> {
  const found = new Map<string, Best>();
  if (spawnSync(PYTHON, ["-c", needs]).status !== 0) {
    console.log(`\n${name} is not installed (Debian: ${packages}): not in this comparison.`);
    return found;
  }
  for (const script of scripts) {
    const { stdout, stderr, status, signal } = spawnSync(
      PYTHON,
      [`${SCRIPTS}/${script}`, "--bench"],
      { encoding: "utf8" },
    );
    if (status !== 0) {
      const why = stderr.trim().split("\n").at(-1) || `ended by ${signal ?? status}`;
      console.log(`\n${name}: ${SCRIPTS}/${script} --bench did not run: ${why}`);
      continue;
    }
    for (const line of stdout.split("\n").filter((text) => text.startsWith("{"))) {
      const best = JSON.parse(line) as Best & { problem: string };
      if (!cases.some((c) => c.name === best.problem))
        throw new Error(`${script} tells of an unknown problem "${best.problem}"`);
      found.set(best.problem, best);
    }
  }
  return found;
}

export function othersBench(): void {
  const own = cases.map((c) => measure((call) => c.solve(withNewGrid(c.problem, call))).least);
  // calls of the search are not warm yet: those a few times slower than the warm one stay in
  const best = cases.map((c, k) => tuned(c, 3 * own[k]));
  const others = solvers.map((solver) => {
    const found = told(solver);
    // again after every solver, so that a slow spell of the machine does not decide
    for (const [k, { solve, problem }] of cases.entries()) {
      const again = (p: HeatProblem) =>
        found.size > 0 ? measure((call) => solve(withNewGrid(p, call))).least : Infinity;
      own[k] = Math.min(own[k], again(problem));
      const b = best[k];
      if (b) best[k] = { ...b, ms: Math.min(b.ms, again(b.problem)) };
    }
    return found;
  });
  const rows: string[][] = [];
  for (const [k, c] of cases.entries()) {
    const b = best[k];
    const row = (who: string, { ms, mesh_ms, error, setting }: Best) => [
      c.name,
      who,
      ms.toFixed(2),
      mesh_ms?.toFixed(2) ?? "",
      c.unit === "K" ? `${error.toFixed(3)} K` : `${(100 * error).toFixed(3)} %`,
      (ms / own[k]).toFixed(2),
      b ? (ms / b.ms).toFixed(2) : "",
      setting,
    ];
    const asItComes = { ms: own[k], error: c.solve(c.problem), setting: "not told the answer" };
    rows.push(row("Castclock as it comes", asItComes));
    if (b) rows.push(row("Castclock tuned", b));
    else
      rows.push([
        c.name,
        "Castclock tuned",
        "",
        "",
        "none",
        "",
        "",
        "no setting stayed accurate with finer steps",
      ]);
    for (const [j, found] of others.entries()) {
      const theirs = found.get(c.name);
      if (theirs) rows.push(row(solvers[j].name, theirs));
    }
  }
  printTable(
    "Each one's fastest setting within 0.1 % (0.02 K), in the same run; a ratio above 1: Castclock is the faster",
    ["problem", "solver", "ms", "mesh apart, ms", "error", "to as it comes", "to tuned", "setting"],
    rows,
  );
}

/** What is refused for its size, and what is said where a tolerance is not reached. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { InputError, readSolveProblem, simulate, solve } from "../../../lib/index.ts";

const plate = {
  frame: "slab",
  materials: { mold: { conductivity: 0.9, density: 1700, specificHeat: 1100 } },
  layers: [{ name: "m", material: "mold", thickness: 0.01, initial: 100 }],
  boundary: { right: { h: 50, ambient: 20 } },
  probes: { c: [0] },
  until: 100,
  times: [100],
};
/** Slanted hairs: nothing of them runs along a grid line. */
const hairs = {
  frame: "section",
  materials: plate.materials,
  block: { width: 0.5, height: 0.5, material: "mold", initial: 20 },
  shapes: [0.1, 0.2].map((x) => ({
    name: `hair ${x}`,
    material: "mold",
    initial: 100,
    ellipse: [1e-5, 0.05],
    center: [x, 0.25],
  })),
  probes: { c: [0.25, 0.25] },
  until: 100,
};

function refusal(problem: unknown): { path: string; code: string; given: number; ms: number } {
  const start = performance.now();
  try {
    solve(problem);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const [{ path, code, given }] = error.problems as [(typeof error.problems)[0]];
    return { path, code, given: given as number, ms: performance.now() - start };
  }
  throw new Error("not refused");
}

test.each([
  ["by default", hairs, 250_000],
  ["by its own budget", { ...plate, mostCells: 5 }, 5],
  ["with a resolution beyond all grids", { ...plate, resolution: 1e12 }, 250_000],
])("too many cells are refused at once with an estimate, %s", (_, problem, most) => {
  const { path, code, given, ms } = refusal(problem);
  expect([path, code]).toEqual(["mostCells", "too_many_cells"]);
  expect(given).toBeGreaterThan(most);
  expect(ms).toBeLessThan(5000);
});

test("too many steps are refused with an estimate, which a larger budget allows", () => {
  const pulsed = { ...plate, boundary: { right: { h: 50, ambient: "20 + 10*sin(6.2832*t)" } } };
  const whole = solve({ ...pulsed, tolerance: 1e-3 });
  const { path, code, given } = refusal({ ...pulsed, tolerance: 1e-3, mostSteps: 60 });
  expect([path, code]).toEqual(["mostSteps", "too_many_steps"]);
  // both grids' steps are in the effort, one's in the estimate
  expect(given / (whole.effort.steps / 2)).toBeGreaterThan(0.1);
  expect(given / (whole.effort.steps / 2)).toBeLessThan(10);
  expect(solve({ ...pulsed, tolerance: 1e-3, mostSteps: 1e6 }).probes).toEqual(whole.probes);
});

test("what would take ten times the steps that are allowed is refused long before they are spent", () => {
  const pulsed = { ...plate, boundary: { right: { h: 50, ambient: "20 + 10*sin(6.2832*t)" } } };
  const problem = readSolveProblem({ ...pulsed, tolerance: 1e-3 });
  const whole = simulate({ ...problem, estimateGrid: false }).effort.steps;
  let told = 0;
  const mostSteps = Math.round(whole / 40);
  expect(() =>
    simulate({ ...problem, estimateGrid: false, mostSteps, follow: () => told++ }),
  ).toThrow(/too_many_steps/);
  expect(told).toBeLessThan(0.5 * mostSteps);
});

test.each(["mostCells", "mostSteps", "resolution"])("%s must be above zero", (key) => {
  expect(refusal({ ...plate, [key]: 0 }).path).toBe(key);
});

test("a tolerance that the cells do not allow is said not to be reached; with more it is", () => {
  const asked = { ...plate, boundary: { right: { temperature: 20 } }, tolerance: 1e-6 };
  const short = solve({ ...asked, mostCells: 60 });
  expect(short.effort.limitedBy).toBe("cells");
  expect(short.effort.reached).toBeGreaterThan(short.effort.asked ?? 0);
  expect(short.notes[0]).toMatch(/^tolerance not reached: [\d.e-]+ K instead of 0\.00008 K/);
  const enough = solve(asked);
  expect(enough.notes).toEqual([]);
  expect(enough.effort.reached).toBeLessThanOrEqual(enough.effort.asked ?? 0);
  // and so it is: the shorter answer is off by no more than it says
  const off = Math.abs((short.probes["c"]?.[0] ?? 0) - (enough.probes["c"]?.[0] ?? 0));
  expect(off).toBeLessThan(short.effort.reached);
});

test.each(["no-times-tol", "late-time-only-tol", "with-times-tol"])(
  "%s keeps its tolerance",
  (name) => {
    const file = new URL(`../../reference/problems/${name}.json`, import.meta.url);
    const { effort, notes } = solve(JSON.parse(readFileSync(file, "utf8")));
    expect(notes).toEqual([]);
    expect(effort.reached).toBeLessThanOrEqual(effort.asked ?? 0);
  },
);

test("a run tells how far it is and stops when asked", () => {
  const told: number[] = [];
  const { effort } = solve(plate, { follow: ({ time }) => told.push(time) });
  expect(told.length).toBe(effort.steps);
  expect(told.at(-1)).toBe(100);
  let asked = 0;
  const stopped = solve(plate, { shouldStop: () => ++asked > 10 });
  expect(stopped.effort.steps).toBeLessThan(told.length);
});

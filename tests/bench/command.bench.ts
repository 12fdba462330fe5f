/** How long a person waits for the first word of the command, beside a Node that does nothing; and memory over many solves. */
import { spawnSync } from "node:child_process";
import { simulate } from "../../lib/index.ts";
import { printTable } from "./measure.ts";
import { layeredSlab, problemOf, withNewGrid } from "./problems.ts";

const ROUNDS = 9;

/** Questions of heat whose whole answer has an aim, and the job that each is asked of. */
const WHOLE_ANSWERS = ["demold", "shots", "plan", "layer", "touch", "sprue", "pour", "walls"];
const JOB = "data/jobs/paddle-shad.yaml";
const ANSWER_ROUNDS = 3;

function started(words: readonly string[]): number {
  const start = performance.now();
  spawnSync(process.execPath, words, { stdio: "ignore" });
  return performance.now() - start;
}

/** Aim: help and version within 200 ms. */
export function commandBench(): void {
  const main = "dist/cli/main.js";
  const commands: readonly (readonly [string, ...string[]])[] = [
    ["node, nothing asked", "-e", "0"],
    ["castclock --version", main, "--version"],
    ["castclock --help", main, "--help"],
    ["castclock mix (reads a job)", main, "mix", "data/jobs/sculpt-to-bait.yaml"],
    ["castclock demold --quick", main, "demold", "data/jobs/paddle-shad.yaml", "--quick"],
  ];
  // in turn, so that a busy moment is shared
  const least = commands.map(() => Number.POSITIVE_INFINITY);
  for (let round = 0; round < ROUNDS; round++)
    commands.forEach(([, ...words], i) => {
      least[i] = Math.min(least[i], started(words));
    });
  printTable(
    "Whole process, least of 9 (aim: 200 ms to the first word)",
    ["command", "ms", "over node"],
    commands.map(([name], i) => [name, least[i].toFixed(0), (least[i] / least[0]).toFixed(2)]),
  );
}

/** Aim: every whole answer within 1 s. */
export function answersBench(): void {
  const rows = WHOLE_ANSWERS.map((question) => {
    let least = Number.POSITIVE_INFINITY;
    for (let round = 0; round < ANSWER_ROUNDS; round++)
      least = Math.min(least, started(["dist/cli/main.js", question, JOB]));
    return [question, (least / 1e3).toFixed(2)];
  });
  printTable(
    `Whole process with its whole answer, least of ${ANSWER_ROUNDS} (aim: 1 s)`,
    ["question", "s"],
    rows,
  );
}

const SOLVES = Number(process.env["SOLVES"] ?? 10_000);

/** Memory in use after each fifth of the solves: flat, or something is kept. */
export function memoryBench(): void {
  const gc = (globalThis as { gc?: () => void }).gc;
  if (!gc) return;
  const problem = problemOf(layeredSlab, { estimateGrid: false });
  const rows: string[][] = [];
  for (let k = 0; k <= SOLVES; k++) {
    if (k % (SOLVES / 5) === 0) {
      gc();
      gc();
      const { heapUsed, arrayBuffers } = process.memoryUsage();
      rows.push([String(k), (heapUsed / 1e6).toFixed(2), (arrayBuffers / 1e6).toFixed(2)]);
    }
    simulate(withNewGrid(problem, k));
  }
  printTable("Memory after many solves, MB", ["solves", "objects", "vectors"], rows);
}

/** What certainty costs: a range of one dimension, shares of variance, a fit, and sweeps on one thread and on two. */
import { execFile } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";
import { sobolShares } from "../../lib/confidence/shares.ts";
import { fit as fitLog, readJob } from "../../lib/index.ts";
import { barModel, standInOf } from "../../lib/models/bait/bar.ts";
import { cool, DRAFTING, SEARCHING, type Solving } from "../../lib/models/cooling.ts";
import { spreadOf } from "../../lib/models/ranged.ts";
import { type Scenario, scenarioOf } from "../../lib/models/scenario.ts";
import { uncertainInputs } from "../../lib/models/uncertain-inputs.ts";
import { normalQuantile } from "../../lib/numerics/special-functions.ts";
import { measure, printTable } from "./measure.ts";

const MEMBERS = 256;
const EVALUATIONS = 4000;
const READINGS = 600;
/** A hundred times as many from here on: `SWEEP_MEMBERS=10000` ends with a million. */
const FEW = Number(process.env["SWEEP_MEMBERS"] ?? 200);
const SWEEP = ["dist/cli/main.js", "sweep", "data/jobs/paddle-shad.yaml", "--quick"];
const VARIED = [
  "--vary",
  "room.temperature=50 degF..90 degF",
  "--vary",
  "mold.temperature=60 degF..90 degF",
];

const { job } = readJob("{ bait: { thickness: 16 mm } }");
const demoldTime = (scenario: Scenario, solving: Solving) => {
  const [station] = scenario.job.bait.stations;
  return cool(barModel(scenario, standInOf(station)), scenario.job.limits.demold, solving).time;
};

function shares(): void {
  const inputs = uncertainInputs(job);
  const at = (u: Float64Array) =>
    inputs.reduce((now, input, i) => input.at(now, normalQuantile(u[i])), scenarioOf(job));
  const samples = Math.ceil(EVALUATIONS / (inputs.length + 2));
  sobolShares((u) => demoldTime(at(u), SEARCHING), inputs.length, samples);
}

/** A pour that was logged: what the catalog's resin does, each reading off by up to half a kelvin. */
function pourLog() {
  const time = Array.from({ length: READINGS }, (_, k) => 30 * (k + 1));
  const temperature = time.map(
    (t, k) => 295 + 40 * (t / 5400) ** 2 * Math.exp(2 - (2 * t) / 5400) + Math.sin(7 * k) / 2,
  );
  return { time, temperature, of: "pour" as const };
}

/** A sweep into a new file; gives the largest memory that it held, MB, as the process itself tells it. */
async function swept(members: number, workers: number): Promise<number> {
  const folder = mkdtempSync(join(tmpdir(), "castclock-bench-"));
  // Linux hands the maxRSS of who starts it on: there the high-water mark of its own memory
  const tell = `import { readFileSync } from "node:fs";
    const own = () => { try { return /VmHWM:\\s*(\\d+)/.exec(readFileSync("/proc/self/status", "utf8"))[1]; } catch { return process.resourceUsage().maxRSS; } };
    process.on("exit", () => console.error("peak", own()));`;
  const { stderr } = await promisify(execFile)(process.execPath, [
    ...["--import", `data:text/javascript,${encodeURIComponent(tell)}`, ...SWEEP, ...VARIED],
    ...["--members", String(members), "--workers", String(workers)],
    ...["--out", join(folder, "table.csv")],
  ]);
  rmSync(folder, { recursive: true });
  return Number(/peak (\d+)/.exec(stderr)?.[1]) / 1e3;
}

/** Seconds, and what came of it. */
async function timed<T>(work: () => Promise<T>): Promise<{ seconds: number; found: T }> {
  const start = performance.now();
  const found = await work();
  return { seconds: (performance.now() - start) / 1e3, found };
}

/** Aims: 256 members within 0.15 s, shares within 2 s on two cores, a fit within 2 s, a pool that costs less than 10 % of what two commands take, beside each
 * other, for half of the members each: two cores of one machine are not twice one. */
export async function rangesBench(): Promise<void> {
  const log = pourLog();
  const s = (run: () => unknown) => {
    const { least, median } = measure(run);
    return `${(least / 1e3).toFixed(3)} / ${(median / 1e3).toFixed(3)}`;
  };
  const range = (solving: Solving) => () =>
    spreadOf(scenarioOf(job), (scenario) => [demoldTime(scenario, solving)], [], {
      least: MEMBERS,
      most: MEMBERS,
    });
  printTable(
    "What certainty costs, on one thread",
    ["work", "s (least / median)", "aim"],
    [
      [
        `range of a demold time in one dimension, ${MEMBERS} members, as searches take them`,
        s(range(SEARCHING)),
        "0.15",
      ],
      ["the same as an answer of demold draws it", s(range(DRAFTING)), "0.15"],
      [`shares of its variance, ${EVALUATIONS} evaluations`, s(shares), "2 on two"],
      [`fit of a pour to ${READINGS} readings`, s(() => fitLog(job, log)), "2"],
    ],
  );
  const rows: string[][] = [];
  for (const times of [1, 10, 100]) {
    const members = FEW * times;
    const one = await timed(() => swept(members, 1));
    const two = await timed(() => swept(members, 2));
    const beside = await timed(() => Promise.all([swept(members / 2, 1), swept(members / 2, 1)]));
    rows.push([
      String(members),
      ...[one, two, beside].map(({ seconds }) => seconds.toFixed(2)),
      (two.seconds / beside.seconds).toFixed(2),
      one.found.toFixed(0),
      two.found.toFixed(0),
    ]);
  }
  printTable(
    "castclock sweep of demold --quick: time, and the most memory that is held (aim: the same for more members)",
    [
      ...["members", "s, one thread", "s, two", "s, two commands"],
      ...["two / two commands", "MB, one", "MB, two"],
    ],
    rows,
  );
}

/** The job's own wall: what `walls` says of it is what `shots` says of the same job. */
import { describe, expect, test } from "vitest";
import { readJob } from "../../../../lib/job/job.ts";
import type { QuestionOptions } from "../../../../lib/models/question-options.ts";
import { shots } from "../../../../lib/questions/shots/shots.ts";
import { walls } from "../../../../lib/questions/walls/walls.ts";
import { wallsQuestion } from "../../../../src/cli/questions/walls.ts";

const HOT = "shot: { temperature: 185 degC }\nlimits: { demold: 70 degC }\n";
const POUR = "pour: { potLife: { time: 4 h, mass: 100 g, at: 25 degC } }\n";
const jobOf = (bait: string, mold: string, run = "open: 30 s") =>
  readJob(
    `bait: { ${bait} }\nmold: { material: filled epoxy, ${mold} }\nrun: { ${run} }\n${HOT}${POUR}`,
  ).job;

const BODIES = {
  round: ["thickness: 16 mm", "cavities: 1"],
  neighbors: ["thickness: 14 mm", "cavities: 4, spacing: 3 mm"],
  flat: ["thickness: 12 mm, width: 36 mm, form: flat", "cavities: 1"],
} as const;
const LOOKS = Object.entries(BODIES).flatMap(([name, [bait, mold]]) =>
  [true, false].map((quick) => ({ name, bait, mold, quick })),
);

/** The run of `shots`: hottest face of any, the last one's time. */
function runOf(job: ReturnType<typeof jobOf>, options: QuestionOptions) {
  const { answer } = shots(job, { ...options, likelyOnly: true });
  const rows = answer.shots;
  return {
    wallPeak: Math.max(...rows.map((row) => row.wallPeak)),
    lastDemold: rows[rows.length - 1]!.demold,
    settledPeak: answer.steady.wallPeak,
  };
}

describe.each(LOOKS)("$name, quick: $quick", ({ bait, mold, quick }) => {
  test("its hottest face and its last shot are those of `shots`, in its row of the table, too", () => {
    for (const wall of [11, 20.5]) {
      const job = jobOf(bait, `${mold}, wall: ${wall} mm`);
      const { own, points } = walls(job, { quick, likelyOnly: true }).answer;
      const row = points.find((point) => point.wall === own.wall)!;
      expect(own.wall).toBeCloseTo(wall / 1000, 12);
      const told = runOf(job, { quick });
      for (const said of [own, row]) {
        expect(Math.abs(said.wallPeak - told.wallPeak)).toBeLessThan(0.1);
        expect(Math.abs(said.lastDemold / told.lastDemold - 1)).toBeLessThan(2e-3);
      }
    }
  });
});

test.each([
  ["round", 3, 0.1],
  ["neighbors", 3, 0.06],
  ["flat", 8, 0.12],
] as const)(
  "behind another wall a run is nearly what `shots` of that wall tells: %s",
  (name, kelvins, share) => {
    const [bait, mold] = BODIES[name];
    const { points } = walls(jobOf(bait, `${mold}, wall: 12 mm`), { likelyOnly: true }).answer;
    for (const wall of [0.025, 0.04]) {
      const row = points.find((point) => point.wall === wall)!;
      const told = runOf(jobOf(bait, `${mold}, wall: ${1e3 * wall} mm`), {});
      expect(Math.abs(row.wallPeak - told.wallPeak), `${wall}`).toBeLessThan(kelvins);
      expect(Math.abs(row.lastDemold / told.lastDemold - 1), `${wall}`).toBeLessThan(share);
    }
  },
);

describe("cavities that warm each other past what the mold bears", () => {
  const job = jobOf(BODIES.neighbors[0], `${BODIES.neighbors[1]}, wall: 12 mm`);

  test("no wall serves where `shots` says that the mold gets too hot", () => {
    const found = walls(job);
    expect(runOf(job, {}).wallPeak).toBeGreaterThan(found.answer.wallLimit!);
    expect(found.answer.least.value).toBe(Number.POSITIVE_INFINITY);
    expect(found.answer.recommended).toBeNull();
    const { headline, body } = wallsQuestion.text(found, job, "metric");
    expect([...headline, ...body].join(" ")).not.toMatch(/Your wall of 12 mm serves/);
  });
  test("a quick look says that it leaves them out, and does not judge the wall", () => {
    const found = walls(job, { quick: true });
    expect(found.ignored).toContain("neighbor_cavities");
    const { body } = wallsQuestion.text(found, job, "metric");
    expect(body.join(" ")).not.toContain("with bad luck, too");
    expect(body.join(" ")).toContain("is not judged");
    const alone = jobOf(BODIES.neighbors[0], "cavities: 1, wall: 12 mm");
    expect(walls(alone, { quick: true }).ignored).not.toContain("neighbor_cavities");
  });
  test("a run so short that the mold bears it is told to be no more than that", () => {
    const few = jobOf(
      BODIES.neighbors[0],
      `${BODIES.neighbors[1]}, wall: 12 mm`,
      "open: 30 s, shots: 1",
    );
    const found = walls(few);
    const { own, wallLimit, least } = found.answer;
    expect(own.wallPeak).toBeLessThan(wallLimit!);
    expect(own.settledPeak!).toBeCloseTo(runOf(few, {}).settledPeak, 6);
    expect(own.settledPeak!).toBeGreaterThan(wallLimit!);
    expect(least.value).toBe(few.limits.stiff);
    const { body } = wallsQuestion.text(found, few, "metric");
    expect(body.join(" ")).toContain("serves for one shot and not for many more");
    // one whose mold settles below the limit bears as many as one likes
    const cool = jobOf(BODIES.round[0], `${BODIES.round[1]}, wall: 12 mm`, "open: 10 min");
    expect(runOf(cool, {}).settledPeak).toBeLessThan(wallLimit!);
    expect(walls(cool, { likelyOnly: true }).answer.own.settledPeak).toBeNull();
  });
  test("a lever's wall is the least one once it is pulled", () => {
    const { opens, least } = walls(job).answer;
    const fan = opens.find(({ code }) => code === "fan")!;
    expect(fan.gives!.value).toBeLessThan(least.value);
    const pulled: typeof job = {
      ...job,
      run: { ...job.run, fan: true },
      room: { ...job.room, air: "fan" },
    };
    expect(fan.gives!.value).toBeCloseTo(walls(pulled).answer.least.value, 6);
  });
}, 60_000);

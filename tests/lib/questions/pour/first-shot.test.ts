/** A mold that may be clamped is not yet one that may be shot: what it bears by then against what a shot does to its face. */
import { describe, expect, test } from "vitest";
import { readJob } from "../../../../lib/job/job.ts";
import { demold } from "../../../../lib/questions/demold/demold.ts";
import { plan } from "../../../../lib/questions/plan/plan.ts";
import { pour } from "../../../../lib/questions/pour/pour.ts";
import { shots } from "../../../../lib/questions/shots/shots.ts";
import { walls } from "../../../../lib/questions/walls/walls.ts";
import { runCommand } from "../../../../src/cli/command.ts";
import { testWorld } from "../../../src/cli/world.ts";

const jobOf = (more: string, bait = 16) =>
  readJob(`{ bait: { thickness: ${bait} mm, length: 120 mm }, ${more} }`).job;

describe("the face under a first shot", () => {
  test.each(
    (["filled epoxy", "epoxy, room-cured", "polyurethane"] as const).flatMap((material) =>
      [8, 20].flatMap((bait) => [8, 22, 35].map((room) => [material, bait, room] as const)),
    ),
  )("%s, a bait of %d mm, a room of %d degC", (material, bait, room) => {
    const job = jobOf(
      `room: { temperature: ${room} degC }, mold: { material: "${material}", wall: 15 mm }, pour: { material: "${material}", depth: 12 mm }`,
      bait,
    );
    const { firstShot } = pour(job, { quick: true }).answer;
    if (firstShot === null) return;
    // two thick bodies that touch, Carslaw & Jaeger 1959, 2.15: nothing lost at the contact nor to the room
    const { wallPeak } = demold(job, { quick: true }).answer;
    expect(firstShot.face).toBeGreaterThan(wallPeak.value);
    expect(firstShot.face).toBeLessThan(wallPeak.value + 16);
    expect(firstShot.holds).toBe(firstShot.bears > firstShot.face);
  });

  test.each([
    [20, 6, "round"],
    [30, 6, "round"],
    [30, 10, "round"],
    [16, 5, "flat"],
  ])("a bait of %d mm in a wall of %d mm that it warms through, %s", (bait, wall, form) => {
    const { job } = readJob(
      `{ bait: { thickness: ${bait} mm, width: ${form === "flat" ? 3 * bait : bait} mm, length: 120 mm, form: ${form} }, mold: { material: filled epoxy, wall: ${wall} mm }, pour: { depth: 15 mm } }`,
    );
    const { firstShot } = pour(job, { quick: true }).answer;
    const { wallPeak } = demold(job, { quick: true }).answer;
    // the room takes some of the heat meanwhile
    expect(firstShot!.face).toBeGreaterThan(wallPeak.value - 1);
    expect(firstShot!.face).toBeLessThan(wallPeak.value + 25);
  });

  test("hotter plastic, or a mold that starts warm, needs more; a rubber is asked for nothing", () => {
    const faceOf = (more: string) =>
      pour(jobOf(`pour: { depth: 15 mm }${more}`), { quick: true }).answer.firstShot!.face;
    expect(faceOf(", shot: { temperature: 185 degC }")).toBeGreaterThan(faceOf(""));
    expect(faceOf(", run: { preheat: 50 degC }")).toBeGreaterThan(faceOf(""));
    const rubber = jobOf("mold: { material: silicone }, pour: { material: silicone }");
    expect(pour(rubber, { quick: true }).answer.firstShot).toBeNull();
  });

  test("what it bears is no more than it ever gets to in its room, with bad luck", () => {
    for (const depth of [8, 20, 40])
      for (const hardener of ["fast", "slow"]) {
        const { firstShot, glassReached } = pour(
          jobOf(`pour: { depth: ${depth} mm, hardener: ${hardener} }`),
        ).answer;
        if (firstShot !== null)
          expect(firstShot.bears).toBeLessThanOrEqual(glassReached.low + 1e-9);
      }
  });
});

test("the command names the shot beside the clamp only where it bears one", async () => {
  const told: boolean[] = [];
  for (const [depth, hardener] of [
    [10, "slow"],
    [25, "slow"],
    [15, "medium"],
    [20, "fast"],
  ] as const) {
    const text = `{ bait: { thickness: 16 mm, length: 120 mm }, pour: { depth: ${depth} mm, hardener: ${hardener} } }`;
    const world = testWorld({ "job.yaml": text });
    expect(await runCommand(["pour", "job.yaml"], world)).toBe(0);
    const { firstShot, clamp } = pour(readJob(text).job, { brief: true }).answer;
    if (!Number.isFinite(clamp.value) || firstShot === null) continue;
    const { holds } = firstShot;
    told.push(holds);
    expect(/may be clamped and shot/.test(world.printed), `${depth} ${hardener}`).toBe(holds);
    expect(/Before the first shot post-cure it/.test(world.printed)).toBe(!holds);
  }
  expect(told).toContain(false);
});

describe("a limit that holds for the post-cured mold", () => {
  const QUESTIONS = {
    demold: (more: string) => demold(jobOf(more), { quick: true }),
    shots: (more: string) => shots(jobOf(more), { quick: true }),
    plan: (more: string) => plan(jobOf(more), { quick: true }),
    walls: (more: string) => walls(jobOf(more), { quick: true }),
  };
  const told = (name: keyof typeof QUESTIONS, more: string) =>
    QUESTIONS[name](more).cautions.includes("mold_not_post_cured");
  test.each(Object.keys(QUESTIONS) as (keyof typeof QUESTIONS)[])("%s says so", (name) => {
    for (const material of ["filled epoxy", "filled epoxy 45", "epoxy, post-cured"]) {
      const of = (pour: string) =>
        `run: { shots: 4 }, mold: { material: "${material}" }, pour: { ${pour} }`;
      expect(told(name, of("depth: 18 mm")), material).toBe(true);
      // in the oven as it says, or not poured at all
      const oven = "depth: 18 mm, postCure: [{ temperature: 80 degC, hold: 4 h }]";
      expect(told(name, of(oven)), material).toBe(false);
      expect(told(name, of("")), material).toBe(false);
    }
    // judged as it is left in the room, or by what the user says of it
    expect(
      told(name, "mold: { material: 'filled epoxy, room-cured' }, pour: { depth: 18 mm }"),
    ).toBe(false);
    expect(told(name, "limits: { wall: 90 degC }, pour: { depth: 18 mm }")).toBe(false);
  });

  test("a mold of other stuff than is poured has nothing to do with it", () => {
    for (const name of ["demold", "shots", "plan"] as const)
      expect(
        told(name, "mold: { material: aluminum }, pour: { material: filled epoxy, depth: 9 mm }"),
      ).toBe(false);
  });
});

import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, test } from "vitest";
import { checkJob, readJob } from "../../../../lib/job/job.ts";
import { parseJobText } from "../../../../lib/job/text.ts";
import { withSetting } from "../../../../lib/job/with-setting.ts";
import { materialNamed } from "../../../../lib/materials/catalog.ts";
import { pour } from "../../../../lib/questions/pour/pour.ts";
import { type WallsAnswer, walls } from "../../../../lib/questions/walls/walls.ts";
import { wallsQuestion } from "../../../../src/cli/questions/walls.ts";

const job = (name: string, ...settings: readonly (readonly [string, string])[]) =>
  checkJob(
    settings.reduce<Record<string, unknown>>(
      (raw, [path, typed]) => withSetting(raw, path, typed),
      parseJobText(
        readFileSync(new URL(`../../../../data/jobs/${name}.yaml`, import.meta.url), "utf8"),
      ),
    ),
  ).job;

describe("a cold garage", () => {
  let answer: WallsAnswer;
  beforeAll(() => {
    answer = walls(job("cold-garage"));
  }, 60_000);

  test("a wall between half an inch and an inch serves (common practice, no source)", () => {
    const { recommended, least, most } = answer.answer;
    expect(recommended).toBeGreaterThanOrEqual(0.012);
    expect(recommended).toBeLessThanOrEqual(0.0255);
    expect(least.value).toBeLessThan(most.value);
  });
  test("more wall: more resin, a hotter pour, a shorter last shot", () => {
    const { points, mass } = answer.answer;
    for (let i = 1; i < points.length; i++) {
      expect(points[i].mass).toBeGreaterThan(points[i - 1].mass);
      expect(points[i].pourPeak).toBeGreaterThan(points[i - 1].pourPeak - 0.2);
      expect(points[i].lastDemold).toBeLessThan(points[i - 1].lastDemold);
    }
    expect(mass.recommended).toBeGreaterThan(mass.least! - 1e-12);
    expect(mass.most).toBeGreaterThan(mass.recommended!);
  });
  test("the thickest wall is where the pour reaches its limit", () => {
    const { most, points, pourLimit } = answer.answer;
    const below = points.filter((p) => p.wall < 0.95 * most.value);
    const above = points.filter((p) => p.wall > 1.05 * most.value);
    for (const p of below) expect(p.pourPeak).toBeLessThan(pourLimit);
    for (const p of above) expect(p.pourPeak).toBeGreaterThan(pourLimit);
  });
});

test("the unlucky end of the thinnest wall is that of a job with all its luck bad", () => {
  const filled = (bad: number) =>
    walls(
      job(
        "hot-garage",
        ["run.shots", "4"],
        ["limits.wall", "66 degC"],
        ["room.temperature", `${25 + 2 * bad} degC`],
        ["mold.temperature", `${25 + 5 * bad} degC`],
        ["mold.upperTemperature", `${25 + 5 * bad} degC`],
        ["shot.temperature", `${170 + 5 * bad} degC`],
      ),
      { quick: true },
    ).answer.least;
  const { low, high } = filled(0);
  expect(high).toBeCloseTo(filled(1).value, 9);
  expect(low).toBeCloseTo(filled(-1).value, 9);
}, 60_000);

test("a half with granules weighs what its mixture weighs", () => {
  const lightest = (granules: string) =>
    walls(job("hot-garage", ["pour.granules", granules]), { quick: true }).answer.points[0].mass;
  const resin = materialNamed("filled epoxy").density.value;
  const metal = materialNamed("aluminum 6061").density.value;
  // volumes add: 30 % of the resin's room is metal
  const heavier = (0.7 * resin + 0.3 * metal) / resin;
  expect(lightest("30 %") / lightest("0 %")).toBeCloseTo(heavier, 3);
}, 60_000);

test("never past the end that holds with bad luck; in layers where that leaves no wall", () => {
  const { most, mostWithBadLuck, least, recommended, inLayers, mass } = walls(
    job("paddle-shad"),
  ).answer;
  expect(mostWithBadLuck).toBeLessThan(most.low);
  expect(mostWithBadLuck).toBeLessThan(least.value);
  expect(most.value).toBeGreaterThan(least.value);
  expect(recommended).toBeNull();
  expect(mass.recommended).toBeNull();
  expect(inLayers).toBeGreaterThanOrEqual(least.value);
}, 60_000);

test("a wall whose pour does not harden in this room says so", () => {
  const cold = walls(job("cold-garage"), { quick: true });
  expect(cold.answer.hardens).toBe(false);
  expect(cold.answer.recommended).toBeLessThanOrEqual(cold.answer.mostWithBadLuck);
  const { headline } = wallsQuestion.text(cold, job("cold-garage"), "metric");
  expect(headline.join(" ")).toContain("does not harden within a week");
  expect(walls(job("four-kilo-half"), { quick: true }).answer.hardens).toBe(true);
}, 60_000);

test("a mold of one resin and a pour of another are asked about", () => {
  const asked = (mold: string, poured: string) => () =>
    walls(job("cold-garage", ["mold.material", mold], ["pour.material", poured]), { quick: true });
  expect(asked("filled epoxy", "polyurethane")).toThrow(/materials_differ/);
  expect(asked("aluminum 6061", "filled epoxy")).toThrow(/materials_differ/);
  expect(asked("filled epoxy, room-cured", "filled epoxy")).not.toThrow();
}, 60_000);

test("layers are advised where the pour of that wall has some that are safe with bad luck, and else are not", () => {
  const seen = { advised: 0, none: 0 };
  for (const [time, room, stiff] of [
    ["2 h", 25, 30],
    ["8 h", 20, 45],
    ["14 h", 18, 60],
    ["24 h", 20, 60],
  ]) {
    const text = `{ bait: { thickness: 16 mm, length: 120 mm }, room: { temperature: ${room} degC }, limits: { stiff: ${stiff} mm }, pour: { thinFilm: { time: ${time} }, masters: { count: 1 } } }`;
    const { answer } = walls(readJob(text).job, { quick: true });
    if (answer.recommended !== null) continue;
    const wall = 1e3 * (answer.inLayers ?? answer.least.value);
    const poured = readJob(
      text.replace(
        "pour: {",
        `pour: { depth: ${8 + wall} mm, box: { length: ${120 + 2 * wall} mm, width: ${16 + 2 * wall} mm },`,
      ),
    ).job;
    const { layers, layersWorstPeak, limit } = pour(poured, { quick: true, brief: true }).answer;
    const safe = layers.length > 1 && layersWorstPeak! <= limit;
    expect(answer.inLayers !== null, text).toBe(safe);
    seen.advised += Number(safe);
    seen.none += Number(!safe);
  }
  expect(seen.advised).toBeGreaterThan(0);
  expect(seen.none).toBeGreaterThan(0);
}, 60_000);

describe("a hot garage", () => {
  test("no wall serves in one pour, and what opens it", () => {
    const { answer, cautions } = walls(job("hot-garage"));
    expect(answer.most.value).toBeLessThan(answer.least.value);
    expect(answer.recommended).toBeNull();
    expect(answer.mass.recommended).toBeNull();
    expect(answer.opens.map(({ code }) => code)).toEqual(
      expect.arrayContaining(["slower_hardener", "granules", "cooler_room"]),
    );
    // of this hardener no layers are safe with bad luck
    expect(answer.inLayers).toBeNull();
    expect(answer.opens.map(({ code }) => code)).not.toContain("layers");
    for (const { gives } of answer.opens)
      if (gives) expect(gives.value).toBeGreaterThan(answer.most.value);
    expect(cautions).toContain("pour_not_recommended");
  }, 60_000);
  test("a room-cured mold overheats over the run at every wall", () => {
    const { answer, cautions } = walls(
      job("hot-garage", ["mold.material", "filled epoxy, room-cured"]),
      { quick: true },
    );
    expect(answer.least.value).toBe(Number.POSITIVE_INFINITY);
    expect(answer.leastDecidedBy).toBe("overheating");
    expect(answer.opens.map(({ code }) => code)).toContain("post_cure");
    expect(cautions).toContain("wall_above_limit");
  }, 60_000);
});

describe("what the clamp asks for is the shop's own to say", () => {
  const withStiff = (stiff: string) => walls(job("cold-garage", ["limits.stiff", stiff])).answer;

  test("a wall that bears the clamp at 17 mm is looked at, and is the least", () => {
    const { least, leastDecidedBy, recommended, points } = withStiff("17 mm");
    expect(least).toMatchObject({ value: 0.017, low: 0.017, high: 0.017 });
    expect(leastDecidedBy).toBe("stiffness");
    expect(recommended).toBeGreaterThanOrEqual(0.017);
    expect(points.map(({ wall }) => wall)).toContain(0.017);
  });
  test("where thinner ones bear it, the shots decide", () => {
    const { least, leastDecidedBy, points, wallLimit } = withStiff("2 mm");
    const at = points.findIndex(({ wall }) => wall >= least.value);
    expect(least.value).toBeGreaterThanOrEqual(0.002);
    expect(leastDecidedBy).toBe(least.value > 0.002 ? "overheating" : "stiffness");
    expect(points[at].wallPeak).toBeLessThanOrEqual(wallLimit!);
  });
}, 60_000);

describe("a mold that the first shot takes past what it bears", () => {
  const { job: given } = checkJob(
    parseJobText(`
room: { temperature: 75 degF }
bait: { thickness: 1 in, length: 6 in }
mold: { material: polyurethane, wall: 1 in }
`),
  );
  const answer = walls(given);

  test("is poured of its own resin where nothing else is said", () => {
    expect(given.pour.material.name).toBe("polyurethane");
  });
  test("no rest is offered, and no wall called too thin where none serves", () => {
    expect(answer.answer.least.value).toBe(Number.POSITIVE_INFINITY);
    const codes = answer.answer.opens.map(({ code }) => code);
    // `shots` of the same mold: the first shot does it, so a rest can't help
    expect(codes).not.toContain("longer_open");
    const said = wallsQuestion.text(answer, given, "shop-us").body.join(" ");
    expect(said).not.toContain("too thin");
    expect(said).toContain("does not serve either");
  });
  test("granules come with the caution of their dust", () => {
    expect(answer.answer.opens.map(({ code }) => code)).toContain("granules");
    expect(answer.cautions).toContain("metal_powder");
  });
});

import { readFileSync } from "node:fs";
import fc from "fast-check";
import { expect, test } from "vitest";
import { simulate } from "../../../../lib/heat/simulate.ts";
import { type Job, readJob } from "../../../../lib/job/job.ts";
import type { Scenario } from "../../../../lib/models/scenario.ts";
import { fattestOf, stationParts } from "../../../../lib/models/sprue/body.ts";
import { hollowProblem, stateAt, timeBelow, warmed } from "../../../../lib/models/sprue/cooling.ts";
import { demold } from "../../../../lib/questions/demold/demold.ts";
import { diameterFor, feedOf } from "../../../../lib/questions/sprue/feed.ts";
import { fillsUntil, preheatFor } from "../../../../lib/questions/sprue/fill.ts";
import { neckOf } from "../../../../lib/questions/sprue/neck.ts";
import { defectOf, shrinkLeft, shrinkShare } from "../../../../lib/questions/sprue/shrink-left.ts";
import { sprue } from "../../../../lib/questions/sprue/sprue.ts";
import { InputError } from "../../../../lib/units/problem.ts";
import { ZERO as C, earlierAround, earlierJob } from "../earlier-case.ts";

const job = (name: string) =>
  readJob(readFileSync(new URL(`../../../../data/jobs/${name}.yaml`, import.meta.url), "utf8")).job;
const round = (mm: number) => ({ form: "round" as const, across: mm / 1000 });
const flat = (mm: number) => ({ form: "flat" as const, across: mm / 1000 });
const near = (x: number, expected: number, share: number) =>
  expect(Math.abs(x / expected - 1), `${x} against ${expected}`).toBeLessThan(share);

// ---- our own earlier calculation (regression: same inputs, another program), printed to the digits given

/** Set below 130 degC, fills above 130 degC. */
const earlier = (change: (job: Job) => Job = (same) => same): Scenario => ({
  job: earlierJob("{ thickness: 16 mm }", (own) =>
    change({ ...own, limits: { ...own.limits, set: 130 + C, fill: 130 + C } }),
  ),
  airFactor: 1,
  around: earlierAround(10, 20),
});
const base = earlier();

test.each([
  [4, 9],
  [6, 19],
  [8, 33],
  [10, 50],
  [12, 72],
])("regression: sprue of %d mm closes after %d s", (mm, expected) => {
  const { time } = timeBelow(base, round(mm), "center", 130 + C);
  // whole seconds were printed: the 4 mm one, 8.67 s, is 3.7 % off 9 but rounds to it
  if (mm === 4) expect(Math.round(time)).toBe(expected);
  else near(time, expected, 0.03);
});

test.each([
  [6, 12, 126, 6.1],
  [6, 16, 137, 6.7],
  [6, 25, 149, 7.4],
  [12, 12, 85, 3.6],
  [12, 16, 104, 4.7],
  [12, 25, 127, 6.1],
])(
  "regression: behind %d mm, a body of %d mm is at %d degC, %d %% left",
  (mm, body, mean, percent) => {
    const { time } = timeBelow(base, round(mm), "center", 130 + C);
    const state = stateAt(base, round(body), [time]);
    expect(Math.abs(state.mean[0] - C - mean)).toBeLessThan(1);
    // that calculation took the shrinking linear, expansion times cooling to 25 degC
    near((state.mean[0] - C - 25) * 6e-4, percent / 100, 0.03);
    // the law here is the exponential one, by shells: lower by half its square, 1.8 to 3.7 % of itself
    const { left } = shrinkLeft(state.shells[0], 6e-4, 130 + C, 25 + C);
    const exact = -Math.expm1(-(percent / 100));
    near(left, exact, 0.03);
  },
);

test.each([
  // thickness mm; s at a mold of 5, 20, 45, 65 degC as printed; computed less printed in %
  [1, [0.7, 0.9, 1.1, 1.5], [2.6, -8.3, -1.6, -5.3]],
  [2, [2.1, 2.4, 3.2, 4.3], [-3.0, -1.3, -0.4, -0.5]],
  [3, [4.0, 4.6, 6.3, 8.6], [-1.8, 0.1, -0.2, -0.7]],
])("regression: a sheet of %d mm fills until, by mold temperature", (mm, printed, off) => {
  [5, 20, 45, 65].forEach((mold, i) => {
    // the outside air is as warm as the mold there; over seconds it does not matter
    const until = fillsUntil(warmed(base, mold + C), flat(mm));
    // Tenths of a second were printed. Two figures of the 1 mm sheet are off by more than that and 3 %: this one is
    // within 1e-4 of its own value on a grid four times finer (next test), so the earlier steps were too long there.
    near(until / printed[i], 1 + off[i] / 100, 0.001);
    if (mm > 1) expect(Math.abs(off[i])).toBeLessThan(3.05);
  });
});

test("seconds to fill do not depend on the grid", () => {
  const warm = warmed(base, 20 + C);
  const fine = simulate({
    ...hollowProblem(warm, flat(1)),
    stages: [{ until: 5 }],
    crossings: [{ probe: "mean", below: 130 + C }],
    resolution: 4,
    tolerance: 1e-6,
  });
  near(fillsUntil(warm, flat(1)), fine.crossings[0].time!, 3e-4);
});

// ---- closed forms

test("a long bar with a held face: center by the series of Bessel functions", () => {
  // Carslaw & Jaeger 1959, 7.6(10): (T - Ts)/(T0 - Ts) = 2 sum exp(-b2 Fo) / (b J1(b)); one term from Fo 0.2 on:
  // Incropera & DeWitt table 5.1, Bi infinite: C1 1.6021, b1 2.4048
  const held = earlier((j) => ({
    ...j,
    mold: {
      ...j.mold,
      material: {
        ...j.mold.material,
        conductivity: { ...j.mold.material.conductivity, value: 1e5 },
        density: { ...j.mold.material.density, value: 1e7 },
      },
      contact: 1e7,
    },
  }));
  const { time } = timeBelow(held, round(16), "center", 65 + C);
  const diffusivity = 0.16 / 1050 / 1900;
  const Fo = Math.log(1.6021 / ((65 - 20) / (170 - 20))) / 2.4048 ** 2;
  near(time, (Fo * 0.008 ** 2) / diffusivity, 2e-3);
  // Incropera & DeWitt table 5.1, sheet, Bi infinite: C1 1.2732, b1 pi/2
  const sheet = timeBelow(held, flat(6), "center", 65 + C).time;
  const FoSheet = Math.log(1.2732 / ((65 - 20) / (170 - 20))) / (Math.PI / 2) ** 2;
  near(sheet, (FoSheet * 0.003 ** 2) / diffusivity, 2e-3);
  // and its mean: 8/pi2 exp(-pi2 Fo/4)
  const mean = timeBelow(held, flat(6), "mean", 65 + C).time;
  near(
    mean,
    (Math.log(8 / Math.PI ** 2 / 0.3) / (Math.PI / 2) ** 2) * (0.003 ** 2 / diffusivity),
    2e-3,
  );
});

test("shrinking: by the law of expansion, and nothing where nothing changes", () => {
  near(shrinkShare(7e-4, 443.15, 293.15), 1 - Math.exp(-0.105), 1e-12);
  expect(shrinkShare(7e-4, 300, 300)).toBe(0);
  const even = { share: Float64Array.of(0.3, 0.7), T: Float64Array.of(400, 400) };
  near(shrinkLeft(even, 7e-4, 390, 300).left, shrinkShare(7e-4, 400, 300), 1e-12);
  near(shrinkLeft(even, 7e-4, 390, 300).unfed, shrinkShare(7e-4, 400, 390), 1e-12);
  expect(shrinkLeft(even, 7e-4, 401, 300)).toMatchObject({ unfed: 0, fluid: 0 });
});

test("mean of the shells is the mean of the engine", () => {
  const state = stateAt(base, round(16), [5, 30, 120]);
  state.shells.forEach(({ share, T }, i) => {
    near(
      share.reduce((a, b) => a + b),
      1,
      1e-6,
    );
    const mean = share.reduce((sum, s, k) => sum + s * T[k], 0);
    expect(Math.abs(mean - state.mean[i])).toBeLessThan(0.3);
  });
});

test("what is drawn in is what the hot plastic lost in volume", () => {
  const { job: own } = base;
  const { fattest, drawnVolume, parts } = feedOf(base);
  const expansion = own.shot.material.plastisol!.expansion.value;
  // by the mean; the spread of temperatures about it adds half their variance times expansion squared, under 2 %
  near(fattest.drawn, Math.expm1(expansion * (own.shot.temperature - fattest.mean)), 0.02);
  near(drawnVolume, fattest.drawn * parts[0]!.part.volume, 1e-12);
  near(parts[0]!.part.volume, (Math.PI / 4) * 0.016 ** 2 * own.bait.length, 1e-4);
});

// ---- properties

const sized = (d: number, more = "") =>
  readJob(`{ bait: { thickness: ${d} mm }, sprue: { diameter: 8 mm } ${more} }`).job;

test("a fatter sprue closes later and leaves less; a fatter body is left with more", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 3, max: 11, noNaN: true }),
      fc.double({ min: 10, max: 40, noNaN: true }),
      (d, body) => {
        const of = (diameter: number, thickness: number) =>
          feedOf(
            {
              job: readJob(
                `{ bait: { thickness: ${thickness} mm }, sprue: { diameter: ${diameter} mm } }`,
              ).job,
              airFactor: 1,
            },
            { quick: true },
          );
        const one = of(d, body);
        const fatter = of(d * 1.1, body);
        expect(fatter.closes).toBeGreaterThan(one.closes);
        expect(fatter.fattest.left).toBeLessThan(one.fattest.left);
        expect(fatter.fattest.unfed).toBeLessThanOrEqual(one.fattest.unfed + 1e-9);
        expect(of(d, body * 1.1).fattest.left).toBeGreaterThan(one.fattest.left);
        expect(one.fattest.unfed).toBeLessThan(one.fattest.left);
      },
    ),
    { numRuns: 25, seed: 5 },
  );
});

test("the diameter that is asked for stays open just as long", () => {
  const closesAt = (across: number) =>
    timeBelow(base, { form: "round", across }, "center", 130 + C, { quick: true }).time;
  const closes = closesAt(base.job.sprue.diameter);
  fc.assert(
    fc.property(fc.double({ min: 2, max: 400, noNaN: true }), (need) => {
      near(closesAt(diameterFor(base, need, closes)), need, 0.005);
    }),
    { numRuns: 12, seed: 5 },
  );
});

test("a thicker tail, a warmer mold or a hotter shot stays open to flow for longer", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0.8, max: 6, noNaN: true }),
      fc.double({ min: 0, max: 80, noNaN: true }),
      (mm, mold) => {
        const quick = { quick: true };
        const warm = warmed(base, mold + C);
        const until = fillsUntil(warm, flat(mm), quick);
        expect(fillsUntil(warm, flat(mm * 1.1), quick)).toBeGreaterThan(until);
        expect(fillsUntil(warmed(base, mold + 5 + C), flat(mm), quick)).toBeGreaterThan(until);
        const { job: own } = warm;
        const hotter = { ...own, shot: { ...own.shot, temperature: own.shot.temperature + 5 } };
        expect(fillsUntil({ ...warm, job: hotter }, flat(mm), quick)).toBeGreaterThan(until);
      },
    ),
    { numRuns: 25, seed: 5 },
  );
});

test("preheating buys the time that is asked for", () => {
  fc.assert(
    fc.property(fc.double({ min: 1.6, max: 4, noNaN: true }), (need) => {
      const warm = preheatFor(base, flat(1.5), { need, start: 20 + C, warmest: 110 + C })!;
      near(fillsUntil(warmed(base, warm), flat(1.5)), need, 0.01);
    }),
    { numRuns: 8, seed: 5 },
  );
  expect(preheatFor(base, flat(1.5), { need: 1, start: 20 + C, warmest: 110 + C })).toBe(20 + C);
  expect(preheatFor(base, flat(1), { need: 60, start: 20 + C, warmest: 80 + C })).toBeNull();
});

test("a dent under a thin skin, a void under a stiff one, neither when little is missing", () => {
  const limits = { tolerated: 0.005, stiffSkin: 0.3 };
  expect(defectOf(0.004, 0.1, limits)).toBe("none");
  expect(defectOf(0.02, 0.29, limits)).toBe("dent");
  expect(defectOf(0.02, 0.3, limits)).toBe("void");
});

// ---- the scenarios

test("thin tail on a fat body: two stations, and what preheating buys and costs", () => {
  const { answer } = sprue(job("paddle-shad"));
  expect(answer.stations.map((s) => s.name)).toEqual(["body", "tail stem", "paddle"]);
  expect(answer.fill.station).toBe("tail stem");
  expect(answer.fill.until.value).toBeGreaterThan(2);
  expect(answer.fill.until.value).toBeLessThan(3.2);
  expect(answer.fill.fills).toBe("perhaps");
  expect(answer.fill.preheat! - C).toBeGreaterThan(25);
  expect(answer.fill.opensPreheated! / answer.fill.opensAt).toBeGreaterThan(1.1);
  // a mold that is preheated so far needs no more, and is not told to
  const warm = { ...job("paddle-shad"), run: { ...job("paddle-shad").run, preheat: 70 + C } };
  expect(sprue(warm, { quick: true }).answer.fill).toMatchObject({
    preheat: null,
    opensPreheated: null,
  });
  expect(answer.section).not.toBeNull();
  // advised to be so hot that it burns
  const slow = { ...job("paddle-shad"), shot: { ...job("paddle-shad").shot, fill: 4 } };
  const hot = sprue(slow, { quick: true });
  expect(hot.answer.fill.preheat! - C).toBeGreaterThan(65);
  expect(hot.cautions).toContain("hot_mold");
  // a body of 15 by 18 mm is well met by the round bar that stands for it
  expect(Math.abs(answer.section!.barAbove)).toBeLessThan(1.5);
});

test.each([
  [8, 33, 142, 0.07],
  [12, 72, 127, 0.061],
])(
  "regression: our own earlier 25 mm body behind %d mm, as a whole answer",
  (mm, closes, mean, left) => {
    const own = earlierJob("{ thickness: 25 mm, length: 150 mm }", (j) => ({
      ...j,
      shot: {
        ...j.shot,
        material: {
          ...j.shot.material,
          plastisol: {
            ...j.shot.material.plastisol!,
            expansion: { value: 6e-4, low: 6e-4, high: 6e-4, source: "test" },
          },
        },
      },
      // it shrinks to 25 degC there
      room: { ...j.room, temperature: 25 + C },
      mold: { ...j.mold, temperature: 20 + C, upperTemperature: 20 + C },
      limits: { ...j.limits, set: 130 + C },
      sprue: {
        ...j.sprue,
        diameter: mm / 1000,
        length: 0.06,
        gate: { ...j.sprue.gate, width: mm / 1000, height: mm / 1000, length: 0.003 },
      },
    }));
    const { answer } = sprue(own, { quick: true, around: earlierAround(10, 20) });
    near(answer.closes.value, closes, 0.03);
    expect(Math.abs(answer.bodyMean.value - C - mean)).toBeLessThan(1);
    near(answer.shrinkLeft.value, -Math.expm1(-left), 0.03);
    expect(answer.defect).toBe("dent");
    near(answer.baitMass, 0.077, 0.01);
    if (mm === 8) near(answer.sprueMass, 0.0032, 0.02);
  },
);

test("25 mm of plastic behind 8 mm: a dent, and no sprue feeds it", () => {
  const { answer } = sprue(job("pike-body"));
  expect(answer.closes.low).toBeGreaterThan(20);
  expect(answer.closes.low).toBeLessThan(33);
  expect(answer.closes.high).toBeGreaterThan(33);
  expect(answer.shrinkLeft.low).toBeLessThan(0.07);
  expect(answer.shrinkLeft.high).toBeGreaterThan(0.07);
  expect(answer.defect).toBe("dent");
  expect(answer.diameterNeeded).toBeNull();
  expect(answer.noneSuffices).toEqual({ code: "body_too_fat", name: "body" });
  expect(answer.levers.map(({ code }) => code)).toContain("fatter_sprue");
  // the set temperature is a guess, and makes most of the range
  expect(answer.cause).toMatchObject({
    name: "shot.material.setTemperature",
    measure: "measure_set",
  });
  expect(answer.baitMass).toBeGreaterThan(0.068);
  expect(answer.baitMass).toBeLessThan(0.08);
});

test("thin bodies are fed, and the answer says by which sprue", () => {
  const { answer } = sprue(sized(9), { quick: true });
  expect(answer.defect).toBe("none");
  expect(answer.noneSuffices).toBeNull();
  expect(answer.diameterNeeded!.value).toBeLessThanOrEqual(0.009);
});

test("a narrow gate closes first; letting go early leaves more unfed", () => {
  const gate = sized(16, "");
  const narrow = sprue(
    readJob(
      "{ bait: { thickness: 16 mm }, sprue: { diameter: 8 mm, gate: { width: 4 mm, height: 2 mm } } }",
    ).job,
    { quick: true },
  ).answer;
  expect(narrow.decidedBy).toEqual({ code: "gate_closes" });
  expect(narrow.closes.value).toBe(narrow.gateCloses.value);
  const whole = sprue(gate, { quick: true }).answer;
  expect(whole.decidedBy).toEqual({ code: "sprue_closes" });
  const early = sprue(
    readJob("{ bait: { thickness: 16 mm }, sprue: { diameter: 8 mm, hold: 10 s } }").job,
    { quick: true },
  ).answer;
  expect(early.unfed.value).toBeGreaterThan(whole.unfed.value);
  expect(early.levers[0]!.code).toBe("longer_hold");
  near(early.levers[0]!.gives!.value, whole.unfed.value, 0.02);
});

test("behind a gate that closes first the lever is the gate, and a fatter sprue alone changes nothing", () => {
  const text = (diameter: number) =>
    `{ bait: { thickness: 16 mm }, sprue: { diameter: ${diameter} mm, gate: { width: 2 mm, height: 1 mm } } }`;
  const unfed = (job: string) => sprue(readJob(job).job, { quick: true }).answer.unfed.value;
  const { levers } = sprue(readJob(text(6)).job, { quick: true }).answer;
  const codes = levers.map(({ code }) => code);
  expect(codes).not.toContain("fatter_sprue");
  near(unfed(text(8)), unfed(text(6)), 1e-3);
  const wider = levers.find(({ code }) => code === "wider_gate")!;
  near(
    wider.gives!.value,
    unfed("{ bait: { thickness: 16 mm }, sprue: { diameter: 6 mm } }"),
    0.02,
  );
});

test("a gate that was typed stays behind a fatter sprue: the lever has both follow", () => {
  const text = (sprue: string) => `{ bait: { thickness: 20 mm }, sprue: { ${sprue} } }`;
  const answered = (own: string) => sprue(readJob(text(own)).job, { quick: true }).answer;
  const typed = answered("diameter: 8 mm, gate: { width: 8 mm, height: 8 mm }");
  const followed = answered("diameter: 8 mm");
  const code = "fatter_sprue_and_gate";
  expect(typed.unfed).toEqual(followed.unfed);
  expect(followed.levers.map((lever) => lever.code)).toContain("fatter_sprue");
  expect(typed.levers.map((lever) => lever.code)).not.toContain("fatter_sprue");
  const lever = typed.levers.find((one) => one.code === code)!;
  const pulled = answered("diameter: 10 mm, gate: { width: 10 mm, height: 10 mm }");
  near(lever.gives!.value, pulled.unfed.value, 0.02);
  // alone it gains nothing
  const alone = answered("diameter: 10 mm, gate: { width: 8 mm, height: 8 mm }");
  near(alone.unfed.value, typed.unfed.value, 0.02);
});

test("the fattest part opens as demold says, whichever half of the mold is the warmer one", () => {
  const text = (lower: number, upper: number) =>
    `{ bait: { thickness: 16 mm }, mold: { temperature: ${lower} degC, upperTemperature: ${upper} degC }, shot: { fill: 29 s } }`;
  const [one, other] = [text(20, 60), text(60, 20)].map((own) => readJob(own).job);
  const times = [one, other].map((job) => sprue(job!, { quick: true }).answer.fill.opensAt);
  near(times[0]!, times[1]!, 1e-6);
  near(times[0]!, demold(one!, { quick: true }).answer.time.value, 0.03);
});

test("what leaves as much unfed as there is already is no lever", () => {
  // the hold ends the feeding, not the gate
  const held =
    "{ bait: { thickness: 9.5 mm }, sprue: { diameter: 5 mm, hold: HOLD, gate: { width: 3 mm, height: 3 mm, length: 3 mm } } }";
  for (const hold of ["3 s", "5 s", "1 min"]) {
    const { levers, unfed } = sprue(readJob(held.replace("HOLD", hold)).job, {
      quick: true,
    }).answer;
    for (const { gives } of levers)
      if (gives !== undefined) expect(gives.value).toBeLessThan(0.99 * unfed.value);
    expect(levers.map(({ code }) => code)).toContain(
      hold === "1 min" ? "wider_gate" : "longer_hold",
    );
    if (hold === "3 s") expect(levers.map(({ code }) => code)).not.toContain("wider_gate");
  }
});

test("a shot that has set already is refused, by file or by material", () => {
  expect(() =>
    readJob(
      "{ bait: { thickness: 16 mm }, limits: { set: 158 degC }, shot: { temperature: 160 degC } }",
    ),
  ).toThrow(/limit_above_shot/);
  const own = readJob(`
bait: { thickness: 16 mm }
materials: [{ name: stiff, like: soft plastisol, setTemperature: 158 degC }]
shot: { material: stiff, temperature: 157 degC }`).job;
  expect(() => sprue(own)).toThrow(InputError);
  // near it: some of the cases of the range set at once
  const near158 = readJob(`
bait: { thickness: 16 mm }
materials: [{ name: stiff, like: soft plastisol, setTemperature: 155 degC }]
shot: { material: stiff, temperature: 158 degC }`).job;
  expect(sprue(near158, { quick: true }).answer.closes.low).toBeGreaterThanOrEqual(0);
});

test("a short narrow gate stays open longer than a long one: hot plastic on both ends", () => {
  const gated = (length: number) =>
    readJob(
      `{ bait: { thickness: 25 mm }, sprue: { diameter: 8 mm, gate: { width: 5 mm, height: 5 mm, length: ${length} mm } } }`,
    ).job;
  const long = timeBelow({ job: gated(3), airFactor: 1 }, round(5), "center", 120 + C).time;
  const necks = [3, 6, 20].map((length) => {
    const scenario = { job: gated(length), airFactor: 1 };
    return neckOf(scenario, fattestOf(stationParts(scenario.job)));
  });
  const [short, middle, bar] = necks.map(({ gateCloses }) => gateCloses);
  expect(short!).toBeGreaterThan(middle!);
  expect(short! / long).toBeGreaterThan(1.3);
  // four widths long it is the long bar, and the long sprue of 8 mm is one anyway
  near(bar!, long, 0.01);
  const sprueBar = timeBelow({ job: gated(3), airFactor: 1 }, round(8), "center", 120 + C).time;
  for (const { sprueCloses } of necks) near(sprueCloses, sprueBar, 0.01);
  // the answer takes it, and a quick one says that it doesn't
  const full = sprue(gated(3));
  near(full.answer.gateCloses.value, short!, 0.01);
  expect(full.ignored).not.toContain("sprue_ends");
  const quick = sprue(gated(3), { quick: true });
  near(quick.answer.gateCloses.value, long, 0.01);
  expect(quick.ignored).toContain("sprue_ends");
});

test("a mold that is warmer than the plastic sets never closes the sprue", () => {
  const { answer } = sprue(
    readJob(
      "{ bait: { thickness: 16 mm }, mold: { temperature: 118 degC }, room: { temperature: 50 degC }, limits: { set: 100 degC } }",
    ).job,
    { quick: true },
  );
  expect(answer.closes.value).toBeGreaterThan(60);
  expect(Number.isNaN(answer.closes.high)).toBe(false);
});

test("how long a tail stays open to flow has a range that moves evenly, and stands still with more members", () => {
  const own = job("plate-behind");
  const highAt = (warmer: number) => {
    const mold = { ...own.mold, temperature: own.mold.temperature + warmer };
    const { high } = sprue({ ...own, mold }, { quick: true }).answer.fill.until;
    return high;
  };
  const highs = [0.25, 0.5, 0.75, 1].map(highAt);
  highs.slice(1).forEach((high, i) => {
    near(high, highs[i], 0.02);
  });
  // what 256 and 512 members say of the fattest tail: 126 s
  near(sprue(job("pike-body"), { quick: true }).answer.fill.until.high, 126, 0.05);
});

import { describe, expect, test } from "vitest";
import { readJob } from "../../../../lib/job/job.ts";
import { type Bench, timelineOf } from "../../../../lib/models/shots/timeline.ts";
import { plan } from "../../../../lib/questions/plan/plan.ts";
import { shots } from "../../../../lib/questions/shots/shots.ts";
import { InputError } from "../../../../lib/units/problem.ts";

/** Five minutes each, a minute and a half of hands. */
const bench = (molds: number, session = 3600): Bench => ({
  molds,
  hands: 90,
  open: 60,
  session,
  hold: 0,
  openAfter: () => ({ value: 300, low: 250, high: 400 }),
});

describe("the evening's line, by hand", () => {
  test("one mold: 300 s cooling and 90 s of hands", () => {
    const shots = timelineOf(bench(1));
    expect(shots.slice(0, 3).map(({ injected, opened }) => [injected, opened])).toEqual([
      [0, 300],
      [390, 690],
      [780, 1080],
    ]);
    // the last that opens within the hour: 390 n + 300 <= 3600
    expect(shots).toHaveLength(9);
    expect(shots[0]).toMatchObject({ mayOpen: 250, likely: 300, surely: 400, ofMold: 1, mold: 1 });
  });

  test("one injector: the next mold waits until the sprue of the one before has closed", () => {
    const shots = timelineOf({ ...bench(2), hold: 120 });
    expect(shots.slice(0, 3).map(({ mold, injected }) => [mold, injected])).toEqual([
      [1, 0],
      [2, 120],
      [1, 390],
    ]);
    const times = shots.map(({ injected }) => injected);
    for (const [i, at] of times.slice(1).entries())
      expect(at - times[i]!).toBeGreaterThanOrEqual(120);
  });

  test("two molds start one after the other, and take turns", () => {
    const shots = timelineOf(bench(2));
    expect(shots.slice(0, 4).map(({ mold, injected }) => [mold, injected])).toEqual([
      [1, 0],
      [2, 90],
      [1, 390],
      [2, 480],
    ]);
  });

  test("a day of quick hands has as many shots as it has time for", () => {
    const day = {
      ...bench(12, 86400),
      hands: 5,
      open: 5,
      openAfter: () => ({ value: 30, low: 20, high: 40 }),
    };
    // hands bind: a shot each 5 s until the last that opens within the day, but for the turn in which the first is opened
    expect(timelineOf(day)).toHaveLength((86400 - 30) / 5);
  });

  test("a day of one-second hands and cups of one shot is planned to its end", () => {
    const { job } = readJob(
      "{ bait: { thickness: 1.7 mm, length: 1000 mm }, mold: { material: aluminum 6061 }, cup: { mass: 5 g }, sprue: { diameter: 1 mm, hold: 0 s }, run: { molds: 12, session: 24 h, hands: 1 s, open: 1 s } }",
    );
    const { answer } = plan(job, { quick: true });
    // no two injections within the same second of hands
    expect(answer.pieces.value).toBeLessThan(86400);
    const cycle = Math.max(12, answer.settled.value + 1);
    expect(answer.pieces.value / ((12 * 86400) / cycle)).toBeCloseTo(1, 1.5);
    expect(answer.shots.length + answer.cups.length).toBeGreaterThan(140_000);
    expect(answer.pieces.low).toBeLessThanOrEqual(answer.pieces.value);
    // from the first cup, 8 min before, to the last opening
    expect(answer.lasts).toBeGreaterThan(86400);
    expect(answer.lasts).toBeLessThanOrEqual(86400 + 480 + 1e-6);
  }, 60_000);

  test("with many molds the hands set the pace: one shot each 90 s", () => {
    const shots = timelineOf(bench(8));
    const opened = shots.map((s) => s.opened).sort((a, b) => a - b);
    for (let i = 1; i < opened.length; i++)
      expect(opened[i]! - opened[i - 1]!).toBeGreaterThanOrEqual(90);
    for (const { opened: at, likely } of shots) expect(at).toBeGreaterThanOrEqual(likely);
  });

  test("a shot that ran late moves all that follows, and nothing before it", () => {
    const late = timelineOf(bench(1), [
      { mold: 1, injected: 0, opened: 500 },
      { mold: 1, injected: 640, opened: null },
    ]);
    expect(late.slice(0, 3).map(({ injected, opened, done }) => [injected, opened, done])).toEqual([
      [0, 500, true],
      [640, 940, true],
      [1030, 1330, false],
    ]);
    expect(late.length).toBeLessThanOrEqual(timelineOf(bench(1)).length);
  });

  test.each([
    [
      "another mold not yet filled",
      [
        [1, 300, 360],
        [1, 390, 420],
      ],
    ],
    [
      "two molds opened at once",
      [
        [1, 0, 300],
        [2, 90, 310],
      ],
    ],
    [
      "a mold that lay idle since long",
      [
        [1, 7500, 7920],
        [2, 0, 600],
      ],
    ],
  ] as const)(
    "after a log nothing is planned into the past, nor two shots for one pair of hands: %s",
    (_, lines) => {
      const log = lines.map(([mold, injected, opened]) => ({ mold, injected, opened }));
      const now = Math.max(...log.map(({ opened }) => opened));
      const shots = timelineOf(bench(2, 14400), log);
      const planned = shots.filter(({ done }) => !done);
      expect(new Set(planned.map(({ mold }) => mold)).size).toBe(2);
      for (const { injected } of planned) expect(injected).toBeGreaterThanOrEqual(now);
      const times = shots.map(({ injected }) => injected).filter((at) => at >= now - 90);
      for (let i = 1; i < times.length; i++)
        expect(times[i]! - times[i - 1]!).toBeGreaterThanOrEqual(90);
    },
  );

  test("never cool enough, or a session too short: no shot", () => {
    expect(timelineOf(bench(1, 200))).toEqual([]);
    const never = {
      ...bench(1),
      openAfter: () => ({
        value: Number.POSITIVE_INFINITY,
        low: 1,
        high: Number.POSITIVE_INFINITY,
      }),
    };
    expect(timelineOf(never)).toEqual([]);
  });
});

const job = (more: string) =>
  readJob(
    `bait: { thickness: 8 mm, length: 80 mm }\nrun: { session: 40 min, molds: 2, shots: 4 }\n${more}`,
  ).job;
const asked = (more = "", log?: Parameters<typeof plan>[1]) =>
  plan(job(more), { quick: true, ...log }).answer;

test("cups, grams and cost add up", () => {
  const { shots, cups, plastic, plasticInAll, pieces, cost } = asked(
    "cup: { mass: 60 g }\nmix: { plastic: { color: 4 %, hardener: 6 %, waste: 10 % } }\nplan: { prices: { plastic: 20, labor: 30, extras: 0.2 } }\nmold: { cavities: 2 }",
  );
  expect(pieces.value).toBe(2 * shots.length);
  expect(cups.reduce((sum, cup) => sum + cup.plastic.shots, 0)).toBe(shots.length);
  expect(cups.reduce((sum, cup) => sum + cup.plastic.mass, 0)).toBeCloseTo(plastic.mass, 9);
  for (const cup of cups) expect(cup.plastic.mass).toBeLessThanOrEqual(0.06);
  expect(plastic.plain + plastic.color + plastic.hardener).toBeCloseTo(plastic.mass, 9);
  expect(plastic.color / plastic.mass).toBeCloseTo(0.04, 9);
  // the command and its sheet take one range
  expect(plasticInAll.value).toBe(plastic.mass);
  expect(plasticInAll.high - plasticInAll.low).toBeCloseTo(0.1 * plastic.mass, 9);
  expect(cost!.each).toBeCloseTo(cost!.plastic! + cost!.labor! + 0.2, 9);
  expect(cost!.plastic).toBeCloseTo((20 * plastic.mass) / pieces.value, 9);
});

test("nothing asks for prices; a cup held too long is told", () => {
  expect(asked().cost).toBeNull();
  const hot = plan(
    job("cup: { yellowed: { temperature: 170 degC, duration: 5 min }, mass: 1 kg }"),
    { quick: true },
  );
  expect(hot.answer.cups[0]!.lasts).toBe(false);
  expect(hot.cautions).toContain("plastisol_fumes");
});

test("an evening that began a quarter of an hour late lasts from its own first cup on", () => {
  const log = [{ mold: 1, injected: 900, opened: 1700 }];
  const { shots, cups, lasts } = plan(job("plan: { heating: 5 min }"), { quick: true, log }).answer;
  expect(cups[0]!.heated).toBeCloseTo(900 - 300, 6);
  expect(lasts).toBeCloseTo(Math.max(...shots.map(({ opened }) => opened)) - 600, 6);
});

test("a log of molds that are not there, or that runs backwards, is refused", () => {
  const codes = (log: Parameters<typeof timelineOf>[1]) => {
    try {
      plan(job(""), { quick: true, log: log! });
      return [];
    } catch (error) {
      return (error as InputError).problems.map(({ code, path }) => `${code} ${path}`);
    }
  };
  expect(codes([{ mold: 3, injected: 0, opened: 100 }])).toEqual(["no_such_mold line 2, mold"]);
  expect(codes([{ mold: 1, injected: 200, opened: 100 }])).toEqual([
    "opened_before_filled line 2, opened",
  ]);
  const twice = { mold: 1, injected: 300, opened: 1200 };
  const once = { mold: 1, injected: 0, opened: 720 };
  for (const [log, line] of [
    [[once, twice], 3],
    [[twice, once], 2],
  ] as const)
    expect(codes(log)).toEqual([`mold_still_closed line ${line}, injected`]);
  // in any order, where each mold is filled and opened by turns
  expect(codes([{ mold: 1, injected: 800, opened: 1200 }, once])).toEqual([]);
});

test("a mold that lasts no shot is refused: its price over none has no end", () => {
  expect(() =>
    readJob("bait: { thickness: 1/2 in }\nplan: { prices: { mold: 11, moldShots: 0 } }"),
  ).toThrow(InputError);
});

test.each(["filled epoxy", "room-cured filled epoxy", "silicone", "aluminum 6061"])(
  "an evening in a mold of %s warns of what its shots warn of",
  (material) => {
    const { job } = readJob(`{ bait: { thickness: 18 mm }, mold: { material: ${material} } }`);
    // without its levers: water is the word of the dip that they propose
    const [evening, run] = [plan, shots].map(
      (ask) => ask(job, { quick: true, further: false }).cautions,
    );
    expect(evening).toEqual(expect.arrayContaining([...run]));
    expect(evening.includes("wall_above_limit")).toBe(run.includes("wall_above_limit"));
    if (material.startsWith("room-cured")) expect(evening).toContain("wall_above_limit");
  },
);

/** Shots of one mold with such pauses, as another question has them; the last of them is in the mold. */
function withPauses(material: string, open: number, quick: boolean) {
  const session = (pause: number) =>
    readJob(
      `{ room: { temperature: 20 degC }, bait: { thickness: 14 mm, length: 100 mm }, mold: { material: ${material}, wall: 20 mm, cavities: 2 }, run: { molds: 1, session: 3 h, hands: 5 s, shots: 8, open: ${pause} s } }`,
    ).job;
  const times = (pause: number) =>
    shots(session(pause), { quick, likelyOnly: true }).answer.shots.map(({ demold }) => demold);
  const paused = times(open);
  let at = 0;
  const log = paused.slice(0, 5).map((demold, i) => {
    const injected = at;
    at += demold + open;
    return { mold: 1, injected, opened: i === 4 ? null : injected + demold };
  });
  const { shots: planned } = plan(session(60), { quick, likelyOnly: true, log }).answer;
  const found = planned.map(({ likely, injected }) => likely - injected);
  return { paused, found, asPlanned: times(60), log, planned };
}

describe("a mold that was not used as planned is as warm as it was used", () => {
  test.each([
    ["filled epoxy", 5],
    ["filled epoxy", 1200],
    ["silicone", 300],
    ["aluminum 6061", 1200],
  ])("in one dimension to 1 percent of shots with such pauses: %s, %i s", (material, open) => {
    const { paused, found } = withPauses(material, open, true);
    for (let n = 0; n < 5; n++) expect(Math.abs(found[n]! / paused[n]! - 1)).toBeLessThan(0.01);
  });

  test.each([
    ["filled epoxy", 5],
    ["filled epoxy", 1200],
  ])("in its section to 4 percent: %s, %i s", (material, open) => {
    const { paused, found, asPlanned } = withPauses(material, open, false);
    for (let n = 0; n < 5; n++) expect(Math.abs(found[n]! / paused[n]! - 1)).toBeLessThan(0.04);
    // the planned pace would be off by more, in one direction or the other
    const off = asPlanned[4]! / paused[4]! - 1;
    expect(Math.abs(off)).toBeGreaterThan(0.05);
    expect(Math.sign(off)).toBe(open > 60 ? 1 : -1);
  });

  test("and goes back to its pace afterwards", () => {
    const { found, asPlanned } = withPauses("filled epoxy", 1200, true);
    expect(found[5]!).toBeGreaterThan(found[4]! * 1.05);
    const last = Math.min(found.length, asPlanned.length) - 1;
    expect(last).toBeGreaterThan(5);
    expect(found[last]!).toBeLessThan(asPlanned[last]! * 1.001);
    for (let n = 5; n <= last; n++)
      expect(asPlanned[n]! - found[n]!).toBeLessThan(asPlanned[n - 1]! - found[n - 1]! + 1);
  });

  test.each([1, 2])(
    "what was foreseen after a pause is foreseen again when it has happened so: %i molds",
    (molds) => {
      // a thick mold of silicone: the pause is felt for more shots than are marched one by one
      const { job } = readJob(
        `{ bait: { thickness: 8 mm, length: 80 mm }, mold: { material: silicone, wall: 50 mm }, sprue: { hold: 0 s }, run: { molds: ${molds}, session: 8 h, hands: 5 s, open: 15 s } }`,
      );
      const options = { quick: true, likelyOnly: true };
      const before = plan(job, options).answer.shots;
      const pausing = before.filter(({ mold, ofMold }) => mold === 1 && ofMold <= 6);
      const log = pausing.map(({ injected, opened, ofMold }) => {
        const late = ofMold === 6 ? 3600 : 0;
        return { mold: 1, injected: injected + late, opened: opened + late };
      });
      const now = log.at(-1)!.opened;
      const after = plan(job, { ...options, log }).answer.shots;
      const own = after.filter(({ mold, done }) => mold === 1 && !done);
      const settled = before.filter(({ mold }) => mold === 1);
      for (const n of [1, 12, 24]) {
        const shot = own[n]!;
        const happened = after
          .filter(({ injected }) => injected < shot.injected)
          .map(({ mold, injected, opened }) => ({
            mold,
            injected,
            opened: opened < shot.injected ? opened : null,
          }));
        const again = plan(job, { ...options, log: happened }).answer.shots;
        const same = again.find(({ mold, ofMold }) => mold === 1 && ofMold === shot.ofMold)!;
        expect(Math.abs(same.likely - same.injected - (shot.likely - shot.injected))).toBeLessThan(
          0.005 * (shot.likely - shot.injected),
        );
        // still felt, and less and less
        const planned = settled[shot.ofMold - 1]!;
        expect(shot.likely - shot.injected).toBeLessThan(planned.likely - planned.injected - 1);
      }
      expect(own[0]!.injected).toBeGreaterThan(now);
    },
  );

  test("a log that went as planned changes nothing", () => {
    const { job } = readJob(
      "{ bait: { thickness: 14 mm }, mold: { material: filled epoxy }, run: { molds: 2, session: 2 h } }",
    );
    const options = { quick: true, likelyOnly: true };
    const before = plan(job, options).answer.shots;
    const now = before[6]!.injected;
    const log = before
      .filter(({ injected }) => injected <= now)
      .map(({ mold, injected, opened }) => ({
        mold,
        injected,
        opened: opened <= now ? opened : null,
      }));
    const after = plan(job, { ...options, log }).answer.shots;
    expect(after).toHaveLength(before.length);
    after.forEach(({ injected, likely }, i) => {
      expect(injected).toBeCloseTo(before[i]!.injected, 6);
      expect(likely).toBeCloseTo(before[i]!.likely, 6);
    });
  });
});

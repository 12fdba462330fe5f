import fc from "fast-check";
import { expect, test } from "vitest";
import { agingSpeed } from "../../../../lib/cure/dose.ts";
import { readJob } from "../../../../lib/job/job.ts";
import { budget } from "../../../../lib/questions/budget/budget.ts";
import { plan } from "../../../../lib/questions/plan/plan.ts";

const C = 273.15;
const answered = (cup: string, more = "") =>
  budget(readJob(`{ bait: { thickness: 16 mm }, cup: { ${cup} }${more} }`).job).answer;
const near = (x: number, expected: number, share: number) =>
  expect(Math.abs(x / expected - 1), `${x} against ${expected}`).toBeLessThan(share);

test("fresh plastic: the whole hour at 180 degC, a guess", () => {
  const answer = answered("");
  expect(answer.used.value).toBe(0);
  near(answer.table.find(({ temperature }) => temperature === 180 + C)!.left.value, 3600, 1e-12);
  expect(answer.calibrated).toBe(false);
  expect(answer.guesses).toEqual(["cup.yellowed"]);
  expect(answer.moreHeats).toBeNull();
  expect(answer.cause).toMatchObject({ name: "cup.yellowed", measure: "measure_yellowing" });
});

test("weights of 150 kJ/mol against 180 degC, computed by hand from the law of Arrhenius", () => {
  const byHand: [number, number][] = [
    [150, 0.059],
    [160, 0.16],
    [165, 0.26],
    [170, 0.41],
    [175, 0.64],
    [180, 1],
    [185, 1.5],
    [190, 2.4],
  ];
  const { table } = answered("");
  expect(table.map(({ temperature }) => Math.round(temperature - C))).toEqual(
    byHand.map(([T]) => T),
  );
  // printed to two digits
  table.forEach(({ speed }, i) => {
    near(speed, byHand[i]![1], 0.035);
  });
  near(agingSpeed(200 + C, 180 + C), 5.4, 0.01);
  near(agingSpeed(210 + C, 180 + C), 12, 0.03);
});

test("the life halves for every 8 K or so: R T2 ln 2 / E", () => {
  const at = (T: number) => answered("", `, shot: { temperature: ${T} degC }`).left.value;
  // 8.314 * 448.15 * 456.15 * ln 2 / 150 000 = 7.85 K between 175 and 182.85 degC
  near(at(175) / at(182.85), 2, 2e-3);
});

test("heats add up in any order, and more of them leave less", () => {
  const heat = fc.record({
    T: fc.double({ min: 140, max: 200, noNaN: true }),
    minutes: fc.double({ min: 0.5, max: 10, noNaN: true }),
  });
  const text = ({ T, minutes }: { T: number; minutes: number }) =>
    `{ temperature: ${T.toFixed(3)} degC, duration: ${minutes.toFixed(3)} min }`;
  fc.assert(
    fc.property(fc.array(heat, { minLength: 2, maxLength: 5 }), (heats) => {
      const of = (list: typeof heats) => answered(`heats: [${list.map(text).join(", ")}]`);
      const all = of(heats);
      const turned = of([...heats].reverse());
      near(turned.used.value, all.used.value, 1e-9);
      const fewer = of(heats.slice(1));
      expect(fewer.used.value).toBeLessThan(all.used.value);
      expect(fewer.left.value).toBeGreaterThanOrEqual(all.left.value);
      near(
        all.heats.reduce((sum, { dose }) => sum + dose, 0),
        all.used.value,
        1e-9,
      );
      expect(all.left.low).toBeLessThanOrEqual(all.left.value);
      expect(all.left.high).toBeGreaterThanOrEqual(all.left.value);
    }),
    { numRuns: 30, seed: 5 },
  );
});

test("what is left is as unsure as the cup's temperature, without a heat so far, too", () => {
  // Arrhenius by hand, E/R = 150e3/8.314 K: nine of ten readings are less than 10 K too low, and then it ages so much faster
  const faster = (from: number, to: number) =>
    Math.exp((150e3 / 8.314) * (1 / (from + C) - 1 / (to + C)));
  near(faster(168, 178), 2.5, 0.01);
  const at = (shot: number, cup = "") =>
    answered(cup, `, shot: { temperature: 168 degC }, uncertainty: { shot: ${shot} K }`);
  const { left: alone, table: ages } = at(0);
  const { left, table } = at(10);
  // what is not sure besides is drawn along with it: on a scale of ratios widths add up by their squares
  const adds = (a: number, b: number) => Math.sqrt(Math.log(a) ** 2 - Math.log(b) ** 2);
  near(adds(left.value / left.low, alone.value / alone.low), Math.log(faster(168, 178)), 0.05);
  near(adds(left.high / left.value, alone.high / alone.value), Math.log(faster(158, 168)), 0.05);
  expect(at(15).cause).toMatchObject({ name: "cup.heats" });
  const [row, before] = [table[5]!.left, ages[5]!.left];
  near(adds(row.value / row.low, before.value / before.low), Math.log(faster(180, 190)), 0.05);
  // one thermometer reads heats and shot: what has been used is more, too, where it is hotter
  const heated = (shot: number) =>
    at(shot, "heats: [{ temperature: 180 degC, duration: 6 min }]").left;
  const more = adds(heated(10).value / heated(10).low, heated(0).value / heated(0).low);
  expect(more).toBeGreaterThan(Math.log(faster(168, 178)));
  const widths = [0, 5, 10, 15].map((shot) => {
    const { low, high } = answered("", `, uncertainty: { shot: ${shot} K }`).left;
    return high / low;
  });
  for (const [i, width] of widths.entries())
    if (i > 0) expect(width).toBeGreaterThan(widths[i - 1]!);
});

test("the plan's cups are held against what is left with bad luck in their temperature", () => {
  const cups = (shot: number) =>
    plan(
      readJob(`{ bait: { thickness: 16 mm }, run: { session: 2 h }, cup: { mass: 400 g },
        uncertainty: { shot: ${shot} K } }`).job,
      { quick: true },
    ).answer.cups;
  const [sure, unsure] = [cups(0)[0]!, cups(10)[0]!];
  expect(unsure.used.value).toBeCloseTo(sure.used.value, 9);
  expect(unsure.used.high / sure.used.high).toBeGreaterThan(1.3);
  expect(unsure.used.low / sure.used.low).toBeLessThan(0.8);
});

test("one observation of one's own takes the place of the guess and narrows the range", () => {
  const heats = "heats: [{ temperature: 175 degC, duration: 20 min }]";
  const guessed = answered(heats);
  const own = answered(`${heats}, yellowed: { temperature: 185 degC, duration: 40 min }`);
  expect(own.calibrated).toBe(true);
  expect(own.guesses).toEqual([]);
  // used = 20 min at 175 degC over 40 min at 185 degC, which are 1.544/0.6413 times as fast
  near(own.used.value, (20 / 40) * (0.64135 / 1.54417), 1e-4);
  const width = ({ low, high, value }: { low: number; high: number; value: number }) =>
    (high - low) / value;
  expect(width(own.left)).toBeLessThan(width(guessed.left));
  expect(own.levers.map(({ code }) => code)).not.toContain("measure_yellowing");
});

test("used up: nothing is left, and fumes are warned of", () => {
  const job = readJob(
    "{ bait: { thickness: 16 mm }, cup: { heats: [{ temperature: 200 degC, duration: 30 min }] } }",
  ).job;
  const { answer, cautions } = budget(job);
  expect(answer.used.value).toBeGreaterThan(1);
  expect(answer.left.value).toBe(0);
  expect(answer.moreHeats).toMatchObject({ value: 0, low: 0 });
  expect(cautions[0]).toBe("plastisol_fumes");
});

test("heats that are left agree with what is used, at both ends", () => {
  const twice = answered(
    "heats: [{ temperature: 350 degF, duration: 12 min }, { temperature: 355 degF, duration: 8 min }]",
  );
  const { used, moreHeats, heats } = twice;
  const share = heats[1]!.dose / used.value;
  for (const [left, dose] of [
    [moreHeats!.value, used.value],
    [moreHeats!.low, used.high],
    [moreHeats!.high, used.low],
  ] as const) {
    // so many more keep it below yellow, and one more does not
    expect(dose * (1 + share * left)).toBeLessThanOrEqual(1 + 1e-9);
    expect(dose * (1 + share * (left + 1))).toBeGreaterThan(1);
  }
  // where bad luck has used it up, nothing is left for sure
  const long = answered("heats: [{ temperature: 185 degC, duration: 25 min }]");
  expect(long.used.high).toBeGreaterThan(1);
  expect(long.moreHeats!.low).toBe(0);
});

test("plastic that is too hot: the lever goes down to the limit, not to another value above it", () => {
  const { answer, cautions } = budget(
    readJob("{ bait: { thickness: 16 mm }, shot: { temperature: 387 degF } }").job,
  );
  expect(cautions[0]).toBe("plastisol_fumes");
  const cooler = answer.levers.find(({ code }) => code === "cooler_shot")!;
  expect(cooler.change!.to).toBeLessThanOrEqual(answer.pourMost);
});

test("smaller cups are offered where a cup holds more than one shot", () => {
  const codes = (mass: string) => answered(`mass: ${mass}`).levers.map(({ code }) => code);
  const one = answered("mass: 20 g");
  expect(one.shotsInCup).toBeLessThanOrEqual(1);
  expect(codes("20 g")).not.toContain("smaller_cup");
  expect(answered("mass: 500 g").shotsInCup).toBeGreaterThan(1);
  expect(codes("500 g")).toContain("smaller_cup");
});

test("the cup gives as many shots as the plan takes from it, waste and gates and all cavities counted, none in part", () => {
  const body = "bait: { thickness: 8 mm, length: 60 mm }\nmold: { cavities: 3 }\n";
  const job = (mass: string, waste: number) =>
    readJob(
      `${body}cup: { mass: ${mass} }\nmix: { plastic: { waste: ${waste} % } }\nrun: { session: 40 min, molds: 3 }\nsprue: { gate: { width: 4 mm, height: 4 mm, length: 20 mm } }`,
    ).job;
  const held = (mass: string, waste: number) => budget(job(mass, waste)).answer.shotsInCup;
  for (const [mass, waste] of [
    ["90 g", 0],
    ["90 g", 20],
    ["60 g", 10],
  ] as const) {
    const { cups } = plan(job(mass, waste), { quick: true }).answer;
    expect(cups.length).toBeGreaterThan(1);
    expect(held(mass, waste)).toBe(cups[0]!.to - cups[0]!.from + 1);
  }
  // by hand: as much as ten shots take gives ten, a gram less gives nine
  const { shot } = plan(job("90 g", 20), { quick: true }).answer.plastic;
  const ten = 10 * shot * 1.2 * 1000;
  expect([held(`${ten} g`, 20), held(`${ten - 1} g`, 20)]).toEqual([10, 9]);
  expect(held("5 g", 20)).toBe(0);
});

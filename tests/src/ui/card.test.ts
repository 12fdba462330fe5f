// What the wall card and the timer say is what the command says of the same job.
import { expect, test } from "vitest";
import { readJob } from "../../../lib/job/job.ts";
import { demold } from "../../../lib/questions/demold/demold.ts";
import { layer } from "../../../lib/questions/layer/layer.ts";
import { shots } from "../../../lib/questions/shots/shots.ts";
import { sprue } from "../../../lib/questions/sprue/sprue.ts";
import { timeText } from "../../../lib/units/format.ts";
import { outputLines } from "../../../src/cli/page-text.ts";
import { layerQuestion } from "../../../src/cli/questions/layer.ts";
import type { CardFacts, Opening, WindowAtBench } from "../../../src/ui/asking/asked.ts";
import { answerFor } from "../../../src/ui/asking/bench-answers.ts";
import { holdText, openText, sprueClosed, windowText } from "../../../src/ui/bench/card/words.ts";
import { answerMarks, marksOf } from "../../../src/ui/bench/marks.ts";
import { answerShown } from "../../../src/ui/reading/shown.ts";

const FLAT =
  "{ bait: { thickness: 1 in, width: 2 in, length: 6 in, form: flat }, mold: { wall: 1 in }, shot: { temperature: 340 degF } }";
const WARM =
  "{ bait: { thickness: 12 mm, length: 80 mm }, room: { temperature: 22 degC }, shot: { temperature: 200 degC }, run: { preheat: 90 degC } }";

const asked = (ask: "window" | "opening" | "card", jobText: string, settings = {}) =>
  answerFor({ ask, jobText, settings, shot: 1 });
const windowOf = (jobText: string) => asked("window", jobText) as WindowAtBench;
const cardText = (window: WindowAtBench | null) =>
  windowText({ window } as unknown as CardFacts, () => "");

test("a window narrower than its times are known is one moment: in command, page, card and timer alike", () => {
  const { job } = readJob(FLAT);
  const found = layer(job, { quick: true, further: false });
  const injectAt = { ...found.answer.injectAt!, value: 746.6, low: 745.6, high: 747.6 };
  const answer = { ...found.answer, injectAt, sure: false };
  const { open, close } = found.answer;
  const between = (from: number, to: number) => ({
    ...answer,
    open: { ...open, value: from },
    close: { ...close, value: to },
  });
  const said = (told: typeof answer) =>
    layerQuestion.text({ ...found, answer: told }, job, "metric").headline[0];
  // its likely window is wider: only bad luck leaves no room
  expect(said(between(400, 1200))).toContain(
    "color 12 min 27 s after the first was poured: with bad luck there is no room",
  );
  expect(said(between(745.6, 747.6))).toContain(
    "color 12 min 27 s after the first was poured, on the dot",
  );
  const shown = { ...injectAt, kind: "answer", label: "shoot", unit: "s", window: true } as const;
  expect(outputLines(shown, "metric")).toEqual(["shoot: 12 min 27 s, no room for bad luck"]);
  expect(answerShown(shown, "metric")).toMatchObject({ range: "no room for bad luck" });
  expect(answerMarks(shown).marks.map((m) => m.seconds)).toEqual([747]);
  expect(cardText(answer as WindowAtBench)).toMatch(/^best at 12 min 27 s/);
});

test.each([
  ["that luck may spoil", FLAT, false],
  ["that may stay open", WARM, true],
])(
  "the card's window %s is that of the answer, and its best moment lies in it",
  (_, jobText, sure) => {
    const { job } = readJob(jobText);
    const found = layer(job, { further: false });
    const [line = ""] = layerQuestion.text(found, job, "metric").headline;
    const said = cardText(windowOf(jobText));
    const best = /Inject the second color (.*?) after/.exec(line)?.[1];
    expect(said).toContain(`best at ${best}`);
    expect(found.answer.sure).toBe(sure);
    if (sure) {
      const [, from, to] = /from (.*?) to (.*?) it is right with bad luck, too/.exec(line)!;
      expect(said).toBe(`${from} to ${to}, best at ${best}`);
      const { low, value, high } = found.answer.injectAt!;
      expect(low).toBeLessThanOrEqual(value);
      expect(value).toBeLessThanOrEqual(high);
    } else {
      expect(said).toMatch(/not sure: with bad luck there may be none/);
      expect(said).not.toMatch(/ to /);
    }
  },
  120_000,
);

test("where clock steps would carry the ends of a window past each other, command, page, card and timer take the same finer ones", () => {
  const { job } = readJob(FLAT);
  const found = layer(job, { quick: true, further: false });
  // 354 to 373 s has 360 and 370 s in it in steps of 10 s; in steps of 15 s it would end as it began
  const injectAt = { ...found.answer.injectAt!, value: 363.5, low: 354, high: 373 };
  const answer = { ...found.answer, injectAt, sure: true };
  const [line = ""] = layerQuestion.text({ ...found, answer }, job, "metric").headline;
  expect(line).toContain("color 6 min after");
  expect(line).toContain("from 6 min to 6 min 10 s");
  const shown = { ...injectAt, kind: "answer", label: "shoot", unit: "s", window: true } as const;
  expect(outputLines(shown, "metric")).toEqual(["shoot: 6 min, from 6 min to 6 min 10 s"]);
  expect(answerShown(shown, "metric")).toMatchObject({
    range: "from 6 min to 6 min 10 s",
    parts: [{ figure: "6", unit: "min" }],
  });
  expect(answerMarks(shown).marks.map((m) => m.seconds)).toEqual([360, 360, 370]);
  expect(cardText(answer as WindowAtBench)).toBe("6 min to 6 min 10 s, best at 6 min");
  const without = { ...found, answer: { ...answer, noMomentFor: 3 } };
  const told = layerQuestion.text(without, job, "metric");
  expect(told.headline[0]).toMatch(/^Color 3 has no right moment/);
  const third = { ...answer, noMomentFor: 3 } as WindowAtBench;
  expect(cardText(third)).toBe("6 min to 6 min 10 s, best at 6 min; none for color 3");
  const rung = marksOf("second color", answer as WindowAtBench);
  expect(rung.find((m) => m.word === "Second color in")?.seconds).toBe(360);
});

test.each([
  ["that luck may spoil", FLAT],
  ["that may stay open", WARM],
])(
  "no mark of a window %s rings too late before the second color is in",
  (_, jobText) => {
    const marks = marksOf("second color", windowOf(jobText));
    for (const { seconds } of marks) expect(Number.isFinite(seconds)).toBe(true);
    const times = marks.map(({ seconds }) => seconds);
    expect(times).toEqual(times.toSorted((a, b) => a - b));
  },
  120_000,
);

const PLAIN = "{ bait: { thickness: 6 mm }, mold: { wall: 12 mm }";

test("a mold that is read or looked up has that temperature, whatever the job preheats it to", () => {
  const preheated = `${PLAIN}, run: { preheat: 80 degC } }`;
  const facts = asked("card", preheated) as CardFacts;
  const { job } = readJob(`${PLAIN} }`);
  for (const { temperature, open } of facts.byMold) {
    const mold = { ...job.mold, temperature, upperTemperature: temperature };
    const { value } = demold({ ...job, mold }, { further: false }).answer.time;
    expect(open!.value).toBeCloseTo(value, 6);
  }
  const times = facts.byMold.map(({ open }) => open!.value);
  expect(times.every((time, i) => i === 0 || time > times[i - 1]!)).toBe(true);
  const reading = { "mold.temperature": "30 degC" };
  const [read, cold] = [preheated, `${PLAIN} }`].map(
    (text) => asked("opening", text, reading) as Opening,
  );
  expect(read).toEqual(cold);
}, 120_000);

test("the injector is held for as long as the sprue of this very shot stays open", () => {
  const two = (mold = "") =>
    `{ room: { temperature: 20 degC }, bait: { thickness: 14 mm, length: 100 mm }, mold: { material: filled epoxy, wall: 20 mm, cavities: 2${mold} } }`;
  const openingOf = (shot: number, settings = {}) =>
    answerFor({ ask: "opening", jobText: two(), settings, shot }) as Opening;
  const held = (shot: number) => openingOf(shot).sprueCloses!.high;
  const ownFace = (degC: number) =>
    sprue(readJob(two(`, temperature: ${degC} degC`)).job, { quick: true }).answer.closes.high;
  expect(held(1)).toBeCloseTo(ownFace(20), 6);
  // the face before the sixth shot, as `shots` has it: 49 degC
  const { wallBefore } = shots(readJob(two()).job).answer.shots[5]!;
  expect(wallBefore - 273.15).toBeGreaterThan(45);
  expect(held(6)).toBeCloseTo(ownFace(wallBefore - 273.15), 1);
  expect(held(6)).toBeGreaterThan(1.2 * held(1));
  const rung = marksOf("open", openingOf(6)).find(({ word }) => word.startsWith("Sprue closed"));
  expect(rung!.seconds).toBeGreaterThanOrEqual(held(6));
  // a mold that is read has no shots before it that would warm it further
  const reading = { "mold.temperature": "49 degC" };
  expect(openingOf(6, reading)).toEqual(openingOf(1, reading));
  const facts = answerFor({ ask: "card", jobText: two(), settings: {}, shot: 1 }) as CardFacts;
  expect(facts.sprueClosesSettled!.high).toBeGreaterThan(held(6));
  expect(holdText(facts)).toMatch(
    /^\d+ s to \d+ s at the first shot, \d+ s to \d+ s in a settled mold$/,
  );
  expect(holdText({ ...facts, sprueClosesSettled: facts.sprueCloses })).toMatch(/^\d+ s to \d+ s$/);
}, 120_000);

test("a preheat that takes the place of a mold temperature is told", () => {
  const told = (run: string) =>
    demold(readJob(`${PLAIN}${run} }`).job, { quick: true }).ignored.includes(
      "mold_before_preheat",
    );
  expect(told(", run: { preheat: 80 degC }")).toBe(true);
  expect(told("")).toBe(false);
});

test("a window that may stay open has its likely end with its range, and a seam that melts nothing says so", () => {
  const { job } = readJob(WARM);
  const found = layer(job, { further: false });
  const { close } = found.answer;
  expect(close.high).toBe(Number.POSITIVE_INFINITY);
  const latest = (value: number) =>
    layerQuestion.text(
      { ...found, answer: { ...found.answer, close: { ...close, value } } },
      job,
      "metric",
    ).headline[1];
  expect(latest(close.value)).toMatch(/latest that bonds: at least .*, most likely longer than/);
  expect(latest(990)).toMatch(
    /at least .*, most likely 16 min 30 s, perhaps longer than looked at/,
  );
  const reason = { ...found.answer.reason, remelt: 2e-5 };
  const { body } = layerQuestion.text(
    { ...found, answer: { ...found.answer, reason } },
    job,
    "shop-us",
  );
  expect(body.join(" ")).toContain("melts nothing of the first");
  expect(body.join(" ")).not.toMatch(/0\.000 in/);
}, 120_000);

test("no time on the card is sooner than its sprue has closed, and why is said there", () => {
  const fat =
    "{ bait: { thickness: 6 mm, length: 90 mm }, sprue: { diameter: 14 mm, length: 50 mm }, mold: { material: silicone, wall: 12 mm } }";
  const facts = asked("card", fat) as CardFacts;
  const { job } = readJob(fat);
  const closes = sprue(job, { quick: true }).answer.closes.high;
  expect(sprueClosed(facts)).toBeGreaterThanOrEqual(closes);
  const opens = facts.byShot[0]!.open!;
  expect(opens.high).toBeLessThan(closes);
  const said = timeText(sprueClosed(facts), "up");
  for (const end of ["value", "high"] as const)
    expect(openText(opens, end, sprueClosed(facts))).toBe(said);
  expect(holdText(facts)).toMatch(/opened sooner, the sprue is molten/);
  // a bait that is thicker than its sprue waits for itself
  const own = { value: 300, low: 250, high: 360 };
  const usual = {
    ...facts,
    byShot: [{ shot: 1, open: own }],
    byMold: [],
    sprueCloses: { value: 40, low: 35, high: 50 },
    sprueClosesSettled: null,
  };
  expect(openText(own, "value", sprueClosed(usual))).toBe("5 min");
  expect(holdText(usual)).not.toMatch(/molten/);
});

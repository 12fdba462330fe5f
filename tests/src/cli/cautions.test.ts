import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { type CautionCode, cautionCodes, type Lever } from "../../../lib/answers/answer.ts";
import { checkJob } from "../../../lib/job/job.ts";
import { parseJobText } from "../../../lib/job/text.ts";
import type { Job } from "../../../lib/job/types.ts";
import { withSetting } from "../../../lib/job/with-setting.ts";
import { catalog } from "../../../lib/materials/catalog.ts";
import { castingCautions } from "../../../lib/models/cautions.ts";
import { type Question, questions } from "../../../src/cli/questions.ts";
import { reportText } from "../../../src/cli/report.ts";
import { cautionLines, cautionTexts } from "../../../src/messages/cautions.ts";
import { furtherWords } from "../../../src/notebook/sandbox/further-words.ts";
import { words } from "../../../src/notebook/sandbox/words.ts";

const folder = new URL("../../../data/jobs/", import.meta.url);
const files = readdirSync(folder).sort();
const raws = new Map(
  files.map((file) => [file, parseJobText(readFileSync(new URL(file, folder), "utf8"))]),
);
const set = (raw: unknown, changes: Readonly<Record<string, string>>): Job =>
  checkJob(
    Object.entries(changes).reduce((job, [path, typed]) => withSetting(job, path, typed), raw),
  ).job;

function told(question: Question, job: Job) {
  const found = question.run(job, { quick: true });
  const { headline, body, levers } = question.text(found, job, "metric");
  const text = reportText({
    headline,
    body,
    ...(levers && { levers }),
    cautions: found.cautions,
    ignored: [],
    defaults: [],
    effort: { ...found.effort, milliseconds: 0 },
  });
  return { found, text };
}

/** Levers wherever they stand in an answer. */
function leversIn(x: unknown): Lever[] {
  if (typeof x !== "object" || x === null || ArrayBuffer.isView(x)) return [];
  const own = "change" in x && "code" in x ? [x as Lever] : [];
  return [...own, ...Object.values(x).flatMap(leversIn)];
}

function hottestAllowed(job: Job, path: string): number {
  const { shot, layer, mold, limits } = job;
  const bears = limits.wall ?? mold.material.wallLimit?.value ?? Number.POSITIVE_INFINITY;
  if (path === "shot.temperature" || path === "layer.temperature")
    return shot.material.plastisol!.pourMost;
  if (path === "layer.second.temperature") return layer.second.material.plastisol!.pourMost;
  return ["mold.temperature", "run.preheat"].includes(path) ? bears : Number.POSITIVE_INFINITY;
}

function expectSafe(question: Question, job: Job, at: string) {
  const { found, text } = told(question, job);
  for (const code of found.cautions)
    expect(text.replace(/\s+/g, " "), `${at}: ${code}`).toContain(cautionLines(code)[0]);
  for (const { code, change } of leversIn(found.answer))
    if (change?.kind === "temperature")
      expect(change.to, `${at}: ${code} ${change.path}`).toBeLessThanOrEqual(
        hottestAllowed(job, change.path) + 1e-6,
      );
  return { found, text };
}

const TOO_HOT = "200 degC"; // every plastisol of the catalog allows 190
const SHOOT = ["demold", "shots", "layer", "sprue", "touch", "budget", "walls"];
/** What is exceeded, the caution that follows, and where. */
const EXCEEDED: readonly [Record<string, string>, CautionCode, readonly string[]][] = [
  [{ "shot.temperature": TOO_HOT }, "plastisol_fumes", SHOOT],
  [{ "shot.temperature": TOO_HOT }, "plastic_too_hot", SHOOT.filter((name) => name !== "walls")],
  [{ "layer.second.temperature": TOO_HOT }, "plastisol_fumes", ["layer"]],
  [{ "layer.temperature": TOO_HOT }, "plastisol_fumes", ["layer"]],
  [{ "limits.wall": "42 degC" }, "wall_above_limit", ["demold", "shots"]],
  [{ "limits.peak": "30 degC" }, "pour_not_recommended", ["walls", "pour"]],
  [{ "limits.demold": "100 degC" }, "touch_burn", ["demold"]],
  [{ "limits.demold": "110 degC" }, "core_flows", ["demold", "shots", "touch"]],
];
const asked = questions.filter(({ name }) => SHOOT.includes(name) || name === "pour");

test.each(asked)("$name with every limit exceeded at once", (question) => {
  const raw = raws.get("two-tone-belly.yaml");
  const mine = EXCEEDED.filter(([, , where]) => where.includes(question.name));
  const job = set(raw, Object.assign({}, ...mine.map(([changes]) => changes)));
  const { found, text } = expectSafe(question, job, question.name);
  for (const [changes, code] of mine)
    expect(found.cautions, JSON.stringify(changes)).toContain(code);
  if (SHOOT.includes(question.name)) expect(text).toContain("hydrogen chloride");
});

/** A face that gets too hot is told of each family of molds in its own words. */
const asOfResin = (cautions: readonly CautionCode[]): CautionCode[] =>
  cautions.map((code) => (code.endsWith("_above_limit") ? "wall_above_limit" : code));

/** What a wall has to be to bear the clamp when a job says nothing, m. */
const STIFF = 0.012;

/** Whether all that is poured stays below the limit with bad luck, too. */
function isHeld(answer: unknown): boolean {
  if (typeof answer !== "object" || answer === null) return false;
  if ("worstPeak" in answer && "limit" in answer)
    return Number(answer.worstPeak) <= Number(answer.limit);
  return "mostWithBadLuck" in answer && Number(answer.mostWithBadLuck) >= STIFF;
}

// minutes: LONG=1 npx vitest --config tools/vitest.config.ts tests/src/cli/cautions.test.ts
describe.runIf(process.env["LONG"])("each limit in turn, over all jobs", () => {
  test.each(files.flatMap((file) => asked.map((question) => [file, question.name])))(
    "%s, %s",
    (file, name) => {
      const question = asked.find((one) => one.name === name)!;
      expectSafe(question, set(raws.get(file), {}), `${file} as it is`);
      for (const [changes, code, where] of EXCEEDED) {
        if (!where.includes(name)) continue;
        const at = `${file} ${JSON.stringify(changes)}`;
        const { found } = expectSafe(question, set(raws.get(file), changes), at);
        // a pour in a cold room stays below the lowest limit that a job may have: it is told by its own figures
        const pours = code === "pour_not_recommended" && isHeld(found.answer);
        if (pours) expect(found.cautions, at).not.toContain(code);
        else expect(asOfResin(found.cautions), at).toContain(code);
      }
    },
    600_000,
  );
});

test("plastic that may be at its limit is warned of fumes, by as much as its reading may be off", () => {
  const warned = (name: string, changes: Readonly<Record<string, string>>) => {
    const job = set(raws.get("two-tone-belly.yaml"), { "uncertainty.shot": "5 K", ...changes });
    const question = questions.find((one) => one.name === name)!;
    return question.run(job, { quick: true }).cautions.includes("plastisol_fumes");
  };
  for (const [at, is] of [
    ["184 degC", false],
    ["185 degC", true],
    ["190 degC", true],
  ] as const)
    for (const name of SHOOT.filter((one) => one !== "layer"))
      expect(warned(name, { "shot.temperature": at }), `${name} ${at}`).toBe(is);
});

test("a core that is molten at opening is told by touch as it is by shots", () => {
  const text = `{ bait: { length: 3.5 in, stations: [
      { name: nose, at: 0 mm, width: 1/8 in, height: 3 mm },
      { name: belly, at: 1 in, width: 18 mm, height: 3/8 in },
      { name: tail, at: 80 mm, width: 2 mm, height: 12 mm, form: flat }] },
    mold: { material: silicone, wall: 8 mm }, room: { temperature: 5 degC }, shot: { temperature: 330 degF } }`;
  const RUNS = "too early: the core is still molten, and runs out hot.";
  for (const name of ["touch", "shots"]) {
    const question = questions.find((one) => one.name === name)!;
    const said = (timer: string) =>
      told(question, set(parseJobText(text), { "run.timer": timer })).text.replace(/\s+/g, " ");
    if (name === "touch") expect(said("20 s")).toContain(RUNS);
    else expect(said("20 s")).toContain(RUNS.slice("too early".length));
    expect(said("60 min")).not.toContain("molten");
  }
  const opened = { molten: true, openedBy: "timer" } as const;
  expect(furtherWords.molten(opened)).toContain(RUNS);
  expect(furtherWords.molten({ ...opened, molten: false })).toBe("");
});

test("a color that a lever would heat to its limit is warned of fumes, though the job's own is far below", () => {
  const text = `{ bait: { thickness: 6 mm, length: 40 mm }, room: { temperature: -10 degC },
    mold: { material: steel, wall: 10 mm, inserts: [{ material: stainless steel, thickness: 3 mm, distance: 2 mm }] },
    shot: { temperature: 175 degC },
    layer: { form: tail, depth: 4 mm, handling: 3 s, second: { temperature: 180 degC } } }`;
  const question = questions.find((one) => one.name === "layer")!;
  const asked = (second: string) =>
    question.run(set(parseJobText(text), { "layer.second.temperature": second }), {});
  const hotter = (second: string) =>
    leversIn(asked(second).answer).find(({ code }) => code === "hotter_second")?.change?.to;
  // 180 to 185 degC: with the 5 K of a reading it may be at the limit of 190; 170 to 180 degC stays below it by more
  expect(hotter("180 degC")).toBeCloseTo(458.15, 6);
  expect(asked("180 degC").cautions).toContain("plastisol_fumes");
  expect(hotter("170 degC")).toBeCloseTo(453.15, 6);
  expect(asked("170 degC").cautions).not.toContain("plastisol_fumes");
});

test("polyurethane warns of isocyanates and not of epoxy hardeners", () => {
  const job = set(raws.get("pike-body.yaml"), { "pour.material": "polyurethane" });
  const { found, text } = told(questions.find((one) => one.name === "mix")!, job);
  expect(found.cautions).toContain("isocyanate");
  expect(found.cautions).not.toContain("resin_contact");
  expect(text).toContain("Isocyanates sensitize the lungs");
  expect(castingCautions(job.pour.material)).toEqual(["isocyanate"]);
});

test("several cautions: a line for each, none lost, and who decides once at the end; pages say the same", () => {
  for (const first of cautionCodes)
    for (const second of cautionCodes) {
      const texts = cautionTexts([first, second, "hot_plastisol"]);
      for (const code of [first, second]) expect(texts).toContain(cautionLines(code)[0]);
      expect(new Set(texts).size).toBe(texts.length);
      expect(texts.at(-1)).toMatch(/^The safety data sheet/);
      expect(words.cautions([first, second, "hot_plastisol"])).toBe(texts.join(" "));
    }
  expect(cautionTexts(["isocyanate"])).toEqual(cautionLines("isocyanate"));
  expect(cautionTexts([])).toEqual([]);
});

test("the caution of plastic that is too hot has the figure of every plastisol in the catalog", () => {
  const most = catalog.flatMap(({ plastisol }) => plastisol?.pourMost ?? []);
  // 190 degC is 374 degF
  expect(new Set(most.map((T) => T - 273.15))).toEqual(new Set([190]));
  expect(1.8 * 190 + 32).toBe(374);
  expect(cautionLines("plastic_too_hot")[0]).toContain("190 °C (374 °F)");
});

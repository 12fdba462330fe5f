/** Cautions that a job calls for: each where its hazard is, and nowhere else. */
import { expect, test } from "vitest";
import type { Lever } from "../../../lib/answers/answer.ts";
import { readJob } from "../../../lib/job/job.ts";
import { catalog, materialNamed } from "../../../lib/materials/catalog.ts";
import {
  castingCautions,
  coolerBy,
  faceCautions,
  hotColorsOf,
  moldCautions,
  plasticCautions,
  waterCautions,
} from "../../../lib/models/cautions.ts";
import { surroundingsOf } from "../../../lib/models/surroundings.ts";
import { demold } from "../../../lib/questions/demold/demold.ts";
import { fit } from "../../../lib/questions/fit/fit.ts";
import { planLog } from "../../../lib/questions/fit/plan-log.ts";
import { layer } from "../../../lib/questions/layer/layer.ts";
import { plan } from "../../../lib/questions/plan/plan.ts";
import { shots } from "../../../lib/questions/shots/shots.ts";
import { sprue } from "../../../lib/questions/sprue/sprue.ts";
import { touch } from "../../../lib/questions/touch/touch.ts";
import { walls } from "../../../lib/questions/walls/walls.ts";

const jobOf = (text: string) => readJob(`{ bait: { thickness: 16 mm }, ${text} }`).job;
const BACK = "back: { material: aluminum 6061, distance: 10 mm, thickness: 9 mm";

test("water near the melt, wherever a job cools with it", () => {
  for (const [text, wet] of [
    ["room: { air: still }", false],
    ["room: { air: fan }", false],
    ["room: { air: bath }", true],
    ["run: { bath: 10 s }", true],
    ["run: { bath: 0 s }", false],
    [`mold: { ${BACK}, water: 15 degC } }`, true],
    [`mold: { ${BACK} } }`, false],
  ] as const)
    expect(waterCautions(jobOf(text)), text).toEqual(wet ? ["water_near_melt"] : []);
});

test("fumes come first where one of the shots is hotter than it may be", () => {
  const material = materialNamed("soft plastisol");
  const most = material.plastisol!.pourMost!;
  const at = (temperature: number) => ({ material, temperature });
  const job = jobOf("uncertainty: { shot: 5 K }");
  const both = ["plastisol_fumes", "hot_plastisol"];
  expect(plasticCautions(job, [at(most - 5.1)])).toEqual(["hot_plastisol"]);
  expect(plasticCautions(job, [at(most - 9), at(most + 1)])).toEqual([
    "plastisol_fumes",
    "plastic_too_hot",
    "hot_plastisol",
  ]);
  // a reading 5 K too low is at the limit; one that is sure is not before it is there
  expect(plasticCautions(job, [at(most - 5)])).toEqual(both);
  const sure = jobOf("uncertainty: { shot: 0 K }");
  expect(plasticCautions(sure, [at(most - 0.1)])).toEqual(["hot_plastisol"]);
  expect(plasticCautions(sure, [at(most)])).toEqual(both);
  // a lever that heats plastic so far has the caution with it, whichever plastic it is
  for (const path of ["shot.temperature", "layer.second.temperature"]) {
    const lever = (to: number) =>
      ({ code: "hotter_second", change: { path, kind: "temperature", to } }) as const;
    expect(plasticCautions(job, [at(most - 20)], [lever(most)]), path).toEqual(both);
    expect(plasticCautions(job, [at(most - 20)], [lever(most - 10)]), path).toHaveLength(1);
  }
  const mold = { path: "mold.temperature", kind: "temperature", to: most } as const;
  expect(plasticCautions(job, [], [{ code: "preheat_mold", change: mold }])).toHaveLength(1);
  // cooler, but neither over what it may have nor under what still pours
  const least = material.plastisol!.pourLeast!;
  expect(coolerBy(at(most), 5)).toBeCloseTo(most - 5, 9);
  expect(coolerBy(at(most + 30), 5)).toBe(most);
  expect(coolerBy(at(least + 3), 5)).toBeNull();
  expect(coolerBy(at(least + 5), 5)).toBeCloseTo(least, 9);
  expect(hotColorsOf(jobOf("layer: { depth: 3 mm, more: [{ depth: 2 mm }] }"))).toHaveLength(3);
});

test("a mold burns at a touch from 65 degC on where it is metal, from 85 degC on where it conducts badly", () => {
  // thresholds of one second, ISO 13732-1 (from memory)
  for (const [material, text, hot] of [
    ["aluminum", "temperature: 64 degC", false],
    ["aluminum", "temperature: 65 degC", true],
    ["aluminum", "upperTemperature: 115 degC", true],
    ["silicone", "temperature: 84 degC", false],
    ["silicone", "temperature: 120 degC", true],
    ["filled epoxy", "temperature: 70 degC", true],
  ] as const)
    expect(
      moldCautions(jobOf(`mold: { material: ${material}, ${text} }`)),
      material + text,
    ).toEqual(hot ? ["hot_mold"] : []);
  const preheated = jobOf("mold: { material: aluminum }, run: { preheat: 90 degC }");
  expect(moldCautions(preheated)).toEqual(["hot_mold"]);
  expect(demold(preheated, { quick: true, further: false }).cautions).toContain("hot_mold");
  expect(layer(preheated, { quick: true, further: false }).cautions).toContain("hot_mold");
  expect(shots(preheated, { quick: true, further: false }).cautions).toContain("hot_mold");
  expect(touch(preheated, { quick: true }).cautions).toContain("hot_mold");
  expect(sprue(preheated, { quick: true }).cautions).toContain("hot_mold");
  const resin = jobOf("mold: { material: filled epoxy, temperature: 70 degC }");
  expect(walls(resin, { quick: true }).cautions).toContain("hot_mold");
  // one that a lever heats so far
  const warm = jobOf("mold: { material: aluminum, temperature: 60 degC }");
  const heat = (to: number): Lever => ({
    code: "preheat_mold",
    gives: { kind: "duration", value: 60 },
    change: { path: "mold.temperature", kind: "temperature", to },
  });
  expect(moldCautions(warm)).toEqual([]);
  expect(moldCautions(warm, undefined, [heat(273.15 + 64)])).toEqual([]);
  expect(moldCautions(warm, undefined, [heat(273.15 + 70)])).toEqual(["hot_mold"]);
  // or has opened warmer: its face is as much warmer then
  const open = (to: number): Lever => ({
    code: "higher_demold",
    change: { path: "limits.demold", kind: "temperature", to: warm.limits.demold + to },
  });
  expect(moldCautions(warm, 273.15 + 64, [open(0.5)])).toEqual([]);
  expect(moldCautions(warm, 273.15 + 64, [open(1)])).toEqual(["hot_mold"]);
});

test("a mold that the run makes hot burns, too: its face as it is opened and before the next shot", () => {
  const job = (demold: number) =>
    jobOf(`mold: { material: aluminum, wall: 4 mm }, limits: { demold: ${demold} degC },
      run: { shots: 6, open: 20 s }`);
  const hot = job(95);
  expect(moldCautions(hot)).toEqual([]);
  const run = shots(hot, { quick: true });
  // the figures of the answer are past the threshold themselves
  expect(run.answer.steady.wallBefore).toBeGreaterThan(273.15 + 65);
  const touched = touch(hot, { quick: true });
  for (const { cautions } of [run, plan(hot, { quick: true }), demold(hot), touched, touch(hot)])
    expect(cautions).toContain("hot_mold");
  const late = jobOf("mold: { material: aluminum }, run: { timer: 20 s, shots: 3 }");
  expect(shots(late, { quick: true }).cautions).toContain("hot_mold");
  const resin = jobOf("mold: { material: filled epoxy }, limits: { demold: 100 degC }");
  expect(walls(resin, { quick: true }).cautions).toContain("hot_mold");
  // a face is no hotter than what touches it: the bait at 50 degC, 60 for who opens it warmer by the lever's 10 K
  const cool = job(50);
  for (const { cautions } of [
    shots(cool, { quick: true }),
    plan(cool, { quick: true }),
    demold(cool),
    touch(cool),
    walls(jobOf("mold: { material: filled epoxy }, limits: { demold: 50 degC }"), { quick: true }),
  ])
    expect(cautions).not.toContain("hot_mold");
});

test("a mold that soaks up water is never dipped, and has a word of its own: damp bursts into steam", () => {
  // common practice, no source: of the catalog's solids plaster and wood are porous, others take up next to nothing
  const porous = catalog.filter((entry) => entry.porous).map(({ name }) => name);
  expect(porous).toEqual(["plaster", "MDF", "softwood"]);
  const inMold = (material: string, more = "") =>
    jobOf(`mold: { material: ${material}, wall: 20 mm }, limits: { wall: 200 degC }, ${more}`);
  for (const name of [...porous, "filled epoxy", "aluminum"]) {
    const soaks = porous.includes(name);
    const { answer, cautions } = shots(inMold(name), { quick: true });
    const wet = answer.levers.filter(({ code }) => code.startsWith("water_"));
    expect(wet.length > 0, name).toBe(!soaks);
    // who is told to wet a mold is told what that asks for
    expect(cautions.includes("water_near_melt"), name).toBe(!soaks);
    for (const found of [
      cautions,
      demold(inMold(name), { quick: true, further: false }).cautions,
      layer(inMold(name), { quick: true, further: false }).cautions,
      touch(inMold(name), { quick: true }).cautions,
      sprue(inMold(name), { quick: true }).cautions,
      plan(inMold(name), { quick: true }).cautions,
    ])
      expect(found.includes("damp_mold"), name).toBe(soaks);
    for (const cooled of ["run: { bath: 10 s }", "room: { air: bath }"]) {
      const told = demold(inMold(name, cooled), { quick: true, further: false }).cautions;
      expect(told.includes("soaked_mold"), `${name} ${cooled}`).toBe(soaks);
      expect(told).toContain("water_near_melt");
      expect(told).not.toContain("damp_mold");
    }
  }
  // one of the job's own is what it is like
  const own = jobOf("materials: [{ name: mine, like: plaster }], mold: { material: mine }");
  expect(moldCautions(own)).toEqual(["damp_mold"]);
});

test("a face above its limit gives way as its family does", () => {
  for (const [material, code] of [
    ["filled epoxy", "wall_above_limit"],
    ["plaster", "plaster_above_limit"],
    ["silicone", "silicone_above_limit"],
    ["MDF", "wood_above_limit"],
    ["aluminum", "metal_above_limit"],
  ] as const) {
    const job = jobOf(`mold: { material: ${material} }, limits: { wall: 42 degC }`);
    expect(faceCautions(job, 273.15 + 42), material).toEqual([]);
    expect(faceCautions(job, 273.15 + 42.1), material).toEqual([code]);
    // behind metal a first shot stays below that
    const told = demold(job, { quick: true, further: false }).cautions;
    expect(told.includes(code), material).toBe(material !== "aluminum");
  }
  expect(faceCautions(jobOf("mold: { material: aluminum }"), 1000)).toEqual([]);
});

test("a log of hot plastic, made or to be made, has the cautions of what is logged", () => {
  // 190 degC less the 5 K of a reading: from 185 on it may be at its limit
  const job = (shot: number, more = "") =>
    jobOf(`shot: { temperature: ${shot} degC }, uncertainty: { shot: 5 K }, ${more}`);
  const probe = (from: number) => ({
    time: [30, 90, 150, 210, 270],
    temperature: [0, -20, -50, -75, -90].map((by) => 273.15 + from + by),
  });
  const lines = [280, 330, 420, 500].map((opened, i) => ({
    opened,
    mold: null,
    shot: null,
    verdict: i < 2 ? ("soft" as const) : ("good" as const),
  }));
  for (const [shot, logged, fumes] of [
    [175, 170, false],
    [186, 170, true],
    [175, 186, true],
  ] as const) {
    const { cautions } = fit(job(shot), probe(logged), { quick: true });
    expect(cautions.includes("plastisol_fumes"), `${shot} ${logged}`).toBe(fumes);
    expect(cautions).toContain("hot_plastisol");
  }
  for (const shot of [175, 186])
    for (const { cautions } of [
      planLog(job(shot), { quick: true }),
      fit(job(shot), { lines }, { quick: true }),
    ])
      expect(cautions.includes("plastisol_fumes"), `${shot}`).toBe(shot === 186);
  const read = lines.map((line) => ({ ...line, shot: 273.15 + 186, mold: 273.15 + 66 }));
  expect(fit(job(175), { lines: read }, { quick: true }).cautions).toEqual([
    "plastisol_fumes",
    "hot_plastisol",
    "hot_mold",
  ]);
  const plaster = planLog(job(175, "mold: { material: plaster }"), { quick: true });
  expect(plaster.cautions).toEqual(["hot_plastisol", "damp_mold"]);
});

test("each resin has its own hazard, metal powder its dust", () => {
  expect(castingCautions(materialNamed("epoxy"))).toEqual(["resin_contact"]);
  expect(castingCautions(materialNamed("filled epoxy"))).toEqual(["resin_contact", "metal_powder"]);
  expect(castingCautions(materialNamed("polyurethane"))).toEqual(["isocyanate"]);
  expect(castingCautions(materialNamed("filled polyurethane"))).toEqual([
    "isocyanate",
    "metal_powder",
  ]);
  expect(castingCautions(materialNamed("silicone"))).toEqual(["silicone_inhibited"]);
  expect(castingCautions(materialNamed("aluminum"))).toEqual([]);
});

test("a mold in a bath stays in it while it is open; a fan that blows then blows at its outside, too", () => {
  const bath = surroundingsOf(jobOf("room: { air: bath, bathTemperature: 12 degC }"));
  expect(bath.outsideOpen).toEqual(bath.outside);
  expect(bath.outside).toEqual(bath.dip);
  expect(bath.outside).toMatchObject({ ambient: expect.closeTo(285.15, 9) });
  expect(bath.open).not.toEqual(bath.dip);
  const fan = surroundingsOf(jobOf("run: { fan: yes }"));
  const h = (b: unknown) => (b as { h: number }).h;
  expect(h(fan.outsideOpen)).toBeGreaterThan(1.5 * h(fan.outside));
  expect(h(fan.open)).toBeGreaterThan(1.5 * h(surroundingsOf(jobOf("run: { fan: no }")).open));
  const still = surroundingsOf(jobOf("run: { fan: no }"));
  expect(still.outsideOpen).toEqual(still.outside);
  const always = surroundingsOf(jobOf("room: { air: fan }"));
  expect(always.outsideOpen).toEqual(always.outside);
  expect(h(always.outside)).toBeCloseTo(h(fan.outsideOpen), 9);
});

test("an open cavity radiates as its mold does, plastic in the open as plastic does", () => {
  const aluminum = jobOf("mold: { material: aluminum }");
  const { openCavity, open, outsideOpen } = surroundingsOf(aluminum);
  const own = aluminum.mold.material.emissivity.value;
  // bare metal: under 0.2 in every handbook's table of emissivities, plastics from 0.8 on
  expect(own).toBeLessThan(0.2);
  expect(openCavity).toMatchObject({ emissivity: own });
  expect(outsideOpen).toMatchObject({ emissivity: own });
  expect((open as { emissivity: number }).emissivity).toBeGreaterThan(0.8);
});

test("a sprue that may be molten when its bait may come out is told wherever a mold is opened", () => {
  for (const [bait, diameter, material] of [
    [6, 14, "silicone"],
    [6, 8, "silicone"],
    [4, 8, "aluminum"],
    [16, 8, "filled epoxy"],
    [16, 30, "filled epoxy"],
  ] as const) {
    const { job } = readJob(
      `{ bait: { thickness: ${bait} mm }, sprue: { diameter: ${diameter} mm }, mold: { material: ${material} } }`,
    );
    const closes = sprue(job, { quick: true }).answer.sprueCloses.high;
    const opened = demold(job, { quick: true });
    // a little before its latest moment it may be told, and after it must be
    const by = closes / opened.answer.time.low;
    if (by > 0.85 && by <= 1) continue;
    const told =
      by > 1
        ? expect.arrayContaining(["sprue_molten"])
        : expect.not.arrayContaining(["sprue_molten"]);
    expect(opened.cautions, `${bait} ${diameter}`).toEqual(told);
    // one of either kind is enough for those that ask in the same place
    if (material !== "silicone" && diameter !== 30) continue;
    expect(shots(job, { quick: true }).cautions, `${bait} ${diameter}`).toEqual(told);
    if (diameter === 14) expect(plan(job, { quick: true }).cautions).toEqual(told);
  }
  const early = jobOf("run: { timer: 40 s }");
  expect(shots(early, { quick: true }).cautions).toContain("sprue_molten");
  expect(touch(early, { quick: true }).cautions).toContain("sprue_molten");
  const colors = jobOf(
    "sprue: { diameter: 30 mm }, layer: { depth: 4 mm }, mold: { material: silicone }",
  );
  expect(layer(colors, { quick: true, further: false }).cautions).toContain("sprue_molten");
});

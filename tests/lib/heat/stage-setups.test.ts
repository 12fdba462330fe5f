/** What each stage fills and surrounds a problem with: overrides stay, absence and what is new do not. */
import { describe, expect, test } from "vitest";
import type { HeatProblem, Stage } from "../../../lib/heat/problem.ts";
import { stageSetups } from "../../../lib/heat/stage-setups.ts";

const air = { kind: "exchange", h: 8, ambient: 293 } as const;
const held = { kind: "held", temperature: 300 } as const;
const insulated = { kind: "insulated" } as const;
const REGIONS = ["a", "b", "c"];

function layered(stages: readonly Stage[], more: Partial<HeatProblem> = {}): HeatProblem {
  return {
    frame: "slab",
    materials: {},
    layers: REGIONS.map((name, i) => ({
      name,
      material: `m${i}`,
      thickness: 1,
      initial: 300 + i,
      ...(i === 0 ? { contact: 500 } : {}),
    })),
    boundary: { left: air },
    stages,
    probes: {},
    ...more,
  };
}
const setups = (stages: readonly Stage[], fresh = true, more: Partial<HeatProblem> = {}) =>
  stageSetups(layered(stages, more), REGIONS, fresh);

test("a first stage starts every region at its own temperature, one that goes on none", () => {
  expect(setups([{ until: 1 }, { until: 2 }]).map(({ newT }) => newT)).toEqual([
    [300, 301, 302],
    [undefined, undefined, undefined],
  ]);
  expect(setups([{ until: 1 }], false)[0]!.newT).toEqual([undefined, undefined, undefined]);
});

test("a refill is new in its stage alone, its material stays", () => {
  const found = setups([
    { until: 1, refill: [{ name: "b", temperature: 400, material: "n" }] },
    { until: 2, refill: [{ name: "c", temperature: 390 }] },
    { until: 3 },
  ]);
  expect(found.map(({ newT }) => newT)).toEqual([
    [300, 400, 302],
    [undefined, undefined, 390],
    [undefined, undefined, undefined],
  ]);
  for (const { material, setting } of found) {
    expect(material).toEqual(["m0", "n", "m2"]);
    expect(setting.fill).toEqual(["m0", "n", "m2"]);
  }
  const late = setups([
    { until: 1 },
    { until: 2, refill: [{ name: "b", temperature: 1, material: "n" }] },
  ]);
  expect(late.map(({ material }) => material[1])).toEqual(["m1", "n"]);
});

test("what is absent is so in its stage; its material is known on", () => {
  const found = setups([
    { until: 1, absent: ["b", "c"] },
    { until: 2, absent: ["c"] },
    { until: 3 },
  ]);
  expect(found.map(({ setting }) => setting.fill)).toEqual([
    ["m0", undefined, undefined],
    ["m0", "m1", undefined],
    ["m0", "m1", "m2"],
  ]);
  expect(found[0]!.material).toEqual(["m0", "m1", "m2"]);
});

test("sides are insulated where nothing is said; overrides go on, what is exposed does not", () => {
  const found = setups([
    { until: 1, exposed: held },
    { until: 2, boundary: { right: held, left: insulated } },
    { until: 3, boundary: { top: air } },
  ]);
  expect(found.map(({ setting }) => setting.boundary)).toEqual([
    { left: air, right: insulated, top: insulated, bottom: insulated },
    { left: insulated, right: held, top: insulated, bottom: insulated },
    { left: insulated, right: held, top: air, bottom: insulated },
  ]);
  expect(found.map(({ setting }) => setting.exposed)).toEqual([held, insulated, insulated]);
  const all = { left: held, right: air, top: held, bottom: air };
  expect(setups([{ until: 1 }], true, { boundary: all })[0]!.setting.boundary).toEqual(all);
  const ends = { length: 1, h: 2, ambient: 3 };
  expect(setups([{ until: 1 }], true, { ends })[0]!.setting.ends).toBe(ends);
});

test("stages that change nothing share one setting, any change makes another", () => {
  const same = (...stages: Stage[]) => {
    const [a, b] = setups(stages.map((stage, k) => ({ ...stage, until: k + 1 })));
    return a!.setting === b!.setting;
  };
  const none = { until: 0 };
  expect(same(none, none)).toBe(true);
  expect(same({ ...none, exposed: air }, { ...none, exposed: air })).toBe(true);
  expect(same(none, { ...none, boundary: { left: air } })).toBe(true);
  expect(same(none, { ...none, refill: [{ name: "a", temperature: 5 }] })).toBe(true);
  expect(same(none, { ...none, boundary: { left: held } })).toBe(false);
  expect(same(none, { ...none, boundary: { bottom: held } })).toBe(false);
  expect(same(none, { ...none, exposed: air })).toBe(false);
  expect(same(none, { ...none, absent: ["a"] })).toBe(false);
  expect(same(none, { ...none, refill: [{ name: "c", temperature: 5, material: "n" }] })).toBe(
    false,
  );
  expect(same(none, { ...none, contact: { a: 7 } })).toBe(false);
});

describe("contacts", () => {
  const between = (stages: readonly Stage[], more: Partial<HeatProblem> = {}) =>
    setups(stages, true, more).map(({ setting }) => setting.contact);
  test("of layers are the first one's, of none perfect, whichever is named first", () => {
    const [contact] = between([{ until: 1 }]);
    for (const [a, b, h] of [
      [0, 1, 500],
      [1, 0, 500],
      [1, 2, Number.POSITIVE_INFINITY],
      [2, 1, Number.POSITIVE_INFINITY],
    ] as const)
      expect(contact!(a, b)).toBe(h);
  });
  test("of shapes are those of the later one", () => {
    const { layers: _none, ...rest } = layered([{ until: 1 }]);
    const outline = { kind: "rectangle", size: [1, 1], center: [1, 1] } as const;
    const [setup] = stageSetups(
      {
        ...rest,
        frame: "section",
        block: { width: 9, height: 9, material: "m", initial: 1 },
        shapes: [
          { name: "p", material: "m", initial: 2, outline, contact: 30 },
          { name: "q", material: "n", initial: 3, outline },
        ],
      },
      ["block", "p", "q"],
      true,
    );
    const { contact } = setup!.setting;
    expect([contact(0, 1), contact(1, 0)]).toEqual([30, 30]);
    expect([contact(0, 2), contact(1, 2)]).toEqual([
      Number.POSITIVE_INFINITY,
      Number.POSITIVE_INFINITY,
    ]);
    expect(setup!.material).toEqual(["m", "m", "n"]);
    expect(setup!.newT).toEqual([1, 2, 3]);
  });
  test("change from a stage on; a pair's own goes before", () => {
    const stages = [
      { until: 1 },
      { until: 2, contact: { a: 70 } },
      { until: 3, contact: { b: 9 } },
    ];
    const of = (more: Partial<HeatProblem>) =>
      between(stages, more).map((contact) => [contact(0, 1), contact(1, 2)]);
    expect(of({})).toEqual([
      [500, Number.POSITIVE_INFINITY],
      [70, Number.POSITIVE_INFINITY],
      [70, 9],
    ]);
    for (const pair of [
      ["a", "b"],
      ["b", "a"],
    ] as const)
      expect(of({ contacts: [{ between: pair, conductance: 4 }] })).toEqual([
        [4, Number.POSITIVE_INFINITY],
        [4, Number.POSITIVE_INFINITY],
        [4, 9],
      ]);
    // of other pairs, that share one of the two or none, nothing is taken
    for (const pair of [
      ["a", "c"],
      ["c", "a"],
      ["a", "a"],
      ["c", "c"],
    ] as const)
      expect(of({ contacts: [{ between: pair, conductance: 4 }] })).toEqual(of({}));
  });
});

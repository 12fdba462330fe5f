/** Where two colors of a section are read: along their interface and below it, wherever the cavity lies in its mold. */
import { describe, expect, test } from "vitest";
import { checkHeatProblem } from "../../../lib/heat/check.ts";
import { readJob } from "../../../lib/job/job.ts";
import { sectionModel } from "../../../lib/models/bait/section.ts";
import { layerSection } from "../../../lib/models/layer/section.ts";
import { scenarioOf } from "../../../lib/models/scenario.ts";
import { boxOf, type Outline, ringsOf } from "../../../lib/shape/outline.ts";

const ELLIPSE = "width: 16 mm, height: 12 mm";
const PLATE = "{ material: aluminum 6061, thickness: 5 mm, distance: 6 mm, width: 30 mm }";

function inSection(layer: string, mold = "wall: 20 mm", station = ELLIPSE) {
  const scenario = scenarioOf(
    readJob(
      `{ bait: { length: 100 mm, stations: [{ at: 40 mm, ${station} }] }, mold: { ${mold} }, layer: { ${layer} } }`,
    ).job,
  );
  const own = scenario.job.bait.stations[0]!;
  const stack = layerSection(scenario, own);
  expect(checkHeatProblem({ ...stack.problem, stages: [{ until: 10 }] })).toEqual([]);
  const second = stack.problem.shapes!.find(({ name }) => name === "second 1")!;
  const box = boxOf(ringsOf(second.outline));
  const center = { x: (box.left + box.right) / 2, y: (box.bottom + box.top) / 2 };
  const at = (name: string) => stack.problem.probes[name] as { x: number; y: number };
  return { ...stack, model: sectionModel(scenario, own, { whole: true }), box, center, at };
}
const placesOf = ({ problem, center }: ReturnType<typeof inSection>) =>
  Object.entries(problem.probes).flatMap(([name, probe]) =>
    probe.kind === "point"
      ? [[name, (probe.x - center.x) * 1e3, ((probe.y ?? 0) - center.y) * 1e3] as const]
      : [],
  );

describe.each(["belly", "skin"])("%s", (form) => {
  test("of several cavities the first is read, at the same places of its own", () => {
    const layer = `form: ${form}, depth: 2 mm, skin: 0.5 mm`;
    const alone = placesOf(inSection(layer));
    for (const cavities of [2, 3]) {
      const row = inSection(layer, `wall: 20 mm, cavities: ${cavities}`);
      const places = placesOf(row);
      expect(places.map(([name]) => name)).toEqual(alone.map(([name]) => name));
      places.forEach(([name, x, y], i) => {
        expect(x, name).toBeCloseTo(alone[i]![1], 6);
        expect(y, name).toBeCloseTo(alone[i]![2], 6);
      });
      if (cavities === 3) continue;
      expect(Math.abs(row.center.x)).toBeGreaterThan(1e-3);
    }
  });
  test("ten places below the middle, closer together near the interface, and ever nearer to the mold", () => {
    const { remelt, at } = inSection(`form: ${form}, depth: 2 mm`);
    const below = remelt.filter(({ along }) => along === 0);
    expect(below.map(({ depth }) => depth * 1e3)).toEqual(
      Array.from({ length: 10 }, (_, k) => expect.closeTo(1.8 * ((k + 1) / 10) ** 2, 9)),
    );
    for (const { probe, along, depth } of remelt) {
      const from = at(`interface 0 ${[0, 0.5, 0.7, 0.85].indexOf(along)}`);
      const turn = form === "skin" ? (Math.PI / 2) * along : 0;
      expect(at(probe).x - from.x).toBeCloseTo(depth * Math.sin(turn), 9);
      expect(at(probe).y - from.y).toBeCloseTo(-depth * Math.cos(turn), 9);
    }
  });
});

test("what is read of the colors and of the face below them", () => {
  const { problem, shares, interfaces } = inSection("form: belly, depth: 4 mm");
  expect(problem.probes["wall"]).toEqual({
    kind: "face",
    region: "block",
    neighbor: "first 1",
    of: "hottest",
  });
  expect(shares).toEqual([0, 0.5, 0.7, 0.85]);
  expect(interfaces).toEqual([[0, 1, 2, 3].map((i) => `interface 0 ${i}`)]);
});

test("the usual skin of a color that is thinner is read just inside of it", () => {
  const { at, box, center } = inSection("form: belly, depth: 0.8 mm");
  expect(at("skin 0").y - box.bottom).toBeCloseTo(0.98 * 0.0008, 9);
  expect(at("skin 0").x).toBeCloseTo(center.x, 9);
  const { at: shallow, box: own } = inSection("form: belly, depth: 2 mm, skin: 1 mm");
  expect(shallow("skin 0").y - own.bottom).toBeCloseTo(0.001, 9);
});

test("contacts of the mold stay, and both colors touch; the lid has its back and its plates", () => {
  const mold = `wall: 20 mm, inserts: [${PLATE}]`;
  const { problem, model, upper } = inSection("form: belly, depth: 4 mm", mold);
  const own = model.problem.contacts ?? [];
  expect(problem.contacts!.slice(0, own.length)).toEqual(own);
  expect(problem.contacts!.slice(own.length)).toEqual([
    { between: ["first 1", "second 1"], conductance: Number.POSITIVE_INFINITY },
  ]);
  const names = problem.shapes!.map(({ name }) => name);
  for (const name of upper.slice(1)) expect(names).toContain(name);
  expect(upper).toContain("plate 1");
});

describe("in a section of another form", () => {
  test("a level runs from side to side of a triangle that stands on its tip", () => {
    const triangle =
      "width: 12 mm, height: 12 mm, outline: [[6 mm, 0 mm], [12 mm, 12 mm], [0 mm, 12 mm]]";
    for (const cavities of [1, 2]) {
      const { at, center, box } = inSection(
        "form: belly, depth: 4 mm",
        `wall: 20 mm, cavities: ${cavities}`,
        triangle,
      );
      // 4 of 12 mm up: a third of half its width
      [0, 0.5, 0.7, 0.85].forEach((along, i) => {
        const place = at(`interface 0 ${i}`);
        expect((place.x - center.x) * 1e3).toBeCloseTo(2 * along, 6);
        expect((place.y - box.bottom) * 1e3).toBeCloseTo(4, 6);
      });
    }
  });
  test("of one that leans to its left every place is inside the cavity's box", () => {
    const leaning =
      "width: 12 mm, height: 12 mm, outline: [[0 mm, 0 mm], [3 mm, 0 mm], [12 mm, 12 mm], [8 mm, 12 mm]]";
    const { problem, box } = inSection("form: belly, depth: 3 mm", "wall: 20 mm", leaning);
    for (const probe of Object.values(problem.probes))
      if (probe.kind === "point") {
        expect(probe.x).toBeGreaterThanOrEqual(box.left);
        expect(probe.x).toBeLessThanOrEqual(box.right);
        expect(probe.y).toBeGreaterThan(box.bottom);
      }
  });
  test("of a flat one places below the interface end 3 % before its sides", () => {
    const { remelt, at, center, box } = inSection(
      "form: belly, depth: 4 mm",
      "wall: 20 mm",
      `${ELLIPSE}, form: flat`,
    );
    // 0.9 of 4 mm is above the lowest 1.5 % of 12 mm
    expect(remelt).toHaveLength(40);
    for (const { probe } of remelt) {
      const { x, y } = at(probe);
      expect(Math.abs(x - center.x)).toBeLessThan((0.97 * (box.right - box.left)) / 2);
      expect(Math.abs(y - center.y)).toBeLessThan((0.97 * (box.top - box.bottom)) / 2);
    }
    // of one as deep as its lower half all but the last
    const deep = inSection("form: belly, depth: 1.5 mm", "wall: 20 mm", `${ELLIPSE}, form: flat`);
    const last = deep.remelt.filter(({ along }) => along === 0);
    const within = last.every(
      ({ probe }) => Math.abs(deep.at(probe).y - deep.center.y) < (0.97 * 0.012) / 2,
    );
    expect(within).toBe(true);
    // 0.9 x 1.5 x (9 / 10)^2 leaves 0.4 mm, the last 0.15 mm: less than 3 % of 6 mm
    expect(last).toHaveLength(9);
  });
});

test("an outline of one piece has one chord at each level", () => {
  const { problem } = inSection("form: belly, depth: 6 mm");
  const first = problem.shapes!.find(({ name }) => name === "first 1")!.outline as Outline;
  const { left, right } = boxOf(ringsOf(first));
  const { x: outermost } = problem.probes["interface 0 3"] as { x: number };
  // up to the middle of an ellipse: 0.85 of its half-width
  expect((outermost - (left + right) / 2) / ((right - left) / 2)).toBeCloseTo(0.85, 2);
});

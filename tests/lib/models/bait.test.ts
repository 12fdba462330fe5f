/** A bait in its mold as a heat problem, and its colors: where everything lies, by the sizes that were given. */
import { describe, expect, test } from "vitest";
import { checkHeatProblem } from "../../../lib/heat/check.ts";
import type { HeatProblem } from "../../../lib/heat/problem.ts";
import { readJob } from "../../../lib/job/job.ts";
import { barModel, materialsOf, standInOf, wallLayers } from "../../../lib/models/bait/bar.ts";
import { sectionModel } from "../../../lib/models/bait/section.ts";
import { drawable, sectionPicture } from "../../../lib/models/bait/section-picture.ts";
import { layerSection } from "../../../lib/models/layer/section.ts";
import { colorsOf, layerStack } from "../../../lib/models/layer/stack.ts";
import { scenarioOf, scenarioSurroundings } from "../../../lib/models/scenario.ts";
import { boxOf, type Outline, ringsOf } from "../../../lib/shape/outline.ts";
import { measuresOf } from "../../../lib/shape/polygon.ts";

const scene = (text: string) => scenarioOf(readJob(text).job);
const boxes = ({ shapes = [] }: Pick<HeatProblem, "shapes">) =>
  Object.fromEntries(
    shapes.map(({ name, outline }) => {
      const { left, right, bottom, top } = boxOf(ringsOf(outline));
      return [name, [left, right, bottom, top].map((m) => Math.round(m * 1e5) / 1e2)];
    }),
  );
const solvable = (problem: Omit<HeatProblem, "stages">) =>
  checkHeatProblem({ ...problem, stages: [{ until: 10 }] });
const areaOf = (outline: Outline) => {
  const [outer, ...holes] = ringsOf(outline).map((ring) => {
    const points = Array.from(
      { length: ring.length / 2 },
      (_, i) => [ring[2 * i]!, ring[2 * i + 1]!] as const,
    );
    return measuresOf(points).area;
  });
  return outer! - holes.reduce((sum, a) => sum + a, 0);
};

const STATION =
  "stations: [{ at: 40 mm, width: 12 mm, height: 16 mm }, { at: 60 mm, width: 10 mm, height: 20 mm }]";
const PLATE = "{ material: aluminum 6061, thickness: 5 mm, distance: 6 mm, width: 30 mm }";

describe("in one dimension", () => {
  test("half a sheet or a round bar before its mold, from the middle out", () => {
    for (const [form, frame] of [
      ["round", "cylinder"],
      ["flat", "slab"],
    ] as const) {
      const scenario = scene(
        `{ bait: { thickness: 16 mm }, mold: { wall: 20 mm }, shot: { temperature: 170 degC } }`,
      );
      const { problem, bodies } = barModel(scenario, { form, across: 0.016 });
      expect(bodies).toEqual(["bait"]);
      expect(problem.frame).toBe(frame);
      expect(problem.layers![0]).toMatchObject({
        name: "bait",
        material: "plastic",
        thickness: 0.008,
        initial: expect.closeTo(443.15, 9),
        contact: scenario.job.mold.contact,
      });
      expect(problem.layers!.slice(1)).toEqual(
        wallLayers(
          scenario,
          (scenario.job.mold.temperature + scenario.job.mold.upperTemperature) / 2,
        ),
      );
      expect(problem.boundary).toEqual({
        left: { kind: "insulated" },
        right: scenarioSurroundings(scenario).outside,
      });
      expect(solvable(problem)).toEqual([]);
    }
  });
  test("two halves that are not as warm as each other count as their mean; water runs through a back", () => {
    const scenario = scene(
      "{ bait: { thickness: 16 mm }, mold: { temperature: 30 degC, upperTemperature: 50 degC, back: { material: aluminum 6061, distance: 10 mm, thickness: 12 mm, water: 15 degC } } }",
    );
    const { problem } = barModel(scenario, { form: "flat", across: 0.016 });
    for (const { name, initial } of problem.layers!.slice(1))
      expect(initial, name).toBeCloseTo(313.15, 9);
    expect(
      problem.layers!.map(({ name, thickness }) => [name, Math.round(thickness * 1e6)]),
    ).toEqual([
      ["bait", 8000],
      ["mold", 10000],
      ["back", 12000],
    ]);
    expect(problem.layers![1]!.contact).toBe(scenario.job.mold.back!.contact);
    expect(problem.boundary.right).toEqual(scenarioSurroundings(scenario).back);
    expect(problem.boundary.right).toMatchObject({ ambient: expect.closeTo(288.15, 9) });
    expect(Object.keys(materialsOf(scenario)).sort()).toEqual(["back", "mold", "plastic"]);
  });
  test("plates have contact on both sides, in the order in which they lie", () => {
    const scenario = scene(
      `{ bait: { thickness: 16 mm }, mold: { wall: 20 mm, inserts: [{ thickness: 2 mm, distance: 12 mm, contact: 300 W/(m2 K) }, { thickness: 3 mm, distance: 4 mm, contact: 700 W/(m2 K) }] } }`,
    );
    const layers = wallLayers(scenario, 300);
    expect(
      layers.map(({ name, thickness, contact }) => [name, Math.round(thickness * 1e6), contact]),
    ).toEqual([
      ["mold", 4000, 700],
      ["plate 2", 3000, 700],
      ["mold 2", 5000, 300],
      ["plate 1", 2000, 300],
      ["mold 3", 6000, undefined],
    ]);
    expect(Object.keys(materialsOf(scenario))).toContain("plate 2");
    // one on the face, or closer than the one before has room for
    const close = scene(
      `{ bait: { thickness: 16 mm }, mold: { wall: 20 mm, inserts: [{ thickness: 4 mm, distance: 1 mm }, { thickness: 3 mm, distance: 4 mm }] } }`,
    );
    const total = wallLayers(close, 300).reduce((sum, l) => sum + l.thickness, 0);
    expect(total).toBeCloseTo(0.02, 9);
    expect(wallLayers(close, 300).map(({ name }) => name)).toEqual([
      "mold",
      "plate 1",
      "plate 2",
      "mold 2",
    ]);
  });
  test("a station's stand-in lies between its sides; a drawn one's follows its area and its thickness", () => {
    const at = (more: object) =>
      standInOf({ name: "s", at: 0, width: 0.02, height: 0.012, form: "round", ...more } as never);
    expect(at({ height: 0.02 })).toEqual({ form: "round", across: expect.closeTo(0.02, 5) });
    expect(at({}).across).toBeGreaterThan(0.012);
    expect(at({}).across).toBeLessThan(0.02);
    expect(at({ form: "flat" })).toEqual({ form: "flat", across: 0.012 });
    // a drawn ellipse is one
    const ellipse = Array.from({ length: 400 }, (_, i) => [
      Math.cos((i / 200) * Math.PI),
      Math.sin((i / 200) * Math.PI),
    ]);
    expect(at({ outline: ellipse }).across / at({}).across).toBeCloseTo(1, 3);
  });
});

describe("in the block", () => {
  const text = (mold: string, station = STATION) =>
    `{ bait: { length: 100 mm, ${station} }, mold: { wall: 20 mm, spacing: 15 mm, length: 140 mm, ${mold} } }`;
  const model = (mold: string, whole = false, station = STATION) => {
    const scenario = scene(text(mold, station));
    const made = sectionModel(scenario, scenario.job.bait.stations[0]!, { whole });
    expect(solvable(made.problem)).toEqual([]);
    return { ...made, scenario };
  };
  test("a quarter of it, where all is its own image: laid out around the widest and the highest station", () => {
    const { problem, bodies, scenario } = model("cavities: 3");
    // widest 12 mm with 15 mm between, highest 20 mm
    expect(problem.block!.width).toBeCloseTo(0.027 + 0.006 + 0.02, 9);
    expect(problem.block!.height).toBeCloseTo(0.01 + 0.02, 9);
    expect(bodies).toEqual(["bait", "bait 2"]);
    expect(boxes(problem)).toEqual({ bait: [-6, 6, -8, 8], "bait 2": [21, 33, -8, 8] });
    expect(problem.mirrors).toEqual(["left", "bottom"]);
    const { outside } = scenarioSurroundings(scenario);
    const insulated = { kind: "insulated" };
    expect(problem.boundary).toEqual({
      left: insulated,
      bottom: insulated,
      right: outside,
      top: outside,
    });
    expect(problem.ends).toMatchObject({
      length: expect.closeTo(0.14, 9),
      ...scenarioSurroundings(scenario).ends,
    });
    expect(Object.keys(problem.probes)).toEqual(["hottest", "mean", "skin", "wall"]);
    expect(problem.contacts).toEqual([]);
  });
  test("an even row has none in its middle", () => {
    expect(boxes(model("cavities: 2").problem)).toEqual({ bait: [7.5, 19.5, -8, 8] });
    expect(boxes(model("cavities: 4").problem)).toEqual({
      bait: [7.5, 19.5, -8, 8],
      "bait 2": [34.5, 46.5, -8, 8],
    });
    expect(boxes(model("cavities: 1").problem)).toEqual({ bait: [-6, 6, -8, 8] });
  });
  test("both halves, where they differ or are asked for: with a parting line, the upper half its own", () => {
    for (const [mold, whole] of [
      ["cavities: 1, temperature: 30 degC, upperTemperature: 40 degC", false],
      ["cavities: 1", true],
    ] as const) {
      const { problem, scenario } = model(mold, whole);
      expect(problem.block!.height).toBeCloseTo(0.06, 9);
      expect(boxes(problem)).toEqual({ upper: [0, 26, 30, 60], bait: [-6, 6, 22, 38] });
      expect(problem.mirrors).toEqual(["left"]);
      expect(problem.contacts).toEqual([{ between: ["block", "upper"], conductance: 500 }]);
      expect(problem.boundary.bottom).toEqual(scenarioSurroundings(scenario).outside);
      const upper = problem.shapes!.find(({ name }) => name === "upper")!;
      expect(upper.initial).toBe(scenario.job.mold.upperTemperature);
      expect(problem.block!.initial).toBe(scenario.job.mold.temperature);
      expect(problem.probes["wall above"]).toMatchObject({ region: "upper", neighbor: "bait" });
      expect(problem.probes["skin above"]).toMatchObject({ region: "bait", neighbor: "upper" });
    }
  });
  test("plates lie behind the deepest cavity in the middle of the row, in both halves", () => {
    const { problem } = model(`cavities: 1, inserts: [${PLATE}]`);
    expect(boxes(problem)["plate 1"]).toEqual([0, 15, 16, 21]);
    const both = model(`cavities: 1, inserts: [${PLATE}]`, true).problem;
    expect(boxes(both)["plate 1"]).toEqual([0, 15, 46, 51]);
    expect(boxes(both)["plate 1 below"]).toEqual([0, 15, 9, 14]);
    for (const name of ["plate 1", "plate 1 below"])
      expect(both.shapes!.find((s) => s.name === name)).toMatchObject({
        material: "plate 1",
        contact: expect.any(Number),
      });
    // as wide as the block where no width is given, or one that is wider
    const wide = PLATE.replace(", width: 30 mm", "");
    expect(boxes(model(`cavities: 1, inserts: [${wide}]`).problem)["plate 1"]).toEqual([
      0, 26, 16, 21,
    ]);
    const back =
      "cavities: 1, back: { material: aluminum 6061, distance: 10 mm, thickness: 12 mm, water: 15 degC }";
    const { problem: backed, scenario } = model(back);
    expect(boxes(backed)["back"]).toEqual([0, 26, 20, 32]);
    expect(backed.block!.height).toBeCloseTo(0.032, 9);
    expect(backed.boundary.top).toEqual(scenarioSurroundings(scenario).back);
    expect(backed.boundary.right).toEqual(scenarioSurroundings(scenario).outside);
  });
  test("a drawn outline that is not its own image takes the whole row", () => {
    const drawn =
      "stations: [{ at: 40 mm, width: 12 mm, height: 16 mm, outline: [[0 mm, 0 mm], [12 mm, 0 mm], [4 mm, 16 mm]] }]";
    const { problem, scenario } = model(`cavities: 1, inserts: [${PLATE}]`, false, drawn);
    expect(problem.block!.width).toBeCloseTo(2 * (0.006 + 0.02), 9);
    expect(boxes(problem)["bait"]).toEqual([20, 32, 20, 36]);
    expect(boxes(problem)["plate 1"]).toEqual([11, 41, 42, 47]);
    expect(problem.mirrors).toEqual([]);
    expect(problem.boundary.left).toEqual(scenarioSurroundings(scenario).outside);
    // its picture: at half the height the slanted edges lie at 22 and 28 mm
    const { lines } = sectionPicture(problem, []);
    const parting = lines.filter((l) => l.part === "parting").map(({ points }) => points);
    expect(parting.map((ends) => ends.map(([x]) => Math.round(x * 1e6) / 1e3))).toEqual([
      [0, 22],
      [28, 52],
    ]);
    // of several cavities one side of the row stands for both
    expect(model("cavities: 2", false, drawn).problem.mirrors).toEqual(["left"]);
  });

  test("its picture: outlines and field of the whole, from a quarter", () => {
    const { problem } = model(`cavities: 2, inserts: [${PLATE}]`);
    const [w, h] = [problem.block!.width, problem.block!.height];
    const x = Float32Array.of(0, w / 4, w);
    const y = Float32Array.of(0, h / 2, h);
    const snapshot = { time: 3, x, y, temperature: Float32Array.of(1, 2, 3, 4) };
    const { fields, lines, width, height } = sectionPicture(problem, [snapshot]);
    expect([width, height]).toEqual([2 * w, 2 * h]);
    expect(Array.from(fields[0]!.temperature)).toEqual([
      4, 3, 3, 4, 2, 1, 1, 2, 2, 1, 1, 2, 4, 3, 3, 4,
    ]);
    expect(fields[0]!.x).toHaveLength(5);
    const of = (part: string) =>
      lines.filter((l) => l.part === part).map(({ points }) => measuresOf(points).area);
    // polygons of an ellipse
    for (const area of of("bait")) expect(area / (Math.PI * 0.006 * 0.008)).toBeCloseTo(1, 3);
    expect(of("bait")).toHaveLength(2);
    for (const area of of("insert")) expect(area).toBeCloseTo(0.03 * 0.005, 9);
    expect(of("insert")).toHaveLength(2);
    const parting = lines.filter((l) => l.part === "parting").map(({ points }) => points);
    const open = parting.reduce((sum, [[a], [b]]) => sum + (b! - a!), 0);
    expect(open).toBeCloseTo(width - 2 * 0.012, 5);
    for (const line of parting) for (const [, at] of line) expect(at).toBeCloseTo(h, 9);
    // without mirrors it is as it was solved
    const { mirrors: _, ...bare } = problem;
    expect(sectionPicture(bare, [snapshot])).toMatchObject({ width: w, height: h });
  });

  test("a picture of more cells than a screen shows keeps its heat: cells are joined by their areas", () => {
    for (const [nx, ny] of [
      [400, 300],
      [401, 203],
      [200, 200],
    ] as const) {
      // uneven faces
      const faces = (n: number) =>
        Float32Array.from({ length: n + 1 }, (_, i) => i + 0.3 * Math.sin(i));
      const [x, y] = [faces(nx), faces(ny)];
      const temperature = Float32Array.from(
        { length: nx * ny },
        (_, k) => 300 + (k % nx) * 0.2 + Math.floor(k / nx),
      );
      const small = drawable({ time: 7, x, y, temperature });
      const heat = (s: typeof small) => {
        let [sum, area] = [0, 0];
        const across = s.x.length - 1;
        s.temperature.forEach((T, k) => {
          const [i, j] = [k % across, Math.floor(k / across)];
          const a = (s.x[i + 1]! - s.x[i]!) * (s.y[j + 1]! - s.y[j]!);
          sum += a * T;
          area += a;
        });
        return [sum, area] as const;
      };
      const [had, has] = [heat({ time: 7, x, y, temperature }), heat(small)];
      expect(has[0] / had[0]).toBeCloseTo(1, 5);
      expect(has[1] / had[1]).toBeCloseTo(1, 5);
      expect(small.time).toBe(7);
      const cells = small.temperature.length;
      expect(cells).toBeLessThanOrEqual(40_000);
      expect(cells).toBeGreaterThan(9_000);
      expect([small.x.at(-1), small.y.at(-1)]).toEqual([x.at(-1), y.at(-1)]);
      if (nx * ny <= 40_000) expect(small.temperature).toBe(temperature);
    }
  });
});

describe("two colors", () => {
  const layers = (layer: string, bait = "thickness: 16 mm") =>
    scene(`{ bait: { ${bait} }, mold: { wall: 20 mm }, layer: { ${layer} } }`);
  test("share the height of the body; the second takes what the others leave, and none is empty", () => {
    const depths = (layer: string, height = 0.016) =>
      colorsOf(layers(layer), height).map(({ name, depth }) => [
        name,
        Math.round(depth * 1e7) / 1e4,
      ]);
    expect(depths("depth: 3 mm")).toEqual([
      ["first", 3],
      ["second", 13],
    ]);
    const more = "more: [{ depth: 2 mm }, { depth: 1 mm }]";
    expect(depths(`depth: 3 mm, ${more}`)).toEqual([
      ["first", 3],
      ["second", 10],
      ["color 3", 2],
      ["color 4", 1],
    ]);
    // of a lower body the first leaves a twentieth
    expect(depths("depth: 6 mm", 0.005)).toEqual([
      ["first", 4.75],
      ["second", 0.25],
    ]);
  });
  test("lie as a stack between both halves, closer to each other than to the mold", () => {
    const scenario = layers("depth: 3 mm, skin: 0.5 mm");
    const { problem, upper, shares, interfaces, remelt, colors, exposed } = layerStack(
      scenario,
      0.016,
    );
    expect(solvable(problem)).toEqual([]);
    expect(
      problem.layers!.map(({ name, thickness }) => [name, Math.round(thickness * 1e7) / 1e4]),
    ).toEqual([
      ["mold below", 20],
      ["first", 3],
      ["second", 13],
      ["mold above", 20],
    ]);
    const { mold } = scenario.job;
    expect(problem.contacts).toEqual([
      { between: ["mold below", "first"], conductance: mold.contact },
      { between: ["second", "mold above"], conductance: mold.contact },
    ]);
    expect([problem.layers![0]!.initial, problem.layers![3]!.initial]).toEqual([
      mold.temperature,
      mold.upperTemperature,
    ]);
    expect(upper).toEqual(["mold above"]);
    expect([shares, interfaces, colors]).toEqual([[0], [["interface 0"]], [["first"], ["second"]]]);
    expect(exposed).toEqual(scenarioSurroundings(scenario).open);
    const x = (name: string) => (problem.probes[name] as { x: number }).x;
    expect(x("skin 0")).toBeCloseTo(0.0205, 9);
    expect(x("skin 1")).toBeCloseTo(0.0235, 9);
    expect(x("surface")).toBeCloseTo(0.023, 9);
    expect(problem.probes["wall"]).toMatchObject({
      region: "mold below",
      neighbor: "first",
      of: "hottest",
    });
    expect(problem.probes["interface 0"]).toMatchObject({
      region: "first",
      neighbor: "second",
      of: "mean",
    });
    // remelting is looked for through the whole first color, closer near the interface
    expect(remelt.at(-1)!.depth).toBeCloseTo(0.003, 12);
    remelt.forEach(({ depth, probe, along }, i) => {
      expect(x(probe)).toBeCloseTo(0.023 - depth, 9);
      expect(along).toBe(0);
      if (i > 1)
        expect(depth - remelt[i - 1]!.depth).toBeGreaterThan(
          remelt[i - 1]!.depth - remelt[i - 2]!.depth,
        );
    });
  });
  test("a plate that ends with the wall touches nothing behind it", () => {
    const flush = "{ thickness: 3 mm, distance: 17 mm, material: aluminum }";
    const scenario = scene(
      `{ bait: { thickness: 16 mm }, mold: { wall: 20 mm, inserts: [${flush}] }, layer: { depth: 3 mm } }`,
    );
    const { problem } = layerStack(scenario, 0.016);
    expect(problem.layers!.map(({ name }) => name)).toEqual([
      "plate 1 below",
      "mold below",
      "first",
      "second",
      "mold above",
      "plate 1 above",
    ]);
    expect(problem.contacts).toHaveLength(4);
    expect(solvable(problem)).toEqual([]);
  });
  test("plates of a half have their contacts in the stack, mirrored below", () => {
    const scenario = scene(
      `{ bait: { thickness: 16 mm }, mold: { wall: 20 mm, inserts: [${PLATE}], back: { material: aluminum 6061, distance: 15 mm, thickness: 6 mm, water: 15 degC } }, layer: { depth: 3 mm } }`,
    );
    const { problem, upper } = layerStack(scenario, 0.016);
    const names = problem.layers!.map(({ name }) => name);
    const half = ["mold above", "plate 1 above", "mold 2 above", "back above"];
    expect(upper).toEqual(half);
    expect(names).toEqual([
      ...half.map((n) => n.replace("above", "below")).reverse(),
      "first",
      "second",
      ...half,
    ]);
    expect(problem.contacts!).toHaveLength(8);
    for (const { between } of problem.contacts!)
      expect(Math.abs(names.indexOf(between[0]) - names.indexOf(between[1]))).toBe(1);
    const { back } = scenarioSurroundings(scenario);
    expect(problem.boundary).toEqual({ left: back, right: back });
    expect(solvable(problem)).toEqual([]);
  });

  const inSection = (
    layer: string,
    station = "width: 16 mm, height: 12 mm",
    mold = "cavities: 1",
  ) => {
    const scenario = scene(
      `{ bait: { length: 100 mm, stations: [{ at: 40 mm, ${station} }] }, mold: { wall: 20 mm, ${mold} }, layer: { ${layer} } }`,
    );
    const stack = layerSection(scenario, scenario.job.bait.stations[0]!);
    expect(solvable(stack.problem)).toEqual([]);
    const outline = (name: string) => stack.problem.shapes!.find((s) => s.name === name)!.outline;
    return { ...stack, outline, scenario };
  };
  test("a belly lies level in the lower half: a segment of the ellipse", () => {
    for (const depth of [3, 6, 9]) {
      const { outline, problem } = inSection(`form: belly, depth: ${depth} mm`);
      // area of a segment of a circle of radius 6, stretched by 8 / 6
      const angle = Math.acos(1 - depth / 6);
      const segment = 36 * (angle - Math.sin(angle) * Math.cos(angle)) * (8 / 6);
      expect((areaOf(outline("first 1")) * 1e6) / segment).toBeCloseTo(1, 2);
      expect((areaOf(outline("second 1")) * 1e6) / (Math.PI * 48)).toBeCloseTo(1, 2);
      const names = problem.shapes!.map(({ name }) => name);
      expect(names.indexOf("first 1")).toBeGreaterThan(names.indexOf("second 1"));
    }
  });
  test("a skin lines the lower half evenly: half the ring between two ellipses", () => {
    const { outline, interfaces, shares } = inSection("form: skin, depth: 1.5 mm");
    const ring = (Math.PI * (8 * 6 - 6.5 * 4.5)) / 2;
    expect((areaOf(outline("first 1")) * 1e6) / ring).toBeCloseTo(1, 2);
    expect([interfaces, shares]).toEqual([[["interface 0 0"]], [0]]);
  });
  test.each(["belly", "skin"])(
    "of a %s the probes lie on the interface, and below it in the first",
    (form) => {
      const depth = 2;
      const { problem, remelt, interfaces, poured } = inSection(
        `form: ${form}, depth: ${depth} mm, skin: 0.5 mm`,
      );
      const at = (name: string) => problem.probes[name] as { x: number; y: number };
      // the middle of the ellipse: half the block, and the mirror on the left
      const [cx, cy] = [0, problem.block!.height / 2];
      const names = Object.keys(problem.probes).filter((n) => /^interface 0/.test(n));
      expect(names).toHaveLength(4);
      names.forEach((name, i) => {
        const along = [0, 0.5, 0.7, 0.85][i]!;
        const { x, y } = at(name);
        const [u, v] = [(x - cx) * 1e3, (y - cy) * 1e3];
        // in the lower half
        expect(v).toBeLessThan(0);
        if (form === "skin") {
          // on the inner ellipse, a share of a quarter turn from its lowest point
          expect((u / 6) ** 2 + (v / 4) ** 2).toBeCloseTo(1, 3);
          expect(u / 6).toBeCloseTo(Math.sin((Math.PI / 2) * along), 3);
        } else {
          expect(v).toBeCloseTo(depth - 6, 3);
          expect(u).toBeCloseTo(along * 8 * Math.sqrt(1 - (4 / 6) ** 2), 2);
        }
      });
      expect(interfaces[0]).toEqual(form === "skin" ? names.slice(0, 1) : names);
      expect(poured[0]!.depth).toBeCloseTo(0.002, 9);
      expect(remelt.length).toBeGreaterThan(20);
      for (const { probe, depth: below, along } of remelt) {
        const from = at(names[[0, 0.5, 0.7, 0.85].indexOf(along)]!);
        const { x, y } = at(probe);
        expect(Math.hypot(x - from.x, y - from.y)).toBeCloseTo(below, 9);
        expect(y).toBeLessThanOrEqual(from.y);
        // inside the ellipse
        expect((((x - cx) * 1e3) / 8) ** 2 + (((y - cy) * 1e3) / 6) ** 2).toBeLessThan(0.97 ** 2);
        if (along === 0) expect(x).toBeCloseTo(cx, 9);
      }
      expect(at("skin 0").y).toBeCloseTo(cy - 0.006 + 0.0005, 6);
      expect(at("surface")).toEqual(at("interface 0 0"));
    },
  );
  test("a flat section fills as a rectangle; several cavities each have both colors; the upper half comes with its plates", () => {
    const flat = inSection("form: belly, depth: 4 mm", "width: 16 mm, height: 12 mm, form: flat");
    expect(areaOf(flat.outline("first 1")) * 1e6).toBeCloseTo(64, 3);
    const x = (name: string) => (flat.problem.probes[name] as { x: number }).x * 1e3;
    expect([x("interface 0 1"), x("interface 0 3")]).toEqual([
      expect.closeTo(4, 6),
      expect.closeTo(6.8, 6),
    ]);
    expect(flat.remelt.filter(({ along }) => along === 0.85)).toHaveLength(
      flat.remelt.filter(({ along }) => along === 0).length,
    );
    const row = inSection(
      "form: belly, depth: 4 mm",
      undefined,
      `cavities: 3, inserts: [${PLATE}]`,
    );
    expect(row.colors).toEqual([
      ["first 1", "first 2"],
      ["second 1", "second 2"],
    ]);
    expect(row.upper).toEqual(["upper", "plate 1"]);
    const touching = row.problem.contacts!.filter(
      ({ conductance }) => conductance === Number.POSITIVE_INFINITY,
    );
    expect(touching.map(({ between }) => between)).toEqual([
      ["first 1", "second 1"],
      ["first 2", "second 2"],
    ]);
    expect(row.problem.probes["hottest 0"]).toEqual({ kind: "hottest", region: "first 1" });
    expect(row.problem.probes["hottest 1"]).toEqual({ kind: "hottest", region: "second 1" });
    expect(row.problem.probes["wall"]).toMatchObject({ region: "block", neighbor: "first 1" });
    const { first, second } = row.problem.materials;
    expect([first, second]).toEqual(row.poured.map(({ material }) => material));
  });
});

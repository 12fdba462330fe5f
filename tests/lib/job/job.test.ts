import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { checkHeatProblem } from "../../../lib/heat/check.ts";
import { fillDefaults } from "../../../lib/job/defaults.ts";
import { checkJob, readJob } from "../../../lib/job/job.ts";
import { jobJsonSchema, jobSchema } from "../../../lib/job/schema.ts";
import { withSetting } from "../../../lib/job/with-setting.ts";
import { sectionModel } from "../../../lib/models/bait/section.ts";
import { scenarioOf } from "../../../lib/models/scenario.ts";
import { InputError, type Problem } from "../../../lib/units/problem.ts";

function problemsOf(text: string): readonly Problem[] {
  try {
    readJob(text);
  } catch (error) {
    if (error instanceof InputError) return error.problems;
    throw error;
  }
  return [];
}

const folder = new URL("../../../data/jobs/", import.meta.url);

test.each(readdirSync(folder))("%s reads", (file) => {
  const { job, defaults } = readJob(readFileSync(new URL(file, folder), "utf8"));
  expect(job.name).not.toBe("unnamed job");
  expect(defaults).not.toContain("bait.thickness");
});

test("only the thickness is needed", () => {
  const { job, defaults } = readJob("bait: { thickness: 16 mm }");
  expect(job.bait.stations).toEqual([
    { name: "body", at: 0.05, width: 0.016, height: 0.016, form: "round" },
  ]);
  expect(job.mold.temperature).toBeCloseTo(293.15, 9);
  expect(job.limits.demold).toBeCloseTo(328.15, 9);
  expect(job.mold.length).toBeCloseTo(0.14, 12);
  expect(defaults).toContain("mold.temperature");
  expect(defaults).toContain("mold.length");
  expect(defaults).not.toContain("bait.thickness");
});

test("what follows another value follows what was typed", () => {
  const { job } = readJob(
    "{ bait: { thickness: 16 mm }, room: { temperature: 41 degF }, shot: { temperature: 340 degF } }",
  );
  expect(job.mold.temperature).toBeCloseTo(278.15, 9);
  expect(job.mold.upperTemperature).toBeCloseTo(278.15, 9);
  expect(job.pour.stock).toBeCloseTo(278.15, 9);
  expect(job.layer.second.temperature).toBeCloseTo(444.261, 3);
});

test("a default gives way to what was typed", () => {
  const { job } = readJob("{ bait: { thickness: 4 mm }, pour: { depth: 10 mm } }");
  expect(job.layer.depth).toBeCloseTo(0.002, 12);
  // a lining of half the bait would fill it
  const lined = readJob("{ bait: { thickness: 4 mm }, layer: { form: skin } }").job;
  expect(lined.layer.depth).toBeCloseTo(0.001, 12);
  const skin = readJob("{ bait: { thickness: 16 mm }, layer: { form: skin, depth: 7.6 mm } }").job;
  expect(skin.layer.depth).toBeCloseTo(0.0076, 12);
  const tall = readJob("{ bait: { thickness: 16 mm }, pour: { depth: 10 mm } }").job;
  expect(tall.pour.masters.height).toBeCloseTo(0.005, 12);
});

test("the thickest part is the largest of the smaller sides", () => {
  const { job } = readJob(`
bait:
  length: 110 mm
  stations:
    - { name: tail, at: 100 mm, width: 14 mm, height: 3 mm }
    - { name: body, at: 35 mm, width: 15 mm, height: 18 mm }`);
  expect(job.bait.thickness).toBe(0.015);
  expect(job.bait.stations.map((s) => [s.name, s.form])).toEqual([
    ["body", "round"],
    ["tail", "flat"],
  ]);
});

test("a job may bring its own materials", () => {
  const { job } = readJob(`
materials: [{ name: my resin, like: filled epoxy, conductivity: 0.8 W/mK, spread: 5 % }]
bait: { thickness: 16 mm }
mold: { material: my resin }`);
  expect(job.mold.material.conductivity).toMatchObject({ value: 0.8, source: "job file" });
  expect(job.mold.material.conductivity.low).toBeCloseTo(0.76, 12);
  expect(job.mold.material.density.value).toBe(1770);
  expect(
    problemsOf(
      "{ materials: [{ name: a, like: unobtainium }], bait: { thickness: 9 mm }, mold: { material: a } }",
    ),
  ).toMatchObject([
    { code: "unknown_material", path: "materials[0].like" },
    { code: "unknown_material", path: "mold.material" },
  ]);
});

test("a range speaks in the unit that was typed, and guesses what was meant", () => {
  expect(problemsOf("{ bait: { thickness: 16 mm }, shot: { temperature: 350 degC } }")).toEqual([
    {
      code: "too_big",
      path: "shot.temperature",
      given: "350 degC",
      least: "130 degC",
      most: "205 degC",
      suggestion: "350 degF",
    },
  ]);
  expect(problemsOf("bait: { thickness: 160 in }")).toMatchObject([
    { code: "too_big", given: "160 in", least: "0.03937 in", most: "3.15 in" },
  ]);
  expect(problemsOf("bait: { thickness: 0.6 mm }")).toMatchObject([{ suggestion: "0.6 in" }]);
});

test("a missing unit is answered with one in which the number is possible", () => {
  const asked = (text: string) => problemsOf(text)[0]!;
  const body = "bait: { thickness: 16 mm }\n";
  expect(asked(`${body}room: { temperature: 85 }`)).toMatchObject({
    code: "unit_missing",
    possible: ["85 degF"],
    least: "5 degF",
    most: "122 degF",
  });
  expect(asked(`${body}shot: { temperature: "340" }`).possible).toEqual(["340 degF"]);
  expect(asked("bait: { thickness: 16 mm, length: 4 }").possible).toEqual(["4 in"]);
  expect(asked(`${body}room: { temperature: 40 }`).possible).toEqual(["40 degC", "40 degF"]);
  // in no unit: what is possible, and no advice
  const none = asked(`${body}room: { temperature: 700 }`);
  expect([none.code, none.possible, none.suggestion]).toEqual([
    "unit_missing",
    undefined,
    undefined,
  ]);
  for (const key of ["bait.length", "mold.wall", "shot.temperature", "run.open", "run.session"])
    for (const number of [0.75, 2, 4, 16, 60, 180, 340]) {
      const [group, leaf] = key.split(".") as [string, string];
      const text = (typed: string) =>
        group === "bait"
          ? `bait: { thickness: 5 mm, ${leaf}: ${typed} }`
          : `bait: { thickness: 5 mm, length: 100 mm }\n${group}: { ${leaf}: ${typed} }`;
      for (const typed of asked(text(String(number))).possible ?? [])
        expect(
          problemsOf(text(typed)).filter(({ path }) => path === key),
          typed,
        ).toEqual([]);
    }
});

test("a name is suggested by its words: no metal for a filled resin", () => {
  const meant = (name: string) =>
    problemsOf(`bait: { thickness: 16 mm }\nmold: { material: ${name} }`)[0]!.suggestion;
  expect(meant("epoxy with aluminum filler")).toBe("filled epoxy, post-cured");
  expect(meant("epoxy filled with aluminium")).toBe("filled epoxy, post-cured");
  expect(meant("alumnium")).toBe("aluminum 6061");
  expect(meant("aluminum mold")).toBe("aluminum 6061");
  expect(meant("silicon")).toBe("silicone");
  expect(meant("rubber with glass beads")).toBeUndefined();
});

test("every problem at once, in the order of the file", () => {
  const found = problemsOf(`
shot: { temperature: 350 degC, material: water }
bait: { thickness: 16, lenght: 100 mm }
room: { temperature: 20 }
mould: { wall: 20 mm }
run: { shots: 1.5 }`);
  expect(found.map(({ path, code }) => `${path} ${code}`)).toEqual([
    "mould unknown_key",
    "room.temperature unit_missing",
    "bait.lenght unknown_key",
    "bait.thickness unit_missing",
    "shot.temperature too_big",
    "shot.material wrong_material",
    "run.shots not_whole",
  ]);
});

test("a wrong group does not hide the rest, nor bring problems of its own", () => {
  expect(
    problemsOf("{ bait: { thickness: 16 mm }, layer: 5, mold: [] }").map(({ path }) => path),
  ).toEqual(expect.arrayContaining(["layer", "mold"]));
  expect(problemsOf("{ bait: { thickness: 16 mm }, layer: 5, mold: [] }").length).toBe(2);
});

describe("withSetting", () => {
  test("sets what stands in the file, and what does not", () => {
    const raw = { bait: { thickness: "16 mm" } };
    expect(withSetting(raw, "bait.thickness", "18 mm")).toEqual({ bait: { thickness: "18 mm" } });
    expect(withSetting(raw, "run.shots", "5")).toEqual({
      bait: { thickness: "16 mm" },
      run: { shots: 5 },
    });
    expect(raw).toEqual({ bait: { thickness: "16 mm" } });
  });
  test("reaches into lists that are there", () => {
    const raw = { bait: { stations: [{ width: "9 mm" }] } };
    expect(withSetting(raw, "bait.stations[0].width", "8 mm")).toEqual({
      bait: { stations: [{ width: "8 mm" }] },
    });
    expect(() => withSetting(raw, "bait.stations[1].width", "8 mm")).toThrow(InputError);
  });
  test.each(["", "a b", "__proto__.polluted", "bait.thickness.deep", "x..y", "[0]", "a[9999]"])(
    "refuses %s",
    (path) => {
      const set = () => checkJob(withSetting({ bait: { thickness: "16 mm" } }, path, "1 mm"));
      expect(set).toThrow(InputError);
      expect(({} as Record<string, unknown>)["polluted"]).toBeUndefined();
    },
  );
});

test("any plain data is read or refused with problems, never with another error", () => {
  const keys = fc.constantFrom(
    "bait",
    "thickness",
    "mold",
    "stations",
    "shot",
    "temperature",
    "x",
    "__proto__",
  );
  const value = fc.letrec((tie) => ({
    node: fc.oneof(
      { maxDepth: 4 },
      fc.string(),
      fc.integer(),
      fc.constant(null),
      fc.boolean(),
      fc.constantFrom("16 mm", "170 degC", "filled epoxy", Number.NaN),
      fc.array(tie("node"), { maxLength: 3 }),
      fc.dictionary(keys, tie("node"), { maxKeys: 4 }),
    ),
  })).node;
  fc.assert(
    fc.property(value, (raw) => {
      try {
        const { job } = checkJob(raw);
        expect(job.bait.thickness).toBeGreaterThan(0);
      } catch (error) {
        expect(error).toBeInstanceOf(InputError);
        expect((error as InputError).problems.length).toBeGreaterThan(0);
      }
    }),
    { numRuns: 500 },
  );
});

test("every default fits its own range, and what follows fits where it goes", () => {
  const { raw } = fillDefaults(jobSchema, { bait: { thickness: "16 mm" } });
  expect(jobSchema.safeParse(raw).error?.issues ?? []).toEqual([]);
  for (const room of ["-15 degC", "50 degC"])
    readJob(
      `{ bait: { thickness: 16 mm }, room: { temperature: ${room} }, limits: { demold: 60 degC } }`,
    );
  for (const length of ["10 mm", "1000 mm"])
    readJob(`{ bait: { thickness: 5 mm, length: ${length} } }`);
  for (const wall of ["3 mm", "150 mm"])
    readJob(`{ bait: { thickness: 5 mm }, mold: { wall: ${wall}, back: {} } }`);
  for (const shot of ["130 degC", "205 degC"])
    readJob(`{ bait: { thickness: 5 mm }, shot: { temperature: ${shot} } }`);
  for (const sprue of ["1 mm", "40 mm"])
    readJob(`{ bait: { thickness: 5 mm }, sprue: { diameter: ${sprue} } }`);
});

test("the JSON Schema asks for the bait alone", () => {
  const schema = jobJsonSchema() as {
    required: string[];
    properties: Record<string, { required?: string[] }>;
  };
  expect(schema.required).toEqual(["bait"]);
  expect(schema.properties["room"]!.required).toBeUndefined();
  expect(JSON.stringify(schema)).not.toContain('"required":true');
});

describe("two keys that don't go together are refused past the bound, and taken at it", () => {
  const job = (path: string, value: string, [other, at]: readonly [string, string]) =>
    [
      [other, at],
      [path, value],
    ].reduce<Record<string, unknown>>(
      (raw, [key = "", typed = ""]) => withSetting(raw, key, typed),
      {
        bait: { thickness: "16 mm" },
      },
    );

  test.each([
    ["mold_shorter", "mold.length", ["bait.length", "120 mm"], "120 mm", "119 mm", "least"],
    [
      "mold_hotter_than_shot",
      "mold.temperature",
      ["shot.temperature", "130 degC"],
      "110 degC",
      "111 degC",
      "most",
    ],
    [
      "mold_hotter_than_shot",
      "run.preheat",
      ["shot.temperature", "130 degC"],
      "110 degC",
      "111 degC",
      "most",
    ],
    [
      "limit_below_room",
      "limits.demold",
      ["room.temperature", "30 degC"],
      "32 degC",
      "31 degC",
      "least",
    ],
    [
      "limit_above_shot",
      "limits.set",
      ["shot.temperature", "150 degC"],
      "145 degC",
      "146 degC",
      "most",
    ],
    ["masters_stand_out", "pour.masters.height", ["pour.depth", "20 mm"], "19 mm", "20 mm", "most"],
    ["plate_outside_mold", "mold.back.distance", ["mold.wall", "15 mm"], "15 mm", "16 mm", "most"],
  ] as const)("%s: %s", (code, path, other, fits, past, end) => {
    expect(() => checkJob(job(path, fits, other))).not.toThrow();
    try {
      checkJob(job(path, past, other));
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      expect(error.problems).toHaveLength(1);
      expect(error.problems[0]).toMatchObject({ code, path, given: past, [end]: fits });
      return;
    }
    throw new Error(`${path} at ${past} is taken`);
  });
});

test.each([
  [
    "wall: 25 mm",
    "thickness: 6 mm, distance: 19 mm",
    "thickness: 6 mm, distance: 30 mm",
    "distance",
    "19 mm",
  ],
  [
    "wall: 20 mm",
    "thickness: 6 mm, distance: 14 mm",
    "thickness: 6 mm, distance: 15 mm",
    "distance",
    "14 mm",
  ],
  [
    "wall: 25 mm, back: { distance: 10 mm }",
    "thickness: 4 mm, distance: 6 mm",
    "thickness: 4 mm, distance: 23 mm",
    "distance",
    "6 mm",
  ],
  [
    "wall: 25 mm, back: {}",
    "thickness: 4 mm, distance: 21 mm",
    "thickness: 4 mm, distance: 22 mm",
    "distance",
    "21 mm",
  ],
  [
    "wall: 7 mm",
    "thickness: 6 mm, distance: 1 mm",
    "thickness: 9 mm, distance: 1 mm",
    "thickness",
    "6 mm",
  ],
])("in a mold of %s a plate of %s is taken, one of %s is not", (mold, fits, past, key, most) => {
  const read = (plate: string) =>
    readJob(
      `bait: { thickness: 16 mm, length: 100 mm }\nmold: { ${mold}, inserts: [ { ${plate} } ] }`,
    );
  const { job } = read(fits);
  // and can be laid out
  const { problem } = sectionModel(scenarioOf(job), job.bait.stations[0]!);
  expect(checkHeatProblem({ ...problem, stages: [{ until: 1 }] })).toEqual([]);
  try {
    read(past);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const code = key === "distance" ? "plate_outside_mold" : "plate_fills_wall";
    expect(error.problems).toEqual([
      {
        code,
        path: `mold.inserts[0].${key}`,
        given: new RegExp(`${key}: (\\d+ mm)`).exec(past)![1],
        most,
      },
    ]);
    return;
  }
  throw new Error("it is taken");
});

describe("the resin of a pour where none is said", () => {
  const poured = (text: string) => readJob(`bait: { thickness: 16 mm }\n${text}`).job.pour.material;
  test.each([
    ["mold: { material: polyurethane }", "polyurethane"],
    ["mold: { material: silicone }", "silicone"],
    ["mold: { material: aluminum 6061 }", "filled epoxy"],
    ["mold: { wall: 20 mm }", "filled epoxy"],
    ["mold: { material: polyurethane }\npour: { material: epoxy }", "epoxy"],
    ["mold: { material: ours }\nmaterials: [{ name: ours, like: polyurethane }]", "ours"],
    ["mold: { material: ours }\nmaterials: [{ name: ours, like: steel }]", "filled epoxy"],
  ])("%s: that of the mold, if it can be poured", (text, name) => {
    const bare = readJob(
      `bait: { thickness: 16 mm }\npour: { material: ${name === "ours" ? "polyurethane" : name} }`,
    );
    expect(poured(text).name).toBe(name === "ours" ? "ours" : bare.job.pour.material.name);
  });
});

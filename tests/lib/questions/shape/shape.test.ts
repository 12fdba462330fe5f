import { describe, expect, test } from "vitest";
import { checkJob, readJob } from "../../../../lib/job/job.ts";
import { demold } from "../../../../lib/questions/demold/demold.ts";
import { shape } from "../../../../lib/questions/shape/shape.ts";
import { baitKeys } from "../../../../lib/questions/shape/stations.ts";
import { chooseStations } from "../../../../lib/shape/choose-stations.ts";
import { readViews } from "../../../../lib/shape/drawing-reading.ts";
import { readMesh } from "../../../../lib/shape/mesh-reading.ts";
import type { Reading } from "../../../../lib/shape/slice.ts";
import { InputError } from "../../../../lib/units/problem.ts";
import {
  binaryStl,
  ellipsoid,
  ofEllipses,
  type Triangle,
  textStl,
  torus,
  turned,
} from "../../shape/solids.ts";
import { drawing, job as jobText, mesh } from "./one-bait.ts";

const off = (a: number, b: number) => Math.abs(a / b - 1);
const { job } = readJob(jobText);
const meshed = readMesh(binaryStl(mesh()), { unit: 1e-3 });
const drawn = readViews(drawing(), { mark: 0.05 });

/** The job that a reading makes, read back. */
function jobOf(reading: Reading) {
  return checkJob({ bait: baitKeys(reading.length, chooseStations(reading), "mm") }).job;
}

describe("one bait as stations, as a drawing and as a mesh", () => {
  const volumes = [
    shape(job).answer.volume.value,
    shape(job, { reading: { ...drawn, source: "drawing" } }).answer.volume.value,
    shape(job, { reading: { ...meshed, source: "mesh" } }).answer.volume.value,
  ];

  test("volumes agree within 2 %, and so do those of the jobs they make", () => {
    const made = [meshed, drawn].map((reading) => shape(jobOf(reading)).answer.volume.value);
    for (const volume of [...volumes, ...made]) expect(off(volume, volumes[0]!)).toBeLessThan(0.02);
  });

  test("open times agree within 3 %", () => {
    const times = [job, jobOf(drawn), jobOf(meshed)].map(
      (one) => demold(one, { further: false }).answer.time.value,
    );
    for (const time of times) expect(off(time, times[0]!)).toBeLessThan(0.03);
  });

  test("thickest and thinnest spot are found by the shape", () => {
    for (const reading of [drawn, meshed]) {
      const { thickest, thinnest, slowest, sections } = shape(job, {
        reading: { ...reading, source: "mesh" },
      }).answer;
      expect(thickest.thickness * 1000).toBeCloseTo(15, 1);
      expect(Math.abs(thickest.at * 1000 - 32)).toBeLessThan(1);
      expect(thinnest.thickness * 1000).toBeCloseTo(3.2, 1);
      expect(Math.abs(thinnest.at * 1000 - 85)).toBeLessThan(1);
      expect(slowest.name).toBe("thickest");
      expect(sections.length).toBeLessThanOrEqual(9);
    }
  });

  test("seen from its other end, the thicker one is the nose all the same", () => {
    const back = mesh().map((t) => t.map(([x, y, z]) => [-x, -y, z]) as unknown as Triangle);
    const other = readMesh(binaryStl(back), { unit: 1e-3 });
    expect(other.measures!.centroid.along).toBeCloseTo(meshed.measures!.centroid.along, 5);
    expect(chooseStations(other).map(({ at }) => Math.round(at * 1000))).toEqual(
      chooseStations(meshed).map(({ at }) => Math.round(at * 1000)),
    );
  });

  test("sections that only their place tells are numbered from nose to tail", () => {
    for (const reading of [meshed, readMesh(binaryStl(mesh(48, 80)), { unit: 1e-3 })]) {
      const numbers = chooseStations(reading).flatMap(
        ({ name }) => /^section (\d+)$/.exec(name)?.[1] ?? [],
      );
      expect(numbers).toEqual(numbers.map((_, i) => String(i + 1)));
    }
    expect(chooseStations(meshed).some(({ name }) => name === "section 2")).toBe(true);
  });

  test("weighed: the plastic's density decides whether it agrees", () => {
    const mass = shape(job).answer.mass.value;
    const [right] = shape(job, { weight: mass * 1.02 }).answer.weighed;
    const [wrong] = shape(job, { weight: (mass * 25.4 ** 3) / 1000 }).answer.weighed;
    expect(right!.agrees).toBe(true);
    expect(wrong!.agrees).toBe(false);
    const [water] = shape(job, { displaced: volumes[0]! * 0.99 }).answer.weighed;
    expect(water).toMatchObject({ by: "displaced", agrees: true });
  });
});

test("an ellipsoid's mesh: volume and sections of the ellipsoid", () => {
  const reading = readMesh(binaryStl(ellipsoid(100, 18, 22, 128)), { unit: 1e-3 });
  const { answer } = shape(job, { reading: { ...reading, source: "mesh" } });
  expect(off(answer.volume.value, (Math.PI / 6) * 0.1 * 0.018 * 0.022)).toBeLessThan(2e-3);
  expect(Math.abs(answer.joined)).toBeLessThan(0.015);
  expect(answer.thickest.thickness).toBeCloseTo(0.018, 4);
  expect(answer.centroid.along).toBeCloseTo(0.05, 4);
});

describe("the job made of a plain solid holds what the solid holds", () => {
  // closed forms: the share of the box's inscribed elliptic cylinder that the solid fills
  const ball = (t: number) => Math.sqrt(Math.max(0, 1 - (2 * t - 1) ** 2));
  const dome = (t: number) => Math.sqrt(Math.max(0, 1 - t * t));
  const capsule = (end: number) => (t: number) => {
    const into = Math.max(0, end - t, t - 1 + end) / end;
    return Math.sqrt(Math.max(0, 1 - into * into));
  };
  const round = (long: number, across: number) => {
    const end = across / 2 / long;
    return [long, across, across, capsule(end), 1 - 2 * end + (2 * end * 2) / 3] as const;
  };
  const solids = {
    ellipsoid: [100, 20, 16, ball, 2 / 3],
    "slim ellipsoid": [200, 8, 8, ball, 2 / 3],
    ball: [30, 30, 30, ball, 2 / 3],
    "wide ellipsoid": [40, 30, 8, ball, 2 / 3],
    "half an ellipsoid": [60, 20, 16, dome, 2 / 3],
    "half a ball": [30, 60, 60, dome, 2 / 3],
    cone: [80, 20, 20, (t: number) => 1 - t, 1 / 3],
    "cut cone": [80, 20, 20, (t: number) => 1 - t / 2, 7 / 12],
    "two cones": [80, 20, 20, (t: number) => 1 - Math.abs(2 * t - 1), 1 / 3],
    spindle: [90, 20, 16, (t: number) => 4 * t * (1 - t), 8 / 15],
    bar: [90, 20, 16, () => 1, 1],
    "long capsule": round(100, 5),
    capsule: round(60, 30),
    "short capsule": round(30, 20),
  } as const;
  for (const [name, [long, wide, high, share, fills]] of Object.entries(solids))
    test(name, () => {
      const exact = (Math.PI / 4) * wide * high * long * fills * 1e-9;
      const reading = readMesh(binaryStl(ofEllipses(long, wide, high, share)), { unit: 1e-3 });
      const { volume, findings } = shape(jobOf(reading)).answer;
      expect(off(volume.value, exact)).toBeLessThan(0.02);
      expect(findings).toEqual([]);
    });

  test("an ellipsoid drawn from the side and from above", () => {
    const ellipse = (id: string, y: number, ry: number) =>
      `<ellipse id="${id}" cx="60" cy="${y}" rx="50" ry="${ry}"/>`;
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="80mm" viewBox="0 0 120 80">${ellipse("side", 20, 10)}${ellipse("top", 60, 8)}</svg>`;
    const { volume, thickest, sections } = shape(jobOf(readViews(svg, {}))).answer;
    expect(off(volume.value, (4 / 3) * Math.PI * 50 * 10 * 8 * 1e-9)).toBeLessThan(0.02);
    expect(thickest.thickness * 1000).toBeCloseTo(16, 1);
    expect(Math.abs(thickest.at * 1000 - 50)).toBeLessThan(2);
    expect(sections.length).toBeGreaterThan(1);
  });
});

test("a bar is as thick all along, and a bait that tapers is not; equal thickness may cool unlike", () => {
  const of = (bait: string) => shape(readJob(`bait: { length: 100 mm, ${bait} }`).job).answer;
  expect(of("thickness: 12 mm")).toMatchObject({ even: true, coolsAlike: true });
  const station = (at: number, width: number, height: number) =>
    `{ at: ${at} mm, width: ${width} mm, height: ${height} mm }`;
  expect(of(`stations: [${station(0, 12, 12)}, ${station(100, 12, 11.9)}]`)).toMatchObject({
    even: false,
    coolsAlike: false,
  });
  // the largest circle is as large in both
  const wide = of(`stations: [${station(0, 12, 12)}, ${station(100, 24, 12)}]`);
  expect(wide).toMatchObject({ even: true, coolsAlike: false });
  expect(wide.slowest.at).toBeCloseTo(0.1, 9);
});

test("in inches, and with y up", () => {
  const inches = readMesh(binaryStl(mesh(), 1 / 25.4), { unit: 0.0254 });
  expect(off(inches.measures!.volume, meshed.measures!.volume)).toBeLessThan(1e-4);
  const lying = mesh().map((t) => t.map(([x, y, z]) => [x, z, -y]) as unknown as Triangle);
  const up = readMesh(binaryStl(lying), { unit: 1e-3, up: "y" });
  const thickest = (r: Reading) => chooseStations(r).find(({ name }) => name === "thickest")!;
  expect(thickest(up).height).toBeCloseTo(thickest(meshed).height, 5);
});

describe("meshes that are not whole are told, and still measured", () => {
  const whole = mesh(48, 80);
  const codes = (triangles: readonly Triangle[]) => {
    const reading = readMesh(binaryStl(triangles), { unit: 1e-3 });
    const { volume } = shape(job, { reading: { ...reading, source: "mesh" } }).answer;
    expect(off(volume.value, meshed.measures!.volume)).toBeLessThan(0.03);
    return reading.findings.map(({ finding }) => finding);
  };
  test("whole", () => expect(codes(whole)).toEqual([]));
  test("a hole", () =>
    expect(codes(whole.filter((_, i) => i % 700 !== 350))).toContain("mesh_open"));
  test("inside out", () => expect(codes(whole.map(turned))).toEqual(["mesh_inside_out"]));
  test("some faces turned", () =>
    expect(codes(whole.map((t, i) => (i % 50 === 0 ? turned(t) : t)))).toEqual(["mesh_turned"]));
  test("a face doubled", () =>
    expect(codes([...whole, whole[900]!])).toContain("mesh_shared_edges"));
  test("zero area", () => {
    const [a, b] = whole[40]!;
    expect(codes([...whole, [a, b, b]])).toEqual(["mesh_flat_triangles"]);
  });
  test("a ring has cuts of two pieces, and no crash", () => {
    const reading = readMesh(textStl(torus(30, 8, 48)), { unit: 1e-3 });
    expect(reading.findings.map(({ finding }) => finding)).toContain("several_pieces");
    expect(off(reading.measures!.volume, 2 * Math.PI ** 2 * 30 * 64 * 1e-9)).toBeLessThan(0.01);
  });
});

function problemOf(read: () => unknown): string {
  try {
    read();
    return "read";
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const { code, path, given, suggestion } = error.problems[0]!;
    return [code, path, given, suggestion].filter((x) => x !== undefined).join(" | ");
  }
}

describe("meshes that are refused", () => {
  test("a bait of 4 m, and one of 4 mm, with the unit that would fit", () => {
    const solid = binaryStl(mesh(12, 20));
    expect(problemOf(() => readMesh(solid, { unit: 0.0254 }))).toBe(
      "bait_too_long | unit | 2790 mm | unit=mm",
    );
    expect(problemOf(() => readMesh(binaryStl(mesh(12, 20), 1 / 25.4), { unit: 1e-3 }))).toBe(
      "bait_too_short | unit | 4.33 mm | unit=in",
    );
  });
  test("a sheet encloses nothing", () => {
    const sheet: Triangle[] = [
      [
        [0, 0, 0],
        [100, 0, 0],
        [100, 20, 0],
      ],
      [
        [0, 0, 0],
        [100, 20, 0],
        [0, 20, 0],
      ],
    ];
    expect(problemOf(() => readMesh(binaryStl(sheet), { unit: 1e-3 }))).toBe(
      "mesh_without_volume | ",
    );
  });
  test("up along the bait", () => {
    expect(problemOf(() => readMesh(binaryStl(mesh(12, 20)), { unit: 1e-3, up: "x" }))).toContain(
      "up_along_bait",
    );
  });
});

describe("drawings that are refused, each with its place", () => {
  const read = (change: (svg: string) => string, options = { mark: 0.05 }) =>
    problemOf(() => readViews(drawing(change), options));
  const adding = (more: string) => read((svg) => svg.replace("</svg>", `${more}</svg>`));
  test.each<[string, string]>([
    ["<script>alert(1)</script>", "drawing_reaches_out | script | <script>"],
    ['<image href="https://example.org/x.png"/>', "drawing_reaches_out | image"],
    ['<use id="u" href="#side"/>', 'drawing_reaches_out | use "u"'],
    ['<rect width="9" height="9" onclick="x()"/>', "drawing_reaches_out | rect | onclick"],
    [
      '<rect width="9" height="9" style="fill: url(https://example.org/a)"/>',
      "drawing_reaches_out | rect | style",
    ],
    ["<style>@import 'https://example.org/a.css';</style>", "drawing_reaches_out | style"],
    ["<foreignObject/>", "drawing_reaches_out"],
    [`${"<g>".repeat(60)}${"</g>".repeat(60)}`, "drawing_too_deep"],
    [`${"<g>".repeat(100_000)}${"</g>".repeat(100_000)}`, "drawing_too_deep"],
    ["<g/>".repeat(30_000), "drawing_too_big"],
    ['<path id="eye" d="M0 0 L x"/>', 'drawing_line_broken | path "eye"'],
    [
      '<path id="fin" d="M0 0 L9 9" transform="spin(3)"/>',
      'drawing_line_broken | path "fin" | spin(3)',
    ],
    ["&unknown;", "not_svg"],
    ["<g>", "not_svg"],
  ])("%s", (more, says) => expect(adding(more)).toContain(says));

  test("a doctype's entities are not followed", () => {
    expect(
      read(
        (svg) =>
          `<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/passwd">]>${svg.replace("</svg>", "&a;</svg>")}`,
      ),
    ).toContain("not_svg");
  });
  test("crossing, open, empty and unnamed outlines", () => {
    const side = (shape: string) => read((svg) => svg.replace(/<g transform[\s\S]*?<\/g>/, shape));
    expect(side('<path id="side" d="M0 0 L100 40 L100 0 L0 40 Z"/>')).toBe(
      'outline_crosses | path "side" | (50, 20)',
    );
    expect(side('<path id="side" d="M0 0 L100 0 L50 0 Z"/>')).toContain(
      'outline_without_area | path "side"',
    );
    expect(side('<path id="side" d="M0 0 L100 0 L100 40"/>')).toBe(
      'drawing_open | path "side" | (100, 40)',
    );
    expect(side('<path d="M0 0 L100 0 L100 40Z"/><path d="M0 0 L50 0 L50 40Z"/>')).toContain(
      "drawing_roles",
    );
    expect(problemOf(() => readViews('<svg xmlns="http://www.w3.org/2000/svg"/>', {}))).toContain(
      "drawing_empty",
    );
  });
  test("no scale, or two views that differ in length", () => {
    expect(read((svg) => svg, {} as { mark: number })).toBe("drawing_scale | mark");
    expect(read((svg) => svg.replace(/<path id="mark".*?>/, ""))).toBe("drawing_scale | drawing");
    expect(
      read((svg) => svg.replace('<polygon id="top"', '<polygon id="top" transform="scale(1.2)"')),
    ).toContain('views_differ | polygon "top" | 132 mm');
  });
});

test("a drawing on paper in millimeters needs no mark; curves and circles are read", () => {
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" viewBox="0 0 400 200">
    <ellipse cx="200" cy="100" rx="100" ry="20"/></svg>`;
  const reading = readViews(svg, {});
  expect(reading.length).toBeCloseTo(0.1, 4);
  expect(reading.findings).toEqual([{ finding: "width_from_height" }]);
  const { volume } = shape(job, { reading: { ...reading, source: "drawing" } }).answer;
  expect(off(volume.value, (Math.PI / 6) * 0.1 * 0.02 ** 2)).toBeLessThan(0.01);
});

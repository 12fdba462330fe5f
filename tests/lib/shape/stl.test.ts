import { describe, expect, test } from "vitest";
import { meshFaults, weld, weldNearby } from "../../../lib/shape/mesh-check.ts";
import { meshMeasures } from "../../../lib/shape/mesh-measures.ts";
import { meshCuts } from "../../../lib/shape/mesh-slices.ts";
import { measuresOf } from "../../../lib/shape/polygon.ts";
import { readStl } from "../../../lib/shape/stl.ts";
import { InputError } from "../../../lib/units/problem.ts";
import { binaryStl, cone, ellipsoid, type Triangle, textStl, torus, turned } from "./solids.ts";

const off = (found: number, exact: number) => Math.abs(found / exact - 1);
const meshOf = (triangles: readonly Triangle[]) => weld(readStl(binaryStl(triangles)));

describe("solids as meshes, against their formulas", () => {
  // volumes, centroids and second moments of solids: CRC Standard Mathematical Tables, solid geometry
  test("ellipsoid", () => {
    const m = meshMeasures(meshOf(ellipsoid(100, 18, 22, 160)));
    const volume = (Math.PI / 6) * 100 * 18 * 22;
    expect(off(m.volume, volume)).toBeLessThan(1e-3);
    expect(off(m.second[0], (volume * 50 ** 2) / 5)).toBeLessThan(2e-3);
    expect(off(m.second[1], (volume * 9 ** 2) / 5)).toBeLessThan(2e-3);
    expect(off(m.second[2], (volume * 11 ** 2) / 5)).toBeLessThan(2e-3);
    for (const c of m.centroid) expect(c).toBeCloseTo(0, 4);
  });

  test("torus: volume, surface, second moment", () => {
    const [R, r] = [30, 8];
    const m = meshMeasures(meshOf(torus(R, r, 200)));
    const volume = 2 * Math.PI ** 2 * R * r * r;
    expect(off(m.volume, volume)).toBeLessThan(1e-3);
    expect(off(m.surface, 4 * Math.PI ** 2 * R * r)).toBeLessThan(1e-3);
    // about the axis: V (R^2 + 3 r^2 / 4)
    expect(off(m.second[0] + m.second[1], volume * (R * R + 0.75 * r * r))).toBeLessThan(2e-3);
  });

  test("cone: centroid a quarter above the base, second moments", () => {
    const [h, r] = [60, 10];
    const m = meshMeasures(meshOf(cone(h, r, 400)));
    const volume = (Math.PI * r * r * h) / 3;
    expect(off(m.volume, volume)).toBeLessThan(1e-3);
    expect(m.centroid[0]).toBeCloseTo(h / 4, 3);
    expect(off(m.second[0], (3 / 80) * volume * h * h)).toBeLessThan(2e-3);
    expect(off(m.second[1], (3 / 20) * volume * r * r)).toBeLessThan(2e-3);
  });

  test("cuts: a circle of the cone, and two of the torus", () => {
    const axes = { along: 0, across: 1, up: 2 } as const;
    const [third] = meshCuts(meshOf(cone(60, 10, 400)), axes, [20, 40]);
    expect(third!.loops).toHaveLength(1);
    expect(off(measuresOf(third!.loops[0]!).area, Math.PI * (20 / 3) ** 2)).toBeLessThan(1e-3);
    const [middle] = meshCuts(meshOf(torus(30, 8, 200)), axes, [0, 1]);
    expect(middle!.loops.map((loop) => measuresOf(loop).area / (Math.PI * 64))).toEqual([
      expect.closeTo(1, 2),
      expect.closeTo(1, 2),
    ]);
    expect(middle!.bridged).toBe(0);
  });
});

test("text and binary say the same", () => {
  const solid = ellipsoid(100, 18, 22, 24);
  const [a, b] = [binaryStl(solid), textStl(solid)].map((bytes) =>
    meshMeasures(weld(readStl(bytes))),
  );
  expect(off(a!.volume, b!.volume)).toBeLessThan(1e-5);
  expect(meshFaults(weld(readStl(textStl(solid)))).open).toBe(0);
});

test("a binary file that begins with the word solid is still binary", () => {
  const bytes = binaryStl(cone(60, 10, 12));
  bytes.set(new TextEncoder().encode("solid facet"));
  expect(readStl(bytes).written).toBe("binary");
});

describe("meshes that are not whole", () => {
  const whole = ellipsoid(100, 18, 22, 24);
  const none = { flat: 0, open: 0, shared: 0, turned: 0 };

  test("a whole one has no fault", () => {
    expect(meshFaults(meshOf(whole))).toMatchObject(none);
    expect(meshFaults(meshOf(torus(30, 8, 24)))).toMatchObject(none);
  });

  test("one triangle missing: three open edges, and where", () => {
    const faults = meshFaults(meshOf(whole.slice(1)));
    expect(faults).toMatchObject({ ...none, open: 3 });
    const [x, y, z] = whole[0]![0];
    expect(
      Math.hypot(faults.openAt![0]! - x, faults.openAt![1]! - y, faults.openAt![2]! - z),
    ).toBeLessThan(5);
  });

  test("one triangle turned over", () => {
    expect(meshFaults(meshOf([turned(whole[0]!), ...whole.slice(1)]))).toMatchObject({
      ...none,
      turned: 3,
    });
  });

  test("one triangle doubled: its edges have three", () => {
    expect(meshFaults(meshOf([...whole, whole[40]!]))).toMatchObject({ ...none, shared: 3 });
  });

  test("triangles without area are counted and harm nothing", () => {
    const [a, b] = whole[50]!;
    expect(meshFaults(meshOf([...whole, [a, b, a]]))).toMatchObject({ ...none, flat: 1 });
  });

  test("inside out: negative volume", () => {
    expect(meshMeasures(meshOf(whole.map(turned))).volume).toBeLessThan(0);
  });

  test("corners that text has rounded apart are welded again", () => {
    let seed = 1;
    const jitter = () => {
      seed = (seed * 48271) % 2147483647;
      return 1e-5 * (seed / 2147483647 - 0.5);
    };
    const shaken = whole.map(
      (t) => t.map((c) => c.map((x) => x + jitter())) as unknown as Triangle,
    );
    expect(meshFaults(meshOf(shaken)).open).toBeGreaterThan(100);
    expect(meshFaults(weldNearby(readStl(binaryStl(shaken)))).open).toBe(0);
  });

  test("a cut through a hole is bridged", () => {
    const holed = whole.filter((t) => !t.every(([x, , z]) => Math.abs(x) < 9 && z > 8));
    expect(holed.length).toBeLessThan(whole.length);
    const [cut] = meshCuts(meshOf(holed), { along: 0, across: 1, up: 2 }, [0.1, 50]);
    expect(cut!.bridged).toBeGreaterThan(0);
    expect(cut!.loops).toHaveLength(1);
    expect(off(measuresOf(cut!.loops[0]!).area, (Math.PI / 4) * 18 * 22)).toBeLessThan(0.1);
  });
});

describe("files that are refused", () => {
  const codeOf = (bytes: Uint8Array) => {
    try {
      readStl(bytes);
      return "read";
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      const [{ code, path, given }] = error.problems as [
        { code: string; path: string; given?: unknown },
      ];
      return `${code} | ${path} | ${given}`;
    }
  };
  const solid = cone(60, 10, 10);
  const withNumber = (x: number) => {
    const bytes = binaryStl(solid);
    new DataView(bytes.buffer).setFloat32(84 + 50 * 3 + 12, x, true);
    return bytes;
  };
  test.each<[string, Uint8Array, string]>([
    ["empty", new Uint8Array(0), "not_stl | "],
    ["no triangle", binaryStl([]), "stl_empty | "],
    ["text without triangles", textStl([]), "stl_empty | "],
    ["a picture", Uint8Array.from({ length: 5000 }, (_, i) => (i * 37) % 251), "not_stl | "],
    [
      "cut off",
      binaryStl(solid).slice(0, 84 + 50 * 7 + 20),
      "stl_truncated | triangle 8 | 7 of 20",
    ],
    ["text cut off", textStl(solid).slice(0, 1500), "stl_truncated | triangle"],
    ["NaN", withNumber(Number.NaN), "stl_not_finite | triangle 4 | 1 of 20"],
    ["infinite", withNumber(Number.POSITIVE_INFINITY), "stl_not_finite | triangle 4 | 1 of 20"],
    [
      "NaN as a word",
      new TextEncoder().encode(
        new TextDecoder().decode(textStl(solid)).replace(/vertex \S+/, "vertex nan"),
      ),
      "stl_not_finite | triangle 1 | 1 of 20",
    ],
  ])("%s", (_, bytes, says) => {
    expect(codeOf(bytes)).toContain(says);
  });

  test("any bytes are read or refused, never a crash", () => {
    let seed = 7;
    const random = () => {
      seed = (seed * 48271) % 2147483647;
      return seed / 2147483647;
    };
    const good = [binaryStl(solid), textStl(solid)];
    for (let k = 0; k < 300; k++) {
      const bytes = good[k % 2]!.slice(0, Math.floor(random() * 1100));
      for (let i = 0; i < 5; i++)
        bytes[Math.floor(random() * bytes.length)] = Math.floor(random() * 256);
      expect(typeof codeOf(bytes)).toBe("string");
    }
  });
});

test("numbers of every writing are read as the language's own reader has them", () => {
  const written = [
    ...["1.2345678901234567e+01", "-0.00000000012345", "123456789012"],
    ...["+.5", "5.", "1e-3"],
    ...["-1.5E+2", "00000000001.25", "0.1"],
  ];
  const corner = (i: number) => `VERTEX ${written.slice(3 * i, 3 * i + 3).join(" ")}`;
  const text = `solid a\nfacet normal 0 0 1\nouter loop\n${[0, 1, 2].map(corner).join("\n")}\nendloop\nendfacet\nendsolid a\n`;
  const { corners } = readStl(new TextEncoder().encode(text));
  expect([...corners]).toEqual(written.map((w) => Math.fround(Number(w))));
});

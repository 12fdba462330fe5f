import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import cureFile from "../../../data/materials/cure-laws.json" with { type: "json" };
import { isothermalCures, publishedLaw, publishedLaws } from "../../../lib/cure/published.ts";
import {
  catalog,
  findMaterial,
  materialNamed,
  nearestMaterial,
  writtenCatalog,
} from "../../../lib/materials/catalog.ts";
import { entrySchema } from "../../../lib/materials/entry-schema.ts";
import { propertyAt, toMaterial } from "../../../lib/materials/to-material.ts";
import { InputError } from "../../../lib/units/problem.ts";

const sourcesText = readFileSync(new URL("../../../data/SOURCES.md", import.meta.url), "utf8");
const sources = new Set([...sourcesText.matchAll(/^- `([^`]+)`:/gm)].map(([, key]) => key));

/** Every `source` below a value, with its path. */
function sourcesIn(value: unknown, path = ""): [string, string][] {
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([key, part]) =>
    key === "source" ? [[path, part as string]] : sourcesIn(part, `${path}/${key}`),
  ) as [string, string][];
}

test.each(writtenCatalog.map((entry) => [entry.name, entry] as const))(
  "%s fits the schema",
  (_, entry) => {
    expect(entrySchema.safeParse(entry).error?.issues ?? []).toEqual([]);
  },
);

test("every number of a material stands in a spread with a source", () => {
  // a number outside a spread would have no source: only reference points may stand alone
  const alone = (value: unknown, path: string): string[] => {
    if (typeof value === "number") return /(DegC|Mass)$/.test(path) ? [] : [path];
    if (typeof value !== "object" || value === null || "source" in value) return [];
    return Object.entries(value).flatMap(([key, part]) => alone(part, `${path}/${key}`));
  };
  expect(writtenCatalog.flatMap((entry) => alone(entry, entry.name))).toEqual([]);
});

test("every source that is named has its entry, and every entry is named", () => {
  const named = [...writtenCatalog, ...cureFile.laws, ...cureFile.isothermal].flatMap((x) =>
    sourcesIn(x, "name" in x ? x.name : x.hardener),
  );
  expect(named.filter(([, source]) => !sources.has(source))).toEqual([]);
  const used = new Set(named.map(([, source]) => source));
  expect([...sources].filter((key) => !used.has(key) && key !== "common-practice")).toEqual([]);
});

test("no name or alias is used twice", () => {
  const names = catalog.flatMap((entry) => [entry.name, ...entry.aliases]);
  expect(names.length).toBe(new Set(names.map((n) => n.toLowerCase())).size);
});

test("every material asked for is there", () => {
  for (const name of [
    "soft plastisol",
    "filled epoxy",
    "filled epoxy 35 %, room-cured",
    "filled epoxy 35 %, post-cured",
    "filled epoxy 45 %, room-cured",
    "filled epoxy 45 %, post-cured",
    "metal-filled polyurethane",
    "unfilled epoxy",
    "polyurethane",
    "silicone",
    "metal-filled silicone",
    "polymer clay",
    "oil clay",
    "plaster",
    "aluminum 6061",
    "cast aluminum",
    "steel",
    "brass",
    "water",
    "air",
    "MDF",
    "softwood",
    "Metal-Filled  Epoxy",
  ]) {
    const entry = findMaterial(name);
    const names = [entry?.name ?? "", ...(entry?.aliases ?? [])].map((n) => n.toLowerCase());
    expect(names).toContain(name.toLowerCase().replace(/\s+/g, " "));
  }
});

test("an unknown name is refused with the nearest one", () => {
  expect(nearestMaterial("filed epoxy")).toMatch(/^filled epoxy/);
  expect(nearestMaterial("alumium")).toBe("aluminum 6061");
  expect(nearestMaterial("xyzzy quux")).toBeUndefined();
  expect(() => materialNamed("alumium", "mold.material")).toThrow(InputError);
});

test("in SI and kelvin, with density and specific heat over temperature", () => {
  const soft = materialNamed("plastisol");
  expect(soft.plastisol?.setTemperature.value).toBeCloseTo(393.15, 9);
  expect(soft.plastisol?.degradationEnergy.value).toBe(150e3);
  // 1063 exp(-7e-4 150) at 170 degC: 957 kg/m3
  expect(propertyAt(soft.density, 443.15)).toBeCloseTo(957, 0);
  expect(propertyAt(soft.specificHeat, 448.15)).toBeCloseTo(2140, -1);
  expect(propertyAt(soft.conductivity, 250)).toBe(0.145); // constant outside the table
  const hot = toMaterial(soft, { densityAt: 443.15, conductivity: "low" });
  expect(hot.density).toBeCloseTo(957, 0);
  expect(hot.conductivity).toMatchObject({
    value: [0.1232, expect.any(Number), expect.any(Number)],
  });
});

test("filler by mass follows from filler by volume and the densities", () => {
  for (const { name, filler, density } of catalog) {
    if (!filler) continue;
    const phi = filler.volumeShare.value;
    const mixed = phi * filler.density.value + (1 - phi) * filler.matrix.density.value;
    expect(filler.massShare.value, name).toBeCloseTo((phi * filler.density.value) / mixed, 2);
    expect(Math.abs(density.value / mixed - 1), name).toBeLessThan(0.01);
  }
});

test("a resin names a published cure law", () => {
  for (const { resin } of catalog) if (resin) publishedLaw(resin.law);
  expect(() => publishedLaw("magic")).toThrow(InputError);
});

test("rate constants are brought from minutes to seconds, energies from kJ to J", () => {
  // Bogetti & Gillespie: 3.7e22 1/min = 6.167e20 1/s
  const { spec } = publishedLaw("glass-polyester");
  expect(spec).toMatchObject({ law: "autocatalytic", E2: 167400 });
  expect(spec.law === "autocatalytic" && spec.A2).toBeCloseTo(6.1667e20, -17);
  expect(publishedLaws.every((cure) => cure.heat > 1000 && cure.from < cure.to)).toBe(true);
  expect(isothermalCures.length).toBe(15);
});

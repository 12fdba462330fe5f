/** A decimal point in the wrong place, in any one number of the catalog's files, does not get past the tests. */
import { expect, test } from "vitest";
import { writtenCatalog } from "../../../lib/materials/catalog.ts";
import { entrySchema } from "../../../lib/materials/entry-schema.ts";

/** Ends of a spread may be this many times the value or a part of it; common practice, no source. */
const WIDEST: Readonly<Record<string, number>> = {
  density: 1.2,
  specificHeat: 1.5,
  conductivity: 2.2,
  expansion: 1.5,
  heatOfReaction: 3,
  viscosityEnergy: 1.5,
  activationEnergy: 1.5,
  degradationEnergy: 1.5,
  healingEnergy: 1.5,
  degradationTime: 2.5,
  // bright or tarnished
  emissivity: 8,
  // what thickens, and a recipe by weight, may be as far as ten times off
  viscosity: 10,
  hardenerParts: 10,
};
const WIDEST_OF_OTHERS = 5;
/** Ends of a temperature may be this far from it, degC; common practice, no source. */
const WIDEST_DEGC = 40;
const WIDEST_UNCURED_DEGC = 20;
/** Around nothing there is no scale: how far a shrinkage that may be none can be. */
const WIDEST_AROUND_NONE = 0.01;
/** The end of a guess around nothing: any smaller one is as good. */
const UNTOLD = ["oil clay.shrinkage.high 0.005 -> 0.0005"];
/** Where a property was measured, or up to where it serves; common practice, no source. */
const REFERENCE: Readonly<Record<string, readonly [number, number]>> = {
  potLifeMass: [0.05, 0.5], // kg
  atDegC: [15, 30],
  degradationAtDegC: [150, 220],
  pourLeastDegC: [130, 180],
  pourMostDegC: [170, 220],
  viscosityAtDegC: [150, 200],
  healingAtDegC: [120, 180],
};
/** What a property is at one temperature beside another, and where that may be. */
const BY_TEMPERATURE = { share: [0.5, 2], degC: [-50, 400] } as const;

type Numbers = Readonly<Record<string, unknown>>;
const isGroup = (x: unknown): x is Numbers =>
  typeof x === "object" && x !== null && !Array.isArray(x);
const within = (x: number, [least, most]: readonly [number, number]) => x >= least && x <= most;

/** Paths of what can't be. */
function odd(group: Numbers, name: string): string[] {
  const own = Object.entries(group).flatMap(([key, x]): string[] => {
    if (isGroup(x)) return odd(x, key);
    if (key === "byDegC" && Array.isArray(x))
      return oddTable(x, Number(group["atDegC"])) ? [name] : [];
    if (typeof x !== "number" || ["value", "low", "high"].includes(key)) return [];
    const span = REFERENCE[key];
    return span && within(x, span) ? [] : [key];
  });
  return "value" in group && isOddSpread(group, name) ? [...own, name] : own;
}

function isOddSpread({ value, low, high, unit }: Numbers, name: string): boolean {
  const [v, a, b] = [value, low, high].map(Number);
  if (unit === "degC") {
    const widest = name === "glassUncured" ? WIDEST_UNCURED_DEGC : WIDEST_DEGC;
    return v - a > widest || b - v > widest;
  }
  if (v === 0) return b - a > WIDEST_AROUND_NONE;
  if (name === "emissivity" && b > 1) return true;
  const [up, down] = v > 0 ? [b / v, v / a] : [v / b, a / v];
  const widest = 1.000001 * (WIDEST[name] ?? WIDEST_OF_OTHERS);
  // one end far off and the other at the value itself: it lost a digit
  const isOneSided = Math.max(up, down) >= 3 && Math.min(up, down) < 1.001;
  return isOneSided || !(up <= widest && (down <= widest || a === 0));
}

function oddTable(rows: readonly (readonly [number, number])[], at: number): boolean {
  const { share, degC } = BY_TEMPERATURE;
  const rises = rows.every(([T], i) => i === 0 || T > rows[i - 1][0]);
  const fits = rows.every(([T, s]) => within(T, degC) && within(s, share));
  const stands = rows.some(([T, s]) => T === at && s === 1) || Number.isNaN(at);
  return !(rises && fits && stands);
}

const faults = (entry: unknown) => [
  ...(entrySchema.safeParse(entry).error?.issues ?? []).map(({ message }) => message),
  ...(isGroup(entry) ? odd(entry, "") : []),
];

test("no spread of the catalog is wider than such a property can be", () => {
  const all = writtenCatalog.flatMap((entry) =>
    faults(entry).map((fault) => `${entry.name}: ${fault}`),
  );
  expect(all).toEqual([]);
});

/** Calls back with the entry while one number of it is ten times as large, and a tenth; for each number. */
function eachSlip(entry: unknown, seen: (path: string) => void): void {
  const walk = (x: unknown, path: string) => {
    if (typeof x !== "object" || x === null) return;
    const group = x as Record<string, unknown>;
    for (const [key, was] of Object.entries(group)) {
      if (typeof was !== "number") walk(was, `${path}.${key}`);
      else if (was !== 0)
        for (const times of [10, 0.1]) {
          group[key] = was * times;
          seen(`${path}.${key} ${was} -> ${was * times}`);
          group[key] = was;
        }
    }
  };
  walk(entry, "");
}

test.each(writtenCatalog.map((entry) => [entry.name, entry] as const))(
  "%s: a decimal point that slips is noticed in every number",
  (name, entry) => {
    const copy: unknown = structuredClone(entry);
    const missed: string[] = [];
    eachSlip(copy, (path) => {
      if (faults(copy).length === 0) missed.push(`${name}${path}`);
    });
    expect(missed.filter((path) => !UNTOLD.includes(path))).toEqual([]);
  },
);

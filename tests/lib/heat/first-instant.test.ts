/** Faces at the very start of a stage: between two bodies by their effusivities, sqrt(k c), which are closed forms for constants. */
import { describe, expect, test } from "vitest";
import { faceOfFirstContact, faceOfLaterContact } from "../../../lib/heat/first-contact.ts";
import {
  faceAtStart,
  firstReading,
  isFirstContact,
  type Start,
} from "../../../lib/heat/first-instant.ts";
import type { FaceSide, LinkSide, Reading } from "../../../lib/heat/probe-places.ts";
import { propertiesOf } from "../../../lib/heat/properties.ts";

const made = (conductivity: number, density: number) =>
  propertiesOf({ name: "m", conductivity, density, specificHeat: 1000 }, 250, 500);
const [p, q] = [made(0.2, 1000), made(1.8, 2000)];
const [e1, e2] = [Math.sqrt(0.2 * 1e6), Math.sqrt(1.8 * 2e6)];
const FILL = [p, q];
/** Cells 0 and 1 lie beside the face. */
const T = Float64Array.of(310, 350);
const mean = (a: number, b: number) => (e1 * a + e2 * b) / (e1 + e2);

function start(newT: readonly (number | undefined)[], contact = Number.POSITIVE_INFINITY): Start {
  const boundary = {
    left: { kind: "held", temperature: 290 },
    right: { kind: "insulated" },
    top: { kind: "exchange", h: 5, ambient: 290 },
    bottom: { kind: "insulated" },
  };
  return { newT, setting: { boundary, contact: () => contact } } as unknown as Start;
}
const link = (side: LinkSide["side"], weight = 1, regions = [0, 1]): LinkSide =>
  ({
    kind: "link",
    link: { a: 0, b: 1, parts: regions.map((region) => ({ region })) },
    before: 0,
    side,
    weight,
  }) as unknown as LinkSide;
const outer = (side: string, region = 0): LinkSide =>
  ({
    kind: "link",
    link: { a: 0, b: -1, side, parts: [{ region }, { region: 1 }] },
    before: 0,
    side: "both",
    weight: 1,
  }) as unknown as LinkSide;
const cut = (side: "before" | "after", cell: number): FaceSide =>
  ({
    kind: "cells",
    cells: [cell, 9],
    meet: { before: 0, after: 1, side },
    weight: 1,
  }) as unknown as FaceSide;
const at = (face: FaceSide, given: Start, fill: readonly (typeof p | undefined)[] = FILL) =>
  faceAtStart(face, given, fill, T);

describe("a face between two", () => {
  test("that have just met is between them by their effusivities, whichever is new", () => {
    for (const side of ["before", "after", "both"] as const) {
      expect(at(link(side), start([400, 300]))).toBeCloseTo(mean(400, 300), 9);
      expect(at(link(side), start([400, undefined]))).toBeCloseTo(mean(400, 350), 9);
      expect(at(link(side), start([undefined, 300]))).toBeCloseTo(mean(310, 300), 9);
      expect(at(link(side), start([undefined, undefined]))).toBeUndefined();
    }
  });
  test("whose properties vary is solved for where both are new, and taken halfway where one goes on", () => {
    const law = (T: number) => 0.1 + 2e-3 * (T - 250);
    const vary = propertiesOf(
      { name: "v", conductivity: law, density: 1000, specificHeat: (T: number) => 4 * T },
      250,
      500,
    );
    const fill = [vary, q];
    const first = at(link("both"), start([400, 300]), fill)!;
    const later = at(link("both"), start([400, undefined]), fill)!;
    expect(first).toBe(faceOfFirstContact(vary, 400, q, 300));
    expect(later).toBe(faceOfLaterContact(vary, 400, q, 350));
    expect(Math.abs(first - faceOfLaterContact(vary, 400, q, 300))).toBeGreaterThan(0.05);
  });
  test("behind a contact resistance is each body's own, of both the mean", () => {
    for (const [newT, a, b] of [
      [[400, 300], 400, 300],
      [[400, undefined], 400, 350],
      [[undefined, 300], 310, 300],
    ] as const) {
      expect(at(link("before"), start(newT, 500))).toBe(a);
      expect(at(link("after"), start(newT, 500))).toBe(b);
      expect(at(link("both"), start(newT, 500))).toBe((a + b) / 2);
    }
  });
  test("beside empty space is that of what is there", () => {
    expect(at(link("both"), start([400, 300]), [p, undefined])).toBe(400);
    expect(at(link("both"), start([400, 300]), [undefined, q])).toBe(300);
    expect(at(link("both"), start([undefined, 300]), [p, undefined])).toBeUndefined();
  });
  test("beside a cut cell needs the other body to be new", () => {
    expect(at(cut("before", 0), start([400, 300]))).toBeCloseTo(mean(400, 300), 9);
    expect(at(cut("before", 0), start([undefined, 300]))).toBeCloseTo(mean(310, 300), 9);
    expect(at(cut("before", 0), start([400, undefined]))).toBeUndefined();
    expect(at(cut("after", 1), start([400, undefined]))).toBeCloseTo(mean(400, 350), 9);
    expect(at(cut("after", 1), start([undefined, 300]))).toBeUndefined();
  });
});

test("an outer face is its body's, unless it is held", () => {
  for (const side of ["right", "top", "bottom"]) {
    expect(at(outer(side), start([400, 300]))).toBe(400);
    expect(at(outer(side, 1), start([400, 300]))).toBe(300);
    expect(at(outer(side), start([undefined, 300]))).toBeUndefined();
  }
  expect(at(outer("left"), start([400, 300]))).toBeUndefined();
});

test("a first contact is one of two new bodies that touch perfectly", () => {
  const is = (given: Start, face = link("both"), fill: readonly (typeof p | undefined)[] = FILL) =>
    isFirstContact(face, given, fill);
  expect(is(start([400, 300]))).toBe(true);
  expect(is(start([undefined, 300]))).toBe(false);
  expect(is(start([400, undefined]))).toBe(false);
  expect(is(start([400, 300], 500))).toBe(false);
  expect(is(start([400, 300]), link("both"), [undefined, q])).toBe(false);
  expect(is(start([400, 300]), link("both"), [p, undefined])).toBe(false);
  expect(is(start([400, 300]), outer("right"))).toBe(false);
});

describe("a reading", () => {
  const read = (reading: unknown, given: Start) => firstReading(reading as Reading, given, FILL, T);
  test("of a region or a place in it is what is new there", () => {
    for (const kind of ["sum", "point", "peak"]) {
      expect(read({ kind, region: 1 }, start([400, 300]))).toBe(300);
      expect(read({ kind, region: 1 }, start([400, undefined]))).toBeUndefined();
    }
  });
  test("of faces is their mean by weight, their hottest or coldest; none where one goes on", () => {
    const sides = [link("before", 3), link("after", 1), link("before", 2, [1, 0])];
    const given = start([400, 300], 500);
    const of = (kind: string, one: Start = given) => read({ kind: "faces", of: kind, sides }, one);
    expect(of("mean")).toBeCloseTo((3 * 400 + 300 + 2 * 300) / 6, 9);
    expect(of("hottest")).toBe(400);
    expect(of("coldest")).toBe(300);
    expect(of("mean", start([undefined, undefined]))).toBeUndefined();
    const partly = { kind: "faces", of: "mean", sides: [link("both"), outer("left")] };
    expect(read(partly, given)).toBeUndefined();
  });
});

import fc from "fast-check";
import { expect, test } from "vitest";
import { type Outline, ringArea, ringsOf } from "../../../lib/shape/outline.ts";
import { inset, liningBelow, partBelow } from "../../../lib/shape/parts.ts";

const areaOf = (outline: Outline): number =>
  ringsOf(outline).reduce((sum, ring) => sum + ringArea(ring), 0);

const ellipse = (width: number, height: number): Outline => ({
  kind: "ellipse",
  axes: [width, height],
  center: [0.03, 0.02],
});

test("an ellipse cut at a level: the area of its segment", () => {
  // circle of radius 1 below y = -0.5: acos(0.5) - 0.5 sqrt(0.75); an ellipse is a circle stretched
  const segment = Math.acos(0.5) - 0.5 * Math.sqrt(0.75);
  const cut = partBelow(ellipse(0.02, 0.012), 0.02 - 0.003)!;
  expect(areaOf(cut) / (segment * 0.01 * 0.006)).toBeCloseTo(1, 3);
  expect(partBelow(ellipse(0.02, 0.012), 0.013)).toBeUndefined();
  expect(areaOf(partBelow(ellipse(0.02, 0.012), 0.05)!)).toBeCloseTo(Math.PI * 0.01 * 0.006, 9);
});

test("a lining and what it lines make up the half", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0.01, max: 0.03, noNaN: true }),
      fc.double({ min: 0.01, max: 0.03, noNaN: true }),
      fc.double({ min: 0.05, max: 0.4, noNaN: true }),
      (width, height, share) => {
        const outline = ellipse(width, height);
        const depth = (share * Math.min(width, height)) / 2;
        const half = areaOf(partBelow(outline, 0.02)!);
        const lining = areaOf(liningBelow(outline, 0.02, depth)!);
        const inner = areaOf(partBelow(inset(outline, depth), 0.02)!);
        expect((lining + inner) / half).toBeCloseTo(1, 6);
      },
    ),
    { numRuns: 50, seed: 20261125 },
  );
});

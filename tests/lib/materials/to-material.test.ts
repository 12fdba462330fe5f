// Materials are made once for what is in them, so nobody may write into one.
import { expect, test } from "vitest";
import { materialNamed } from "../../../lib/materials/catalog.ts";
import { toMaterial } from "../../../lib/materials/to-material.ts";

test("a material that is kept can't be written into, nor through the entry it was made of", () => {
  const entry = structuredClone(materialNamed("soft plastisol"));
  const made = toMaterial(entry);
  const before = JSON.stringify(made);
  const { conductivity } = made as unknown as { conductivity: { T: number[]; value: number[] } };
  const shape = entry.conductivity.shape as unknown as { T: number[] };
  expect(() => Object.assign(made, { conductivity: 99 })).toThrow(TypeError);
  expect(() => conductivity.value.fill(99)).toThrow(TypeError);
  expect(() => conductivity.T.fill(99)).toThrow(TypeError);
  shape.T.fill(99);
  expect(JSON.stringify(toMaterial(materialNamed("soft plastisol")))).toBe(before);
});

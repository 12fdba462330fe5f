import { create, unitDependencies } from "mathjs";
import { expect, test } from "vitest";
import { kinds } from "../../../lib/units/kinds.ts";
import { parseQuantity } from "../../../lib/units/quantity.ts";
import { tableUnits } from "../../../lib/units/table.ts";

const math = create({ unitDependencies });

test.each([...tableUnits])("%s is what mathjs takes it for", (unit, { factor, offset }) => {
  const one = math.unit(1, unit).toSI().toJSON().value;
  expect(((1 + offset) * factor) / Number(one)).toBeCloseTo(1, 14);
});

test("units with the same dimensions, and only those, convert into each other", () => {
  const units = [...tableUnits];
  for (const [a, inTable] of units) {
    for (const [b, other] of units) {
      const same = math.unit(1, a).equalBase(math.unit(1, b));
      expect([a, b, inTable.dimensions === other.dimensions]).toEqual([a, b, same]);
    }
  }
});

test("the table has every unit that a kind works in or proposes", () => {
  for (const { si, propose } of Object.values(kinds)) {
    for (const unit of [si, propose]) {
      if (unit !== "1" && unit !== "%") expect(tableUnits.has(unit), unit).toBe(true);
    }
  }
});

test("capitals are read as the workshop means them: no henry, gauss or siemens", () => {
  for (const [typed, kind, si] of [
    ["2 H 30 MIN", "duration", 9000],
    ["30 S", "duration", 30],
    ["5 G", "mass", 0.005],
    ["5 L", "volume", 0.005],
  ] as const)
    expect(parseQuantity(typed, kind)).toBeCloseTo(si, 9);
});

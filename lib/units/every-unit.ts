/** Units beyond the table: mathjs knows them. Loaded only when somebody types one. */
import type { Unit } from "mathjs";
import { useUnits } from "./find-unit.ts";
import type { UnitFound } from "./table.ts";

/** What of a mathjs unit is used here; its own types leave out `dimensions`. */
interface LoadedUnit {
  toSI(): Unit;
  readonly dimensions: readonly number[];
  readonly units: readonly {
    readonly unit: { readonly value: number; readonly offset: number };
    readonly prefix: { readonly value: number };
    readonly power: number;
  }[];
}

/** In the order in which mathjs keeps the powers. */
const BASE = ["kg", "m", "s", "A", "K", "cd", "mol", "rad", "bit"];

function dimensionsText(powers: readonly number[]): string {
  return powers
    .map((power, i) => (power === 0 ? "" : `${BASE[i]}${power === 1 ? "" : power}`))
    .filter((part) => part !== "")
    .join(" ");
}

let loading: Promise<void> | undefined;

/** From here on every unit is found. Reads again what was refused with `unknown_unit`. */
export function loadEveryUnit(): Promise<void> {
  loading ??= import("mathjs").then(({ create, unitDependencies }) => {
    const mathUnit = create({ unitDependencies }).unit as unknown as (
      value: number,
      unit: string,
    ) => LoadedUnit;
    useUnits((text): UnitFound | null => {
      try {
        const unit = mathUnit(1, text);
        const [first] = unit.units;
        const dimensions = dimensionsText(unit.dimensions);
        if (unit.units.length === 1 && first && first.power === 1) {
          const factor = Number(first.unit.value) * first.prefix.value;
          return { factor, offset: first.unit.offset, dimensions };
        }
        return { factor: Number(unit.toSI().toJSON().value), offset: 0, dimensions };
      } catch {
        return null; // mathjs knows no such unit
      }
    });
  });
  return loading;
}

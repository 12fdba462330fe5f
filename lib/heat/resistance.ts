import type { Properties } from "./properties.ts";

/** Resistance of a connection: a fixed part, and parts `shape / k` whose k depends on the temperature of a cell. */
export interface Resistance {
  /** K/W. */
  fixed: number;
  readonly slots: number[];
  /** 1/m. */
  readonly shapes: number[];
  readonly ends: number[];
}

/** Notes the resistance from cell `at` to the next along an axis. */
export type Connect = (at: number, axis: 0 | 1, resistance: Resistance) => void;

/** Adds up resistances; each (cell, material) whose conductivity varies gets one slot, wherever it occurs. */
export class ResistanceBuilder {
  readonly slotCell: number[] = [];
  readonly slotProps: Properties[] = [];
  private readonly fill: readonly (Properties | undefined)[];
  private readonly slots = new Map<number, number>();

  constructor(fill: readonly (Properties | undefined)[]) {
    this.fill = fill;
  }

  none(): Resistance {
    return { fixed: 0, slots: [], shapes: [], ends: [] };
  }

  /** Adds a part that lies in one material; its conductivity is taken at the temperature of `cell`. */
  add(
    to: Resistance,
    p: Properties,
    cell: number,
    { shape, end }: { readonly shape: number; readonly end: number },
  ): void {
    if (p.constantConductivity) to.fixed += shape / p.k;
    else {
      to.slots.push(this.slotFor(cell, p));
      to.shapes.push(shape);
      to.ends.push(end);
    }
  }

  /** Adds the contact of an interface of this area, m2. */
  addContact(to: Resistance, conductance: number, area: number): void {
    if (conductance < Number.POSITIVE_INFINITY) to.fixed += 1 / (conductance * area);
  }

  private slotFor(cell: number, p: Properties): number {
    const key = cell * this.fill.length + this.fill.indexOf(p);
    const known = this.slots.get(key);
    if (known !== undefined) return known;
    const slot = this.slotCell.length;
    this.slots.set(key, slot);
    this.slotCell.push(cell);
    this.slotProps.push(p);
    return slot;
  }
}

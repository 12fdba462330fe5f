import type { Problem } from "../units/problem.ts";

/** Collects problems, each with its path. */
export class Findings {
  readonly found: Problem[] = [];

  add(code: string, path: string, given?: string | number, possible?: readonly string[]): void {
    this.found.push({
      code,
      path,
      ...(given === undefined ? {} : { given }),
      ...(possible === undefined ? {} : { possible }),
    });
  }

  positive(v: number, path: string): void {
    if (!(v > 0 && v < Number.POSITIVE_INFINITY)) this.add("not_positive", path, v);
  }

  kelvin(v: number, path: string): void {
    if (!(v > 0 && v < 1e5)) this.add("temperature_impossible", path, v);
  }

  /** A name that must be one of those that there are. */
  known(code: string, name: string, path: string, names: readonly string[]): void {
    if (!names.includes(name)) this.add(code, path, name, names);
  }
}

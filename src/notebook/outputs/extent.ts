/** How much plain data there is: looked at before anything else is done with it. */
export interface Extent {
  readonly values: number;
  readonly bytes: number;
}

/** Larger numbers say nothing, and arithmetic on them may run into infinity. */
const MOST = 1e30;

/**
 * Counts the values and bytes of plain data: objects without a prototype of their own, arrays, typed arrays,
 * text, finite numbers, flags and null. `undefined` for anything else (functions, NaN, Maps, cycles deeper than `depth`).
 */
export function extentOf(given: unknown, mostValues: number, depth: number): Extent | undefined {
  let values = 0;
  let bytes = 0;
  const look = (value: unknown, left: number): boolean => {
    if (++values > mostValues || left < 0) return false;
    if (value === null || value === undefined || typeof value === "boolean") {
      bytes += 4;
      return true;
    }
    if (typeof value === "number") {
      bytes += 8;
      return Math.abs(value) <= MOST;
    }
    if (typeof value === "string") {
      bytes += 2 * value.length;
      return true;
    }
    if (typeof value !== "object") return false;
    if (value instanceof Float64Array || value instanceof Float32Array) {
      bytes += value.byteLength;
      for (let i = 0; i < value.length; i++) if (!(Math.abs(value[i]!) <= MOST)) return false;
      return true;
    }
    if (Array.isArray(value)) {
      for (let i = 0; i < value.length; i++) if (!look(value[i], left - 1)) return false;
      return true;
    }
    const prototype = Object.getPrototypeOf(value);
    if (prototype !== Object.prototype && prototype !== null) return false;
    for (const key of Object.keys(value)) {
      bytes += 2 * key.length;
      if (!look((value as Record<string, unknown>)[key], left - 1)) return false;
    }
    return true;
  };
  return look(given, depth) ? { values, bytes } : undefined;
}

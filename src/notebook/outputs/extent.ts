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
  const holds = (size: number) => {
    bytes += size;
    return true;
  };
  const look = (value: unknown, left: number): boolean => {
    if (++values > mostValues || left < 0) return false;
    if (value === null) return holds(4);
    switch (typeof value) {
      case "undefined":
      case "boolean":
        return holds(4);
      case "number":
        return holds(8) && Math.abs(value) <= MOST;
      case "string":
        return holds(2 * value.length);
      case "object":
        return lookInto(value, left - 1);
      default:
        return false;
    }
  };
  const lookInto = (value: object, left: number): boolean => {
    if (value instanceof Float64Array || value instanceof Float32Array)
      return holds(value.byteLength) && value.every((x) => Math.abs(x) <= MOST);
    if (Array.isArray(value)) {
      for (let i = 0; i < value.length; i++) if (!look(value[i], left)) return false;
      return true;
    }
    const prototype = Object.getPrototypeOf(value);
    if (prototype !== Object.prototype && prototype !== null) return false;
    return Object.keys(value).every(
      (key) => holds(2 * key.length) && look((value as Record<string, unknown>)[key], left),
    );
  };
  return look(given, depth) ? { values, bytes } : undefined;
}

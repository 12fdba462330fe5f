/** Plain data: copied, so that objects and arrays are of this realm, and frozen. */

/** Data that a copy says all about: no functions, no classes. */
export function isPlain(value: unknown): boolean {
  if (typeof value === "function" || typeof value === "symbol") return false;
  if (typeof value !== "object" || value === null) return true;
  if (value instanceof Float64Array || value instanceof Float32Array) return true;
  if (Array.isArray(value)) return value.every(isPlain);
  const prototype: unknown = Object.getPrototypeOf(value);
  if (prototype !== Object.prototype && prototype !== null) return false;
  return Object.values(value).every(isPlain);
}

export function copyPlain(value: unknown): unknown {
  if (typeof value !== "object" || value === null) return value;
  if (value instanceof Float64Array || value instanceof Float32Array) return value.slice();
  if (Array.isArray(value)) {
    const list: unknown[] = [];
    for (let i = 0; i < value.length; i++) list.push(copyPlain(value[i]));
    return list;
  }
  const copy: Record<string, unknown> = {};
  for (const key of Object.keys(value)) {
    Object.defineProperty(copy, key, {
      value: copyPlain((value as Record<string, unknown>)[key]),
      writable: true,
      enumerable: true,
      configurable: true,
    });
  }
  return copy;
}

/** Freezes a plain value to its leaves, and nothing that it inherits from. */
export function freezePlain<T>(value: T): T {
  if (typeof value !== "object" || value === null || ArrayBuffer.isView(value)) return value;
  for (const inner of Object.values(value)) freezePlain(inner);
  return Object.freeze(value);
}

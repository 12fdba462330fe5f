/**
 * Remembers what pure functions of the library answered, by their inputs.
 *
 * Every answer is a copy, the first as well: a program that writes into one changes nothing for the next, and
 * a run gives the same bytes whether an answer was computed or remembered.
 */

import { copyPlain, isPlain } from "./plain.ts";

/** Answers kept, and their size. */
const MOST_ENTRIES = 200;
const MOST_BYTES = 64 * 2 ** 20;

interface Kept {
  readonly answer: unknown;
  readonly bytes: number;
}

export class Memo {
  #kept = new Map<string, Kept>();
  #bytes = 0;
  readonly #version: string;
  /** How often an answer was remembered. */
  hits = 0;

  constructor(version: string) {
    this.#version = version;
  }

  /** The function with a memory. Inputs that are not plain data (functions, say) are passed through. */
  wrap<F extends (...given: never[]) => unknown>(name: string, compute: F): F {
    const remembering = (...given: never[]): unknown => {
      const inputs = keyOf(given);
      if (inputs === undefined) return compute(...given);
      const key = `${this.#version}\n${name}\n${inputs}`;
      const found = this.#kept.get(key);
      if (found !== undefined) {
        this.hits++;
        this.#kept.delete(key); // and to the young end again
        this.#kept.set(key, found);
        return copyPlain(found.answer);
      }
      const answer = compute(...given);
      if (!isPlain(answer)) return answer;
      this.#keep(key, { answer: copyPlain(answer), bytes: 2 * key.length + bytesOf(answer) });
      return copyPlain(answer);
    };
    return remembering as unknown as F;
  }

  #keep(key: string, entry: Kept): void {
    if (entry.bytes > MOST_BYTES / 4) return;
    this.#kept.set(key, entry);
    this.#bytes += entry.bytes;
    for (const [oldest, { bytes }] of this.#kept) {
      if (this.#kept.size <= MOST_ENTRIES && this.#bytes <= MOST_BYTES) break;
      this.#kept.delete(oldest);
      this.#bytes -= bytes;
    }
  }
}

/** One text for the same plain data, whatever the order of its keys. Undefined for anything that is not plain. */
function keyOf(given: unknown, depth = 24): string | undefined {
  switch (typeof given) {
    case "undefined":
    case "boolean":
      return String(given);
    case "number":
      return Object.is(given, -0) ? "-0" : String(given);
    case "string":
      return JSON.stringify(given);
    case "object":
      if (given === null) return "null";
      return depth === 0 ? undefined : keyOfObject(given, depth - 1);
    default:
      return undefined;
  }
}

function keyOfObject(given: object, depth: number): string | undefined {
  if (Array.isArray(given)) return keyOfList(given, depth);
  if (given instanceof Float64Array) return `f8[${Array.prototype.join.call(given, ",")}]`;
  if (given instanceof Float32Array) return `f4[${Array.prototype.join.call(given, ",")}]`;
  const prototype: unknown = Object.getPrototypeOf(given);
  if (prototype !== Object.prototype && prototype !== null) return undefined;
  const parts: string[] = [];
  for (const key of Reflect.ownKeys(given)) {
    const found = Object.getOwnPropertyDescriptor(given, key);
    // an accessor may answer differently each time
    if (typeof key !== "string" || found === undefined || !("value" in found)) return undefined;
    if (!found.enumerable) return undefined;
    if (found.value === undefined) continue;
    const part = keyOf(found.value, depth);
    if (part === undefined) return undefined;
    parts.push(`${JSON.stringify(key)}:${part}`);
  }
  return `{${parts.sort().join(",")}}`;
}

function keyOfList(given: readonly unknown[], depth: number): string | undefined {
  const parts: string[] = [];
  for (let i = 0; i < given.length; i++) {
    const part = keyOf(given[i], depth);
    if (part === undefined) return undefined;
    parts.push(part);
  }
  return `[${parts.join(",")}]`;
}

function bytesOf(value: unknown): number {
  if (typeof value === "string") return 2 * value.length + 16;
  if (typeof value !== "object" || value === null) return 8;
  if (value instanceof Float64Array || value instanceof Float32Array) return value.byteLength + 64;
  let bytes = 32;
  for (const inner of Object.values(value)) bytes += 8 + bytesOf(inner);
  return bytes;
}

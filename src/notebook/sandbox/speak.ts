/**
 * `show`: how a working speaks. Copies what it is given into plain data, within limits, so that nothing a
 * program made (getters, prototypes, proxies, shared arrays) leaves with it.
 */

import { formed } from "./forms.ts";

const SHOWS = ["answer", "table", "figure", "field", "note", "timeline", "lesson"] as const;
type ShowName = (typeof SHOWS)[number];
export type Show = Readonly<Record<ShowName, (given: unknown) => void>>;

export interface SpeakLimits {
  readonly outputs: number;
  readonly values: number;
  readonly bytes: number;
  readonly depth: number;
}

interface Speech {
  readonly show: Show;
  /** Workings begun so far; an output belongs to the last one. */
  begin(working: number): void;
  /** What a working that is done has shown; undefined where it holds blocks of memory, which move at the end. */
  shownBy(working: number): unknown[] | undefined;
  /** What was shown, by working, and the memory blocks in it, to be moved. After this nothing more is taken. */
  end(): { outputs: unknown[][]; buffers: ArrayBuffer[] };
}

export function makeSpeech(workings: number, limits: SpeakLimits): Speech {
  const outputs: unknown[][] = Array.from({ length: workings }, () => []);
  const used = { outputs: 0, values: 0, bytes: 0 };
  const buffers: ArrayBuffer[] = [];
  let current = 0;
  let open = true;

  const copy = (given: unknown, depth: number): unknown => {
    if (++used.values > limits.values) throw new RangeError("more values than a page can show");
    if (depth < 0) throw new RangeError("what is shown is nested too deep");
    if (given === null || given === undefined || typeof given === "boolean") return given;
    if (typeof given === "number") {
      if (Number.isNaN(given)) throw new RangeError("NaN can't be shown: not a number");
      used.bytes += 8;
      return given;
    }
    if (typeof given === "string") {
      take(2 * given.length);
      return given;
    }
    if (typeof given !== "object") throw new TypeError(`a ${typeof given} can't be shown`);
    if (given instanceof Float64Array || given instanceof Float32Array) return copyOfNumbers(given);
    return Array.isArray(given) ? copyOfList(given, depth) : copyOfObject(given, depth);
  };

  const copyOfNumbers = (given: Float64Array | Float32Array) => {
    take(given.byteLength);
    const own = given.slice();
    buffers.push(own.buffer as ArrayBuffer);
    return own;
  };

  const copyOfList = (given: readonly unknown[], depth: number) => {
    const { length } = given;
    if (used.values + length > limits.values)
      throw new RangeError("more values than a page can show");
    const list: unknown[] = [];
    for (let i = 0; i < length; i++) list.push(copy(given[i], depth - 1));
    return list;
  };

  const copyOfObject = (given: object, depth: number) => {
    const plain = Object.create(null) as Record<string, unknown>;
    for (const key of Object.keys(given)) {
      used.bytes += 2 * key.length;
      if (key === "__proto__") throw new TypeError("__proto__ can't be shown");
      const value = copy((given as Record<string, unknown>)[key], depth - 1);
      if (value !== undefined) plain[key] = value;
    }
    take(0);
    return plain;
  };

  const take = (bytes: number) => {
    used.bytes += bytes;
    if (used.bytes > limits.bytes) throw new RangeError("more than a page can show");
  };

  const say = (kind: ShowName) => (given: unknown) => {
    if (!open) throw new Error("the run is over");
    if (typeof given !== "object" || given === null || Array.isArray(given)) {
      throw new TypeError(`show.${kind} takes an object`);
    }
    if (++used.outputs > limits.outputs) throw new RangeError("more outputs than a page can show");
    const plain = copy(given, limits.depth) as Record<string, unknown>;
    outputs[current]?.push({ ...formed(kind, plain), kind });
  };

  const show = {} as Record<ShowName, (given: unknown) => void>;
  for (const kind of SHOWS) show[kind] = say(kind);
  return {
    show: Object.freeze(show),
    begin(working) {
      if (open && Number.isInteger(working) && working >= 0 && working < workings) {
        current = working;
      }
    },
    shownBy: (working) => (buffers.length === 0 ? outputs[working] : undefined),
    end() {
      open = false;
      return { outputs, buffers };
    },
  };
}

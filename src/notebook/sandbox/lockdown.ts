/**
 * Makes a realm fit for strangers' programs that must give the same result each time: only the language
 * itself stays, without clock, chance and locale, and nothing in it can be changed.
 *
 * This is not what keeps a program in: the browser does that (content security policy, sandboxed frame, worker).
 * It keeps one run from leaving anything behind for the next.
 */

/** What of the global object stays. */
const KEPT: ReadonlySet<string> = new Set(
  `Object Function Array Number Boolean String Symbol BigInt Math JSON Map Set WeakMap WeakSet Promise Reflect
  Proxy RegExp Error AggregateError EvalError RangeError ReferenceError SyntaxError TypeError URIError ArrayBuffer
  DataView Int8Array Uint8Array Uint8ClampedArray Int16Array Uint16Array Int32Array Uint32Array Float32Array
  Float64Array BigInt64Array BigUint64Array Iterator Infinity NaN undefined isFinite isNaN parseFloat parseInt
  decodeURI decodeURIComponent encodeURI encodeURIComponent`.split(/\s+/),
);

/** One block of memory, and all blocks of a run. The heap has its own limit, blocks have not. */
const MOST_BYTES_AT_ONCE = 256 * 2 ** 20;
const MOST_BYTES = 1024 * 2 ** 20;

interface Lock {
  /** Starts counting the memory of a new run. */
  newRun(): void;
}

export function lockdown(realm: object): Lock {
  const memory = { bytes: 0 };
  limitMemory(realm as Record<string, unknown>, memory);
  tame(realm as Record<string, never>);
  const roots = keptValues(realm);
  removeOthers(realm);
  freezeAll(roots);
  return {
    newRun: () => {
      memory.bytes = 0;
    },
  };
}

/** Blocks are counted as they are asked for; past the limit the program gets a RangeError. */
function limitMemory(realm: Record<string, unknown>, memory: { bytes: number }): void {
  const names = [...KEPT].filter((n) => n === "ArrayBuffer" || n.endsWith("Array"));
  for (const name of names) {
    const original = realm[name];
    if (typeof original !== "function" || name === "Array") continue;
    const unit = (original as unknown as { BYTES_PER_ELEMENT?: number }).BYTES_PER_ELEMENT ?? 1;
    const limited: unknown = new Proxy(original, {
      construct(target, given: unknown[], newTarget) {
        const [first] = given;
        const length =
          typeof first === "object" && first !== null
            ? first instanceof ArrayBuffer
              ? 0
              : Number((first as { length?: unknown }).length ?? 0)
            : Number(first);
        const growing = Number((given[1] as { maxByteLength?: unknown })?.maxByteLength ?? 0);
        const bytes = Math.max(length * unit || 0, name === "ArrayBuffer" ? growing || 0 : 0);
        memory.bytes += bytes;
        if (bytes > MOST_BYTES_AT_ONCE || memory.bytes > MOST_BYTES) {
          throw new RangeError("more memory than a page may use");
        }
        return Reflect.construct(target, given, newTarget === limited ? target : newTarget);
      },
    });
    Object.defineProperty(original.prototype, "constructor", { value: limited });
    Object.defineProperty(realm, name, { value: limited, writable: true, configurable: true });
  }
  limitCopies(memory);
}

/** Methods that make a new block without asking a constructor. */
function limitCopies(memory: { bytes: number }): void {
  const typed = Object.getPrototypeOf(Float64Array.prototype) as Record<string, unknown>;
  for (const name of ["toReversed", "toSorted", "with"]) {
    const original = typed[name];
    if (typeof original !== "function") continue;
    const counted = function (this: { byteLength: number }, ...given: unknown[]): unknown {
      memory.bytes += this.byteLength;
      if (memory.bytes > MOST_BYTES) throw new RangeError("more memory than a page may use");
      return Reflect.apply(original, this, given);
    };
    Object.defineProperty(typed, name, { value: counted, configurable: true });
  }
  for (const name of ["transfer", "transferToFixedLength", "resize"]) {
    Reflect.deleteProperty(ArrayBuffer.prototype, name);
  }
}

/** Takes out what differs from run to run, or keeps something from one to the next. */
function tame(realm: Record<string, never>): void {
  const absent = (name: string) => () => {
    throw new TypeError(`${name} is not available: a page gives the same result each time`);
  };
  Object.defineProperty(realm["Math"], "random", { value: absent("Math.random") });
  // the last match of any RegExp is kept by the language itself
  const regExp = realm["RegExp"] as unknown as Record<string, unknown>;
  for (const name of Object.getOwnPropertyNames(regExp)) {
    if (!["length", "name", "prototype"].includes(name)) delete regExp[name];
  }
  const error = realm["Error"] as unknown as Record<string, unknown>;
  delete error["captureStackTrace"];
  delete error["prepareStackTrace"];
  for (const name of ["String", "Number", "BigInt", "Array", "Object"] as const) {
    const { prototype } = realm[name] as unknown as { prototype: Record<string, unknown> };
    for (const method of Object.getOwnPropertyNames(prototype)) {
      if (/^toLocale/.test(method)) {
        const plain = method.replace("Locale", "");
        Object.defineProperty(prototype, method, { value: prototype[plain], configurable: true });
      }
    }
    if (name === "String") {
      Object.defineProperty(prototype, "localeCompare", {
        value(this: string, other: string) {
          return this < other ? -1 : this > other ? 1 : 0;
        },
      });
    }
  }
}

function keptValues(realm: object): unknown[] {
  const values: unknown[] = [];
  for (const name of KEPT) values.push((realm as Record<string, unknown>)[name]);
  // what no name leads to: generators, asynchronous functions, iterators
  values.push(
    function* () {},
    async () => {},
    async function* () {},
    [][Symbol.iterator](),
    ""[Symbol.iterator](),
    new Map().entries(),
    new Set().entries(),
    "".matchAll(/x/g),
  );
  return values;
}

/** Every other name, on the global object and on what it inherits from (there the browser keeps its own). */
function removeOthers(realm: object): void {
  const language = Object.prototype;
  for (
    let at: object | null = realm;
    at !== null && at !== language;
    at = Object.getPrototypeOf(at)
  ) {
    for (const key of Reflect.ownKeys(at)) {
      if (typeof key === "string" && KEPT.has(key) && at === realm) continue;
      if (key === "constructor" || Reflect.deleteProperty(at, key)) {
        if (key === "constructor") Reflect.deleteProperty(at, key);
        continue;
      }
      Reflect.defineProperty(at, key, { value: undefined });
    }
  }
  for (const name of KEPT) {
    const found = Object.getOwnPropertyDescriptor(realm, name);
    if (found?.configurable) {
      Object.defineProperty(realm, name, { ...found, writable: false, configurable: false });
    }
  }
  Reflect.preventExtensions(realm);
}

/** Freezes everything that can be reached from the roots. */
export function freezeAll(roots: readonly unknown[]): void {
  const seen = new Set<object>();
  const waiting: object[] = [];
  const add = (value: unknown) => {
    if ((typeof value !== "object" && typeof value !== "function") || value === null) return;
    if (!seen.has(value)) {
      seen.add(value);
      waiting.push(value);
    }
  };
  for (const root of roots) add(root);
  for (let object = waiting.pop(); object !== undefined; object = waiting.pop()) {
    add(Object.getPrototypeOf(object));
    for (const key of Reflect.ownKeys(object)) {
      const found = Object.getOwnPropertyDescriptor(object, key);
      if (found === undefined) continue;
      add(found.value);
      add(found.get);
      add(found.set);
    }
  }
  for (const object of seen) keepOverridable(object);
  for (const object of seen) {
    // elements of a typed array can't be frozen
    if (!ArrayBuffer.isView(object)) freeze(object);
  }
}

/**
 * As Object.freeze, property by property. V8 marks what Object.freeze has frozen as having elements that can't be
 * written, and with such a prototype every store into an array, typed ones too, takes its slow way: the engine ran four
 * times slower.
 */
function freeze(object: object): void {
  for (const key of Reflect.ownKeys(object)) {
    const found = Object.getOwnPropertyDescriptor(object, key);
    if (found === undefined || !(found.configurable || found.writable)) continue;
    const fixed = { configurable: false, ...("value" in found && { writable: false }) };
    Object.defineProperty(object, key, fixed);
  }
  Object.preventExtensions(object);
}

/**
 * A frozen prototype would also forbid `this.name = ...` on what inherits from it. The few names that programs
 * write that way become accessors whose setter makes an own property.
 */
function keepOverridable(object: object): void {
  const isPrototype =
    object === Object.prototype ||
    object === Function.prototype ||
    object === Error.prototype ||
    object === Array.prototype ||
    (object as Error) instanceof Error;
  const names =
    object === Object.prototype
      ? Object.getOwnPropertyNames(object).filter((name) => name !== "__proto__")
      : isPrototype
        ? ["constructor", "toString", "valueOf", "name", "message"]
        : Object.hasOwn(object, "constructor")
          ? ["constructor", "toString"]
          : [];
  for (const name of names) {
    const found = Object.getOwnPropertyDescriptor(object, name);
    if (!found?.configurable || !("value" in found)) continue;
    const { value } = found;
    const get = () => value;
    const set = function (this: object, next: unknown) {
      if (this === object) throw new TypeError("the language itself can't be changed");
      Object.defineProperty(this, name, {
        value: next,
        writable: true,
        enumerable: true,
        configurable: true,
      });
    };
    // made after everything was looked through, and a program can get hold of them
    for (const made of [get, set, set.prototype]) freeze(made);
    Object.defineProperty(object, name, {
      configurable: true,
      enumerable: found.enumerable ?? false,
      get,
      set,
    });
  }
}

/** Triangles from the bytes of an STL file, binary or text. The file knows no unit: coordinates stay as they are. */
import { InputError } from "../units/problem.ts";

export interface Triangles {
  /** Nine coordinates for each triangle. */
  readonly corners: Float32Array;
  readonly count: number;
  readonly written: "binary" | "text";
}

/** Head and count before the records of a binary file, and the length of a record. */
const HEAD = 84;
const RECORD = 50;
/** More would not fit into the memory that a shop's computer has to spare. */
const MOST_TRIANGLES = 5_000_000;

/**
 * Reads an STL file.
 *
 * @param bytes of the file, binary (little endian) or text
 * @throws InputError `stl_empty`, `stl_truncated`, `stl_too_many`, `stl_not_finite`, `not_stl`, each with the triangle
 * @source Library of Congress, Sustainability of Digital Formats: STL, binary (fdd000505) and text (fdd000506)
 */
export function readStl(bytes: Uint8Array): Triangles {
  const count = bytes.length >= HEAD ? viewOf(bytes).getUint32(80, true) : 0;
  const fits = bytes.length === HEAD + RECORD * count;
  // many binary files begin with "solid" as well: the length tells
  const read = !fits && looksLikeText(bytes) ? readText(bytes) : readBinary(bytes, count);
  if (read.count === 0) throw new InputError([{ code: "stl_empty", path: "" }]);
  const broken = firstBroken(read);
  if (broken.count > 0)
    throw new InputError([
      {
        code: "stl_not_finite",
        path: `triangle ${broken.first + 1}`,
        given: `${broken.count} of ${read.count}`,
      },
    ]);
  return read;
}

function viewOf({ buffer, byteOffset, byteLength }: Uint8Array): DataView {
  return new DataView(buffer, byteOffset, byteLength);
}

function looksLikeText(bytes: Uint8Array): boolean {
  const start = ascii(bytes, 0, Math.min(bytes.length, 2000));
  return /^\s*solid\b/i.test(start) && (/\b(facet|endsolid)\b/i.test(start) || bytes.length < HEAD);
}

function ascii(bytes: Uint8Array, from: number, to: number): string {
  let text = "";
  for (let i = from; i < to; i++) text += String.fromCharCode(bytes[i]);
  return text;
}

function readBinary(bytes: Uint8Array, count: number): Triangles {
  const there = Math.floor((bytes.length - HEAD) / RECORD);
  // a count that no file of this kind has: something else altogether
  const plausible = count > 0 && count < 1e9 && there > 0 && count < 1000 * (there + 10);
  if (bytes.length < HEAD || (!plausible && bytes.length !== HEAD))
    throw new InputError([{ code: "not_stl", path: "" }]);
  if (there < count)
    throw new InputError([
      { code: "stl_truncated", path: `triangle ${there + 1}`, given: `${there} of ${count}` },
    ]);
  if (count > MOST_TRIANGLES)
    throw new InputError([
      { code: "stl_too_many", path: "", given: String(count), most: String(MOST_TRIANGLES) },
    ]);
  const corners = new Float32Array(9 * count);
  const view = viewOf(bytes);
  for (let t = 0, k = 0; t < count; t++)
    for (let i = 0, at = HEAD + RECORD * t + 12; i < 9; i++, at += 4)
      corners[k++] = view.getFloat32(at, true);
  return { corners, count, written: "binary" };
}

const VERTEX = [118, 101, 114, 116, 101, 120]; // "vertex"

/** Reads the corners straight from the bytes: a file of this size makes no text. */
function readText(bytes: Uint8Array): Triangles {
  let corners = new Float32Array(9 * Math.max(16, Math.floor(bytes.length / 200)));
  let found = 0;
  for (let at = nextVertex(bytes, 0); at >= 0; at = nextVertex(bytes, at)) {
    at += VERTEX.length;
    for (let axis = 0; axis < 3; axis++) {
      const number = numberAt(bytes, at);
      if (number.end < 0) {
        const corner = `triangle ${Math.floor(found / 9) + 1}`;
        const cut = at >= bytes.length - 2;
        throw new InputError([
          cut
            ? { code: "stl_truncated", path: corner, given: `${Math.floor(found / 9)}` }
            : { code: "stl_not_finite", path: corner, given: "1" },
        ]);
      }
      if (found === corners.length) {
        const more = new Float32Array(2 * corners.length);
        more.set(corners);
        corners = more;
      }
      corners[found++] = number.value;
      at = number.end;
    }
    if (found > 9 * MOST_TRIANGLES)
      throw new InputError([
        {
          code: "stl_too_many",
          path: "",
          given: String(Math.floor(found / 9)),
          most: String(MOST_TRIANGLES),
        },
      ]);
  }
  const count = Math.floor(found / 9);
  const tail = ascii(bytes, Math.max(0, bytes.length - 300), bytes.length);
  if (found % 9 !== 0 || !/endsolid/i.test(tail))
    throw new InputError([
      { code: "stl_truncated", path: `triangle ${count + 1}`, given: String(count) },
    ]);
  return { corners: corners.slice(0, found), count, written: "text" };
}

/** Finds the next `vertex` from a place on; -1 when there is none. */
function nextVertex(bytes: Uint8Array, from: number): number {
  // no other word of the format has a v
  for (let at = from; at < bytes.length; at++)
    if ((bytes[at] | 32) === VERTEX[0] && matches(bytes, at, VERTEX)) return at;
  return -1;
}

/** Letters of either case. */
function matches(bytes: Uint8Array, at: number, word: readonly number[]): boolean {
  for (let i = 0; i < word.length; i++) if ((bytes[at + i] | 32) !== word[i]) return false;
  return true;
}

const TENS = Float64Array.from({ length: 40 }, (_, power) => Number(`1e${power}`));
const NUMBER = { value: 0, end: -1 };
/** As many digits fit into a small integer, which is quick; a coordinate of single precision has no more that count. */
const QUICK_DIGITS = 9;

/** The number that starts here, after blanks; `end` -1 when none does. One object, written anew each time. */
function numberAt(bytes: Uint8Array, from: number): typeof NUMBER {
  let at = from;
  let c = bytes[at];
  while (c === 32 || (c >= 9 && c <= 13)) c = bytes[++at];
  const isNegative = c === 45;
  if (isNegative || c === 43) c = bytes[++at];
  let mantissa = 0;
  const whole = at;
  for (; c >= 48 && c <= 57; c = bytes[++at]) mantissa = (10 * mantissa + (c - 48)) | 0;
  let digits = at - whole;
  let power = 0;
  if (c === 46) {
    const point = ++at;
    c = bytes[at];
    for (; c >= 48 && c <= 57; c = bytes[++at]) mantissa = (10 * mantissa + (c - 48)) | 0;
    power = point - at;
    digits -= power;
  }
  NUMBER.end = -1;
  if (digits === 0) return notFinite(bytes, at);
  if (digits > QUICK_DIGITS) ({ digits: mantissa, power } = longMantissa(bytes, whole, at));
  if ((c | 32) === 101) {
    c = bytes[++at];
    const down = c === 45;
    if (down || c === 43) c = bytes[++at];
    let e = 0;
    for (; c >= 48 && c <= 57; c = bytes[++at]) e = Math.min(999, 10 * e + (c - 48));
    power += down ? -e : e;
  }
  NUMBER.value = scaled(isNegative ? -mantissa : mantissa, power);
  NUMBER.end = at;
  return NUMBER;
}

function scaled(mantissa: number, power: number): number {
  const size = Math.abs(power);
  const ten = size < TENS.length ? TENS[size] : 10 ** size;
  return power < 0 ? mantissa / ten : mantissa * ten;
}

/** More digits than are read quickly; those beyond what a number can hold only move the point. */
function longMantissa(
  bytes: Uint8Array,
  from: number,
  to: number,
): { digits: number; power: number } {
  let mantissa = 0;
  let power = 0;
  let digits = 0;
  let isPast = false;
  for (let at = from; at < to; at++) {
    if (bytes[at] === 46) isPast = true;
    else if (digits < 17) {
      mantissa = 10 * mantissa + (bytes[at] - 48);
      if (isPast) power--;
      digits++;
    } else if (!isPast) power++;
  }
  return { digits: mantissa, power };
}

/** `nan` and `inf` are words of some exporters: read as what they are, and refused later with their count. */
function notFinite(bytes: Uint8Array, at: number): typeof NUMBER {
  const word = ascii(bytes, at, Math.min(bytes.length, at + 12));
  const found = /^-?(nan(\([^)]*\))?|1\.#\w+|inf(inity)?)/i.exec(word);
  if (found) {
    NUMBER.value = Number.NaN;
    NUMBER.end = at + found[0].length;
  }
  return NUMBER;
}

function firstBroken({ corners, count }: Triangles): { count: number; first: number } {
  let broken = 0;
  let first = -1;
  for (let t = 0; t < count; t++) {
    let sum = 0;
    for (let i = 9 * t; i < 9 * t + 9; i++) sum += corners[i] - corners[i];
    if (sum === 0) continue;
    broken++;
    if (first < 0) first = t;
  }
  return { count: broken, first };
}

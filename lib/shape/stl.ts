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
  let at = 0;
  while (at < bytes.length) {
    const letter = bytes[at];
    if ((letter !== 118 && letter !== 86) || !matches(bytes, at, VERTEX)) {
      at++;
      continue;
    }
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

/** Letters of either case. */
function matches(bytes: Uint8Array, at: number, word: readonly number[]): boolean {
  for (let i = 0; i < word.length; i++) if ((bytes[at + i] | 32) !== word[i]) return false;
  return true;
}

const TENS = Float64Array.from({ length: 40 }, (_, power) => Number(`1e${power}`));
const NUMBER = { value: 0, end: -1 };

/** The number that starts here, after blanks; `end` -1 when none does. One object, written anew each time. */
function numberAt(bytes: Uint8Array, from: number): typeof NUMBER {
  let at = from;
  while (bytes[at] === 32 || (bytes[at] >= 9 && bytes[at] <= 13)) at++;
  NUMBER.end = -1;
  const sign = bytes[at] === 45 ? -1 : 1;
  if (bytes[at] === 45 || bytes[at] === 43) at++;
  let mantissa = 0;
  let power = 0;
  let digits = 0;
  for (let point = false; ; at++) {
    const c = bytes[at];
    if (c === 46 && !point) point = true;
    else if (c >= 48 && c <= 57) {
      // digits beyond what a number can hold only move the point
      if (digits < 17) {
        mantissa = 10 * mantissa + (c - 48);
        if (point) power--;
      } else if (!point) power++;
      digits++;
    } else break;
  }
  if (digits === 0) return notFinite(bytes, at);
  if ((bytes[at] | 32) === 101) {
    at++;
    const down = bytes[at] === 45;
    if (bytes[at] === 45 || bytes[at] === 43) at++;
    let e = 0;
    while (bytes[at] >= 48 && bytes[at] <= 57) e = Math.min(999, 10 * e + (bytes[at++] - 48));
    power += down ? -e : e;
  }
  const ten = Math.abs(power) < TENS.length ? TENS[Math.abs(power)] : 10 ** Math.abs(power);
  NUMBER.value = sign * (power < 0 ? mantissa / ten : mantissa * ten);
  NUMBER.end = at;
  return NUMBER;
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

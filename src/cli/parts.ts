/**
 * The parts of the built command, loaded with what V8 made of them when they were built: an answer lasts about a second,
 * of which reading and compiling its own code would take a sixth.
 *
 * Beside a part `answering.js` lies `answering.js.code`: the data of V8, which says itself for which version and flags
 * it was made, then the checksums of part and data. Where anything differs, or there is no such file, the part is
 * compiled as usual. Nothing is written here.
 */
import { readFileSync } from "node:fs";
import Module, { createRequire } from "node:module";
import { join } from "node:path";
import { setFlagsFromString } from "node:v8";
import { Script } from "node:vm";
import { crc32 } from "node:zlib";

/** Checksum of the part, of the data. */
const CHECKSUMS = 8;

const FOLDER = import.meta.dirname;
const builtIn = createRequire(join(FOLDER, "parts.js"));

interface Part {
  readonly file: string;
  readonly source: Buffer;
  readonly script: Script;
  readonly module: { exports: unknown };
}

const loaded = new Map<string, Part>();

/**
 * Compiles less, and later: answers in three quarters of the time, and is no slower once all is compiled. Measured with
 * this engine; others have other tiers. Code is kept for the flags under which it was made.
 */
export function compileLess(): void {
  if (!process.versions.v8.startsWith("11.")) return;
  setFlagsFromString("--max-inlined-bytecode-size-cumulative=200");
  setFlagsFromString("--interrupt-budget=264000");
}

/** What a part exports; it runs at the first call. */
export function part(name: string): unknown {
  const before = loaded.get(name);
  if (before !== undefined) return before.module.exports;
  const file = join(FOLDER, name);
  const source = readFileSync(file);
  const cachedData = keptCode(file, source);
  // the build leaves nothing but ASCII in a part
  const script = new Script(Module.wrap(source.toString("latin1")), {
    filename: file,
    columnOffset: -Module.wrap("").indexOf("\n"),
    ...(cachedData && { cachedData }),
  });
  const module = { exports: {} };
  loaded.set(name, { file, source, script, module });
  const wanted = (id: string) => (id.startsWith("./") ? part(id.slice(2)) : builtIn(id));
  script.runInThisContext()(module.exports, wanted, module, file, FOLDER);
  return module.exports;
}

function keptCode(file: string, source: Buffer): Buffer | undefined {
  let kept: Buffer;
  try {
    kept = readFileSync(`${file}.code`);
  } catch {
    return undefined;
  }
  const end = kept.length - CHECKSUMS;
  if (end <= 0) return undefined;
  const code = kept.subarray(0, end);
  const same =
    kept.readUInt32LE(end) === crc32(source) && kept.readUInt32LE(end + 4) === crc32(code);
  return same ? code : undefined;
}

/** For the build: what V8 has made of the parts that were loaded, each with the name of its file. */
export function codeOfParts(): { readonly file: string; readonly bytes: Buffer }[] {
  return [...loaded.values()].map(({ file, source, script }) => {
    const code = script.createCachedData();
    const checksums = Buffer.alloc(CHECKSUMS);
    checksums.writeUInt32LE(crc32(source), 0);
    checksums.writeUInt32LE(crc32(code), 4);
    return { file: `${file}.code`, bytes: Buffer.concat([code, checksums]) };
  });
}

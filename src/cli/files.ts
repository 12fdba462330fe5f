/** Files from the command line, with what can be wrong with them said like any other mistake. */
import { InputError, type Problem, tried } from "../../lib/units/problem.ts";

/** All that the command knows of the world: a test hands it another one. */
export interface World {
  /** Size of a file, or why it can't be read. */
  size(path: string): { readonly bytes: number } | { readonly problem: Problem };
  read(path: string): { readonly text: string } | { readonly problem: Problem };
  /** A file that is no text. */
  bytes(path: string): { readonly bytes: Uint8Array } | { readonly problem: Problem };
  /** Writes one file, or says why not. */
  write(path: string, text: string): Problem | null;
  /** Makes a folder that files can be saved in, or says why not. */
  makeFolder(path: string): Problem | null;
  /** Writes one file into a folder that was made. @throws InputError when it can't */
  save(folder: string, name: string, text: string): void;
  print(text: string): void;
  complain(text: string): void;
  /** Tells a person at a terminal how far a long work is; a new text replaces the last. */
  follow(text: string): void;
  /** Whether a fault of ours shows where in the code it was. */
  readonly trace?: boolean;
  /** Milliseconds, for the effort of an answer. */
  now(): number;
}

/** Larger files are refused before they are read: no job, problem or page is that long. */
const MOST_BYTES = 2_000_000;

export function fileProblem(path: string, error: unknown): Problem {
  const code = (error as { code?: string } | null)?.code ?? "unknown";
  if (code === "ENOENT") return { code: "file_missing", path };
  if (code === "EISDIR") return { code: "file_unreadable", path, given: "it is a folder" };
  return { code: "file_unreadable", path, given: code };
}

export function fileUnwritable(path: string, error: unknown): Problem {
  const code = (error as { code?: string } | null)?.code ?? "unknown";
  return { code: "file_unwritable", path, given: code === "EISDIR" ? "it is a folder" : code };
}

export function folderProblem(path: string, error: unknown): Problem {
  const code = (error as { code?: string } | null)?.code ?? "unknown";
  const taken = code === "EEXIST" || code === "ENOTDIR";
  return { code: "folder_unwritable", path, given: taken ? "a file is in the way" : code };
}

/** Makes sure of the folder before the work, not after it. */
export function requireFolder(world: World, path: string): void {
  const problem = world.makeFolder(path);
  if (problem) throw new InputError([problem]);
}

/** The bytes of a file of sensible size. */
export function bytesOf(world: World, path: string, most: number): Uint8Array {
  refuseLarge(world, path, most);
  const read = world.bytes(path);
  if ("problem" in read) throw new InputError([read.problem]);
  return read.bytes;
}

/** The text of a file of sensible size. */
export function textOf(world: World, path: string, most = MOST_BYTES): string {
  refuseLarge(world, path, most);
  const read = world.read(path);
  if ("problem" in read) throw new InputError([read.problem]);
  return read.text;
}

function refuseLarge(world: World, path: string, most: number): void {
  const size = world.size(path);
  if ("problem" in size) throw new InputError([size.problem]);
  if (size.bytes <= most) return;
  const megabytes = (bytes: number) => `${(bytes / 1e6).toFixed(bytes < 1e7 ? 1 : 0)} MB`;
  throw new InputError([
    { code: "too_long", path, given: megabytes(size.bytes), most: megabytes(most) },
  ]);
}

/**
 * What both give; where they are at fault, the problems of both at once.
 *
 * @param second is handed what the first gave: nothing where that one is at fault
 * @throws InputError with every problem of both
 */
export function bothRead<A, B>(first: () => A, second: (first: A | undefined) => B): [A, B] {
  const problems: Problem[] = [];
  const a = tried(problems, first);
  const b = tried(problems, () => second(a));
  if (problems.length > 0) throw new InputError(problems);
  return [a as A, b as B];
}

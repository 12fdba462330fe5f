/** Worlds for the command: one that holds its files in memory, and this machine's own. */
import { runCommand } from "../../../src/cli/command.ts";
import { diskWorld } from "../../../src/cli/disk.ts";
import { fileProblem, folderProblem, type World } from "../../../src/cli/files.ts";

export interface TestWorld extends World {
  printed: string;
  complained: string;
  readonly saved: Map<string, string>;
}

export function testWorld(files: Readonly<Record<string, string>>): TestWorld {
  const missing = (path: string) => ({ problem: fileProblem(path, { code: "ENOENT" }) });
  const world: TestWorld = {
    printed: "",
    complained: "",
    saved: new Map(),
    size: (path) => (path in files ? { bytes: files[path]!.length } : missing(path)),
    read: (path) => (path in files ? { text: files[path]! } : missing(path)),
    bytes: (path) =>
      path in files ? { bytes: new TextEncoder().encode(files[path]!) } : missing(path),
    write: (path, text) => {
      world.saved.set(path, text);
      return null;
    },
    makeFolder: (path) => (path in files ? folderProblem(path, { code: "EEXIST" }) : null),
    save: (folder, name, text) => {
      world.saved.set(`${folder}/${name}`, text);
    },
    print: (text) => {
      world.printed += text;
    },
    complain: (text) => {
      world.complained += text;
    },
    follow: () => {},
    now: () => 0,
  };
  return world;
}

/** Runs the command on this machine's disk, and keeps what it says. */
export async function runOnDisk(words: readonly string[]) {
  let [printed, complained] = ["", ""];
  const world: World = {
    ...diskWorld,
    print: (text) => {
      printed += text;
    },
    complain: (text) => {
      complained += text;
    },
    follow: () => {},
  };
  return { code: await runCommand(words, world), printed, complained };
}

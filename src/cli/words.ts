/** What was asked of the command, and what it can be asked. */
import type { UnitSystem } from "../../lib/units/display.ts";

/** The words of a run, read. */
export interface Words {
  readonly command: string;
  readonly rest: readonly string[];
  readonly json: boolean;
  readonly set: readonly string[];
  readonly svg: string | undefined;
  /** Folder for the bare problems. */
  readonly problem: string | undefined;
  readonly units: UnitSystem | undefined;
  readonly quick: boolean;
  readonly write: string | undefined;
  /** Of the notebook's server, as typed. */
  readonly port: string | undefined;
  /** The proof as a document. */
  readonly markdown: boolean;
  /** Of a sweep: what is varied, how many members, into which file, of which question, on how many threads. */
  readonly vary: readonly string[];
  readonly members: string | undefined;
  readonly out: string | undefined;
  readonly of: string | undefined;
  readonly workers: string | undefined;
}

/** Beside the questions. */
export const COMMANDS = [
  "job",
  "schema",
  "materials",
  "solve",
  "proof",
  "page",
  "fit",
  "sweep",
  "examples",
  "notebook",
] as const;

/** Wrong use of the command itself: not a file's problem, but answered like one. */
export class Misuse extends Error {}

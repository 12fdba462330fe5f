/** What is asked of the worker that reads a file, and what it says. */
import type { Problem } from "../../../lib/units/problem.ts";

export interface FileAsked {
  readonly name: string;
  readonly bytes: ArrayBuffer;
  /** YAML of the job that lends its mold, plastic and room. */
  readonly jobText: string;
  /** Of the coordinates in a mesh. */
  readonly unit: "mm" | "in";
  /** Length of the bait as typed, for a drawing without a scale; empty: the drawing says it. */
  readonly length: string;
}

export interface FileRead {
  /** YAML of a job with that bait. */
  readonly jobText: string;
  readonly jobName: string;
  /** What was noticed, in sentences. */
  readonly found: readonly string[];
  readonly length: number; // m
}

export type FileReply =
  | { readonly read: FileRead }
  | { readonly problems: readonly Problem[] }
  | { readonly fault: string };

/** The job file, read: its text, its schema, the checks between keys, and the assembly to SI in their order. */
import type { z } from "zod";
import { InputError, type Problem } from "../units/problem.ts";
import { assembleJob, materialLookup, materialProblems } from "./assemble.ts";
import { problemsBetween } from "./checks.ts";
import { fillDefaults } from "./defaults.ts";
import { atFitted, fittedProblems } from "./fitted.ts";
import { jobSchema } from "./schema.ts";
import { parseJobText } from "./text.ts";
import type { JobReading } from "./types.ts";

export type {
  BackPlate,
  Bait,
  Cup,
  Evening,
  Form,
  Job,
  JobReading,
  Layering,
  Limits,
  Mix,
  MixPour,
  Mold,
  Plate,
  Pour,
  Room,
  Run,
  Shot,
  Shrink,
  ShrinkStep,
  Sprue,
  Station,
  Swim,
  Uncertainty,
} from "./types.ts";

/**
 * Reads a job file.
 *
 * @param text YAML or JSON, at most 1 MB
 * @returns the job in SI and kelvin with every default filled in, and the paths that were defaults
 * @throws InputError with every problem of the file at once
 * @example readJob("bait: { thickness: 16 mm }").job.shot.temperature // 443.15
 * @example readJob("bait: { thickness: 5/8 in }").job.bait.thickness // 0.015875
 */
export function readJob(text: string): JobReading {
  return checkJob(parseJobText(text));
}

/** Jobs read so far: the schema is compiled for those that read one after the other; for one or two that takes longer. */
let reads = 0;
const READ_AS_IT_IS = 2;

/**
 * Checks a job that was parsed already, and makes it.
 *
 * @param raw plain data with the keys of a job file, quantities as text
 * @throws InputError with every problem at once
 * @example checkJob({ bait: { thickness: "5/8 in" } }).job.bait.thickness // 0.015875
 */
export function checkJob(raw: unknown): JobReading {
  if (typeof raw !== "object" || raw === null || Array.isArray(raw))
    throw new InputError([{ code: "not_a_job", path: "" }]);
  const file = raw as Record<string, unknown>;
  const filled = fillDefaults(jobSchema, file);
  reads++;
  const parsed = jobSchema.safeParse(filled.raw, { jitless: reads <= READ_AS_IT_IS });
  const problems = [...filled.problems];
  // below what is no group or list at all, nothing more is said
  const broken = problems.filter(
    ({ code }) => code !== "unknown_key" && code !== "comma_in_braces",
  );
  for (const issue of parsed.error?.issues ?? []) {
    const problem = problemOf(issue);
    const below = broken.some(
      ({ path }) =>
        problem.path.startsWith(path) && /^(?:[.[]|$)/.test(problem.path.slice(path.length)),
    );
    if (!below && !filled.followers.has(problem.path)) problems.push(problem);
  }
  const lookup = materialLookup(parsed.data?.materials ?? ownMaterials(filled.raw));
  problems.push(
    ...materialProblems(filled.leaves, lookup).filter(({ path }) => !filled.followers.has(path)),
  );
  const gives = ["layer.depth", "pour.masters.height"].filter((path) =>
    filled.defaults.includes(path),
  );
  const settled = new Set([...problems.map(({ path }) => path), ...filled.followers, ...gives]);
  const plastic = filled.leaves.find(({ path }) => path === "shot.material")?.given;
  const setTemperature = lookup(String(plastic).trim())?.plastisol?.setTemperature.value;
  problems.push(...problemsBetween(filled.leaves, file, settled, { setTemperature }));
  problems.push(...fittedProblems(parsed.data?.fitted ?? []));
  if (problems.length > 0 || !parsed.data) throw new InputError(inOrder(problems));
  const defaults = [...filled.defaults];
  const isPoured = describesPour(file, filled.raw);
  return { job: atFitted(assembleJob(parsed.data, lookup, defaults, isPoured)), defaults };
}

/** Whether the file says anything of its pour that it would not mean without. */
function describesPour(file: Record<string, unknown>, filled: Record<string, unknown>): boolean {
  const { pour, ...others } = file;
  if (pour === undefined || pour === null) return false;
  // a job whose defaults are all written out is the same job
  const { raw } = fillDefaults(jobSchema, others);
  return JSON.stringify(raw["pour"]) !== JSON.stringify(filled["pour"]);
}

/** Names of the job's own materials, where the rest of the file can't be read: they count as known. */
function ownMaterials(raw: Record<string, unknown>) {
  const given = raw["materials"];
  const parsed = jobSchema.shape.materials.safeParse(given);
  return parsed.success ? parsed.data : undefined;
}

function pathText(path: readonly PropertyKey[]): string {
  return path.reduce<string>(
    (text, key) =>
      typeof key === "number"
        ? `${text}[${key}]`
        : text === ""
          ? String(key)
          : `${text}.${String(key)}`,
    "",
  );
}

function problemOf(issue: z.core.$ZodIssue): Problem {
  const path = pathText(issue.path);
  const known =
    issue.code === "custom" ? (issue.params?.["problem"] as Problem | undefined) : undefined;
  // keys, groups and lists were looked at before the defaults were filled in
  return known ? { ...known, path } : { code: "not_possible", path };
}

/** One problem for each path and kind, in the order of the file's keys. */
function inOrder(problems: readonly Problem[]): Problem[] {
  const keys = Object.keys(jobSchema.shape);
  const place = ({ path }: Problem) => keys.indexOf(path.split(/[.[]/)[0]!);
  const once = new Map(problems.map((p) => [`${p.path} ${p.code}`, p]));
  return [...once.values()].sort((a, b) => place(a) - place(b));
}

/**
 * What a log has taught about a job's inputs: where each lies on its own spread, and how they lean on each other.
 *
 * A log rarely tells two inputs apart, but it tells well what they do together. So the inputs are kept as one normal
 * distribution in the deviates of their spreads: z = middle + L u, L a lower triangle, u independent.
 */
import type { Problem } from "../units/problem.ts";
import { FARTHEST, type FittedInput } from "./input-names.ts";
import { jobInputs } from "./inputs.ts";
import type { Job } from "./types.ts";

/**
 * Reads `0.31; 0.2 0.85`: the middle, then the row.
 *
 * @returns null when it is nothing of the kind
 */
export function readDeviates(text: string): { middle: number; row: number[] } | null {
  const [middle, row, ...more] = text.split(";").map((part) =>
    part
      .trim()
      .split(/\s+/)
      .map((word) => (/^[-+]?\d+(\.\d+)?$/.test(word) ? Number(word) : Number.NaN)),
  );
  if (!middle || !row || more.length > 0 || middle.length !== 1) return null;
  const fine = [...middle, ...row].every((x) => Math.abs(x) <= FARTHEST);
  return fine ? { middle: middle[0], row } : null;
}

/** As it stands in a job file. */
export function deviatesText({ middle, row }: FittedInput): string {
  return `${middle.toFixed(3)}; ${row.map((x) => x.toFixed(3)).join(" ")}`;
}

/** What is wrong with a list of fitted inputs, beyond each entry. */
export function fittedProblems(
  given: readonly {
    readonly name: string;
    readonly deviates: { readonly row: readonly number[] };
  }[],
): Problem[] {
  return given.flatMap(({ name, deviates }, i): Problem[] => {
    const path = `fitted[${i}]`;
    if (given.findIndex((other) => other.name === name) < i)
      return [{ code: "not_possible", path: `${path}.name`, given: name }];
    if (deviates.row.length !== i + 1)
      return [{ code: "not_possible", path: `${path}.deviates`, given: deviates.row.join(" ") }];
    return [];
  });
}

/** The job with every fitted input at its middle. */
export function atFitted(job: Job): Job {
  const inputs = jobInputs(job);
  return job.fitted.reduce(
    (moved, { name, middle }) =>
      inputs.find((input) => input.name === name)?.at(moved, middle) ?? moved,
    job,
  );
}

/** The job as it was before a log taught anything about it. */
export function beforeLogs(job: Job): Job {
  if (job.fitted.length === 0) return job;
  const inputs = jobInputs(job);
  const back = job.fitted.reduce((moved, { name, middle }) => {
    const input = inputs.find((one) => one.name === name);
    return input?.at(moved, -middle) ?? moved;
  }, job);
  return { ...back, fitted: [] };
}

/** Members of a sweep: each is found by its number alone, so that it is the same whoever works it out, and when. */
import type { NumberKind } from "../../lib/answers/kinds.ts";
import { sobolSequence } from "../../lib/confidence/sobol-sequence.ts";
import { checkJob } from "../../lib/job/job.ts";
import { withSetting } from "../../lib/job/with-setting.ts";
import { InputError } from "../../lib/units/problem.ts";
import { jsonOf, jsonUnit } from "../messages/json.ts";
import { type Askable, askable, type QuestionName } from "./askable.ts";
import { settingAt, type Varied, valueAt } from "./varied.ts";

/** All that a worker needs: plain data. */
export interface Sweep {
  readonly question: QuestionName;
  readonly raw: Record<string, unknown>;
  readonly varied: readonly Varied[];
  readonly quick: boolean;
  /** Keys of the answer that make columns. */
  readonly keys: readonly string[];
}

export interface AnswerFigure {
  readonly key: string;
  readonly unit: string;
  /** What the number is, where its question tells. */
  readonly kind?: NumberKind;
  /** "never" or "no limit" where there is no end, null: none. */
  readonly value: number | string | null;
}

/** The figures of an answer that stand on their own: not those in its lists and tables. */
function figuresOf(
  { question: name, quick }: Pick<Sweep, "question" | "quick">,
  raw: Record<string, unknown>,
): AnswerFigure[] {
  const question: Askable = askable[name];
  const { answer } = question.run(checkJob(raw).job, { quick, likelyOnly: true });
  const shown = jsonOf(answer, question.kinds) as Record<string, unknown>;
  return Object.entries(shown).flatMap(([key, figure]): AnswerFigure[] => {
    const isFigure = (x: unknown): x is number | string | null =>
      typeof x === "number" || typeof x === "string" || x === null;
    const kind = question.kinds[key];
    const told = kind && { kind };
    if (isEnd(figure) || typeof figure === "number")
      return [{ key, unit: unitOf(kind), ...told, value: figure }];
    if (typeof figure !== "object" || figure === null || !("unit" in figure)) return [];
    if (!("value" in figure) || !isFigure(figure.value)) return [];
    return [{ key, unit: shownUnit(String(figure.unit)), ...told, value: figure.value }];
  });
}

const isEnd = (x: unknown): x is string => x === "never" || x === "no limit";
const shownUnit = (unit: string) => (unit === "1" ? "" : unit);
const unitOf = (kind: NumberKind | undefined) =>
  kind === undefined ? "" : shownUnit(jsonUnit(kind));
const titled = (name: string, unit: string) => (unit === "" ? name : `${name} (${unit})`);

/** The columns of a sweep, by the answer to the job as it stands. @throws InputError when the job is wrong */
export function columnsOf(sweep: Omit<Sweep, "keys">): {
  figures: readonly AnswerFigure[];
  keys: string[];
  header: string;
} {
  const figures = figuresOf(sweep, sweep.raw);
  const header = [
    "member",
    ...sweep.varied.map(({ path, unit }) => titled(path, unit)),
    ...figures.map(({ key, unit }) => titled(key, unit)),
    "refused",
  ].join(",");
  return { figures, keys: figures.map(({ key }) => key), header };
}

/** One line of the file, without its end. */
function lineOf(sweep: Sweep, point: (n: number) => Float64Array, member: number): string {
  const shares = point(member);
  const values = sweep.varied.map((one, i) => valueAt(one, shares[i]!));
  const start = [member + 1, ...values];
  try {
    const raw = sweep.varied.reduce(
      (job, one, i) => withSetting(job, one.path, settingAt(one, values[i]!)),
      sweep.raw,
    );
    const figures = new Map(figuresOf(sweep, raw).map(({ key, value }) => [key, value]));
    const shown = sweep.keys.map((key) => {
      const value = figures.get(key);
      return typeof value === "number" ? Number(value.toPrecision(8)) : (value ?? "");
    });
    return [...start, ...shown, ""].join(",");
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const why = error.problems.map(({ path, code }) => `${path} ${code}`.trim()).join("; ");
    return [...start, ...sweep.keys.map(() => ""), why.replaceAll(",", ";")].join(",");
  }
}

/** Lines of members `from` up to `to`, each with its end. */
export function linesOf(sweep: Sweep, from: number, to: number): string {
  const sequence = sobolSequence(sweep.varied.length);
  let text = "";
  for (let member = from; member < to; member++)
    text += `${lineOf(sweep, (n) => sequence.point(n), member)}\n`;
  return text;
}

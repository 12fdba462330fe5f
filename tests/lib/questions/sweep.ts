/** One key of a job moved in fine steps, and what its answers do meanwhile: numbers that jump without a word. */
import type { KindByKey } from "../../../lib/answers/kinds.ts";
import { checkJob } from "../../../lib/job/job.ts";
import { withSetting } from "../../../lib/job/with-setting.ts";
import type { Kind } from "../../../lib/units/kinds.ts";
import { kinds } from "../../../lib/units/kinds.ts";
import { InputError } from "../../../lib/units/problem.ts";
import { isProblem, readQuantity } from "../../../lib/units/quantity.ts";
import type { Question } from "../../../src/cli/questions.ts";
import { jsonOf } from "../../../src/messages/json.ts";
import { type Leaf, leaves } from "../job/leaves.ts";

/** Steps to either side, and how far one goes: a share of the value, or kelvin. */
const STEPS = 3;
const SHARE = 0.004;
const KELVIN = 0.25;

export interface Jump {
  /** Path of the number within the answer. */
  readonly number: string;
  readonly between: readonly [string, string];
  readonly values: readonly number[];
}

/** What is drawn, and what the work took: no statement of the answer. */
const DRAWN =
  /^(course|courseOpen|courseClosed|curve|curves|hardening|picture|points|views|effort|cycles|shares|difference)$/;

interface Told {
  readonly numbers: ReadonlyMap<string, { value: number; unit: string; width: number }>;
  /** Everything that is no number: what decides, what is warned of, how many rows. */
  readonly words: string;
}

interface Range {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly unit: string;
}

const isRange = (x: object): x is Range => "value" in x && "low" in x && "high" in x && "unit" in x;

/** Numbers of an answer by their path, rows of a table by their name or code, and the words around them. */
function told(answer: unknown, kindOf: (key: string) => string): Told {
  const numbers = new Map<string, { value: number; unit: string; width: number }>();
  const words: string[] = [];
  const walkRange = ({ value, low, high, unit }: Range, path: string): void => {
    // one end that is never leaves the other side of the range
    const ends = [value, low, high].filter((v) => typeof v === "number");
    const width = Math.max(...ends) - Math.min(...ends);
    for (const [end, v] of Object.entries({ value, low, high }))
      if (typeof v !== "number") words.push(`${path}.${end}=never`);
      else numbers.set(`${path}.${end}`, { value: v, unit, width: end === "value" ? 0 : width });
  };
  const walk = (x: unknown, path: string, key: string): void => {
    if (typeof x === "number") numbers.set(path, { value: x, unit: kindOf(key), width: 0 });
    else if (typeof x !== "object" || x === null) words.push(`${path}=${String(x)}`);
    else if (Array.isArray(x)) {
      words.push(`${path}#${x.length}`);
      x.forEach((item, i) => {
        const { name, code } = (item ?? {}) as { name?: unknown; code?: unknown };
        walk(item, `${path}[${String(name ?? code ?? i)}]`, key);
      });
    } else if (isRange(x)) walkRange(x, path);
    else
      for (const [name, item] of Object.entries(x))
        if (!DRAWN.test(name)) walk(item, path === "" ? name : `${path}.${name}`, name);
  };
  walk(answer, "", "");
  return { numbers, words: words.sort().join("\n") };
}

/** Value of a key as the job has it, in SI; undefined: it has none. */
function valueIn(raw: unknown, { path, meta }: Leaf): number | undefined {
  let at: unknown = raw;
  for (const part of path.split(/[.[\]]+/).filter(Boolean)) {
    if (typeof at !== "object" || at === null) at = undefined;
    else at = (at as Record<string, unknown>)[part];
  }
  const { kind, initial, follows } = meta;
  // a plate or a weight that the job does not have
  if (at === undefined && path.includes("[")) return undefined;
  if (at === undefined && follows) {
    const leader = leaves.find((leaf) => leaf.path === follows);
    return leader && valueIn(raw, leader);
  }
  const given = at ?? initial;
  if (given === undefined || kind === undefined || !(kind in kinds)) return undefined;
  const read = readQuantity(String(given), kind as Kind);
  return isProblem(read) ? undefined : read.value;
}

function typed(si: number, kind: Kind): string {
  return kind === "temperature" ? `${si - 273.15} degC` : `${si} ${kinds[kind].si}`;
}

/** Values of a key around the one that the job has, as they are typed; empty: it has none, or 0. */
export function around(raw: unknown, leaf: Leaf): string[] {
  const value = valueIn(raw, leaf);
  const kind = leaf.meta.kind as Kind;
  if (value === undefined || !(Math.abs(value) > 0)) return [];
  const step = kind === "temperature" ? KELVIN : SHARE * value;
  return Array.from({ length: 2 * STEPS + 1 }, (_, i) => typed(value + (i - STEPS) * step, kind));
}

/** A change that is no jump: of times and lengths this share, of temperatures so many kelvin, of ranges a share of their width. */
const EVEN_SHARE = 0.004;
const EVEN_KELVIN = 0.3;
const EVEN_WIDTH = 0.06;
/** Shares of a variance are known to so much: a few dozen members tell them. */
const EVEN_OF_VARIANCE = 0.04;
/** Of shares, and of counts of whole things. */
const EVEN_RATIO = 0.005;
const EVEN_COUNT = 3;
/** Baits of an evening are whole, and as many as a mold has cavities. */
const EVEN_WHOLE = 2;
/** Less of anything in SI is none. */
const NOTHING = 1e-9;
const EVEN_OF: Readonly<Record<string, number>> = {
  ratio: EVEN_RATIO,
  "1": EVEN_RATIO,
  count: EVEN_COUNT,
};
/** Searched on a coarser grid than the answer, as they say; and what hangs on the ends of a range, which a few dozen members tell. */
const COARSER: readonly (readonly [RegExp, number])[] = [
  [/alternatives.*peakTime/, 0.03],
  [/whatIf|levers|alternatives/, 0.012],
  [/injectAt|startClosing|remelt|joint/, 0.025],
  [/cliff/, 0.025],
  // depths that one look at the cut across the box shows to a percent
  [/heatDepth|recommendedDepth|byRoom|deepestSinglePour/, 0.012],
  // the temperature is flat where it is highest
  [/where/, 0.04],
];
/** Where a pour runs away a cell more or less makes this much of its peak, K. */
const EVEN_KELVIN_OF_CLIFF = 2.5;
/** Steeper than this many times its neighbors' steps, of those that no named event parts from it. */
const STEEPER = 4;
/** Nor than this many times the step before or after it in the same direction: what runs away grows as a ratio does. */
const BENDS = 2.5;

/** Numbers of the quick look, or of the full answer, that move from one value to the next by far more than before and after, while the words stay. */
export function jumpsOver(
  raw: unknown,
  { path }: Leaf,
  values: readonly string[],
  question: Question,
  quick = true,
): Jump[] {
  const answers: Told[] = [];
  const kindOf = (kinds: KindByKey) => (key: string) => String(kinds[key] ?? "");
  for (const value of values) {
    try {
      const { job } = checkJob(withSetting(raw, path, value));
      const { answer, cautions } = question.run(job, { quick });
      const json = jsonOf({ answer, cautions }, question.kinds) as object;
      answers.push(told(json, kindOf(question.kinds)));
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      return []; // past an end of its range, or not with the others
    }
  }
  const found: Jump[] = [];
  // steps between answers of the same words belong together
  const stretch: number[] = [];
  answers.slice(1).forEach(({ words }, i) => {
    const goesOn = i > 0 && words === answers[i].words && answers[i - 1].words === words;
    stretch.push(goesOn ? stretch[i - 1] : i);
  });
  for (const number of answers[0].numbers.keys()) {
    const row = answers.map(({ numbers }) => numbers.get(number));
    if (row.some((x) => x === undefined)) continue;
    const known = row as { value: number; unit: string; width: number }[];
    const v = known.map(({ value }) => value);
    const steps = v.slice(1).map((b, i) => b - v[i]);
    const [{ unit }] = known;
    const width = Math.max(...known.map((k) => k.width));
    const hot =
      unit === "degC" || unit === "temperature" || unit === "temperatureDifference" || unit === "K";
    const scale = Math.max(...v.map(Math.abs));
    const whole = unit === "1" && v.every(Number.isInteger);
    const part = /cause|causes/.test(number)
      ? EVEN_OF_VARIANCE
      : whole
        ? EVEN_WHOLE
        : (EVEN_OF[unit] ?? NOTHING);
    const share = COARSER.find(([path]) => path.test(number))?.[1] ?? EVEN_SHARE;
    const kelvin = /cliff/.test(number) ? EVEN_KELVIN_OF_CLIFF : EVEN_KELVIN;
    const even = Math.max(hot ? kelvin : share * scale, EVEN_WIDTH * width, part);
    steps.forEach((step, i) => {
      if (answers[i].words !== answers[i + 1].words) return;
      const others = steps.filter((_, k) => k !== i && stretch[k] === stretch[i]).map(Math.abs);
      // one alone between two events has none to be steeper than
      if (others.length === 0) return;
      const usual = others.sort((a, b) => a - b)[Math.floor(others.length / 2)];
      const beside = [i - 1, i + 1].filter((k) => stretch[k] === stretch[i] && steps[k] * step > 0);
      const bent = Math.max(0, ...beside.map((k) => Math.abs(steps[k])));
      if (Math.abs(step) <= Math.max(STEEPER * usual, BENDS * bent) + even) return;
      found.push({ number, between: [values[i], values[i + 1]], values: v });
    });
  }
  return found;
}

import type { RateSpec } from "../cure/rate-form.ts";
import { makeTabulatedRateLaw } from "../cure/tabulated.ts";
import { checkHeatProblem } from "../heat/check.ts";
import type {
  Boundary,
  Effort,
  HeatProblem,
  OverTime,
  Probe,
  Progress,
  Shape,
  Side,
  Snapshot,
  Stage,
} from "../heat/problem.ts";
import { simulate } from "../heat/simulate.ts";
import type { Material, PropertyLaw } from "../materials/material.ts";
import type { Outline } from "../shape/outline.ts";
import { ZERO_CELSIUS } from "../units/constants.ts";
import { compileExpression } from "../units/expression.ts";
import { InputError, type Problem, tried } from "../units/problem.ts";
import { formOf } from "./form.ts";
import { notesOn } from "./notes.ts";
import type { SolveInput } from "./schema.ts";

/** What the bare engine answers; temperatures in degC, as its problem file has them. */
export interface SolveAnswer {
  readonly question: "solve";
  readonly times: readonly number[];
  /** degC at each of `times`; null while the probe's place is empty space. */
  readonly probes: Readonly<Record<string, readonly (number | null)[]>>;
  readonly crossings: readonly {
    readonly probe: string;
    readonly below?: number;
    readonly above?: number;
    readonly time: number | null;
    readonly error: number;
  }[];
  readonly extremes: Readonly<
    /** `time` is that of the maximum; null when the probe's place was empty space all the time. */
    Record<string, { max: number; time: number; min: number; minTime: number } | null>
  >;
  /** Of a problem with `until: "steady"`: degC of each probe, and W into the body through each side (slab: for 1 m2; cylinder and section: for 1 m). */
  readonly steady?: {
    readonly probes: Readonly<Record<string, number>>;
    readonly flows: Readonly<Record<Side, number>>;
  };
  readonly cure: Readonly<Record<string, readonly number[]>>;
  readonly stageEnds: readonly number[];
  readonly snapshots: readonly Snapshot[];
  /** What a person must know about the answer, in plain sentences: that the tolerance was not reached, and why. */
  readonly notes: readonly string[];
  readonly effort: Effort;
}

/** What a run is told and tells. */
export interface SolveOptions {
  /** Asked now and then; true ends the run. */
  readonly shouldStop?: () => boolean;
  /** Told after each step how far the run of a grid is. */
  readonly follow?: (progress: Progress) => void;
  /** 3: a third grid where it is no great work, so that errors said are near the true ones: see `HeatProblem`. */
  readonly grids?: 2 | 3;
}

/**
 * Solves a bare heat problem given as plain data: SI numbers, temperatures in degC.
 *
 * @param input the parsed problem file, see `solveSchema`
 * @param options how to stop it, and whom to tell how far it is
 * @returns probes in degC at `times`, crossings, extremes, cure, effort
 * @throws InputError with every problem at once, or when it needs more cells or steps than `mostCells` and `mostSteps` allow
 * @example solve({ frame: "slab", materials: { m: { conductivity: 1, density: 1000, specificHeat: 1000 } }, layers:
 * [{ name:
 * "a", material: "m", thickness: 0.01, initial: 20 }], boundary: { left: { temperature: 80 } }, until: 1e4, probes: { a: "a" }, times: [1e4] }).probes["a"][0] // 80.0
 */
export function solve(input: unknown, options: SolveOptions = {}): SolveAnswer {
  const problem = readSolveProblem(input);
  const history = simulate({ ...problem, ...options });
  const each = <A, B>(
    record: Readonly<Record<string, A>>,
    f: (a: A, name: string) => B,
  ): Record<string, B> => Object.fromEntries(Object.entries(record).map(([k, v]) => [k, f(v, k)]));
  return {
    question: "solve",
    times: Array.from(history.times),
    probes: each(history.probes, (values, name) =>
      Array.from(values, (T, k) => (history.holds[name][k] === 1 ? T - ZERO_CELSIUS : null)),
    ),
    crossings: history.crossings.map(({ probe, time, error }, i) => {
      // the levels as they were typed, not through kelvin and back
      const { below, above } = (input as SolveInput).crossings?.[i] ?? {};
      return {
        probe,
        ...(below === undefined ? {} : { below }),
        ...(above === undefined ? {} : { above }),
        time,
        error,
      };
    }),
    extremes: each(history.extremes, ({ max, maxTime, min, minTime }) =>
      max === Number.NEGATIVE_INFINITY
        ? null
        : { max: max - ZERO_CELSIUS, time: maxTime, min: min - ZERO_CELSIUS, minTime },
    ),
    ...(history.flows && {
      steady: {
        probes: each(history.extremes, ({ max }) => max - ZERO_CELSIUS),
        flows: history.flows,
      },
    }),
    cure: each(history.cure, (c) => Array.from(c)),
    stageEnds: history.stageEnds,
    snapshots: history.snapshots,
    notes: notesOn(history.effort),
    effort: history.effort,
  };
}

/**
 * Reads a problem file into the engine's terms (K).
 *
 * @throws InputError with every problem of its form
 * @example readSolveProblem({ frame: "slab", materials: { m: { conductivity: 1, density: 1000, specificHeat: 1000 }
 * }, layers: [{ name: "plate", material: "m", thickness: 0.02, initial: 100 }], boundary: { left: { temperature: 0 },
 * right: { temperature: 0 } }, until: 100, times: [100], probes: { mid: [0.01] } }).layers[0].initial // 373.15
 */
export function readSolveProblem(input: unknown): HeatProblem {
  const { given, problems: ofForm, isOwn } = formOf(input);
  if (given === undefined) throw new InputError(ofForm);
  try {
    const problem = readGiven(given);
    if (ofForm.length === 0) return problem;
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError([...ofForm, ...error.problems.filter(isOwn)]);
  }
  throw new InputError(ofForm);
}

function readGiven(given: SolveInput): HeatProblem {
  const problems: Problem[] = [];
  const attempt = <A>(f: () => A, otherwise: A): A => tried(problems, f) ?? otherwise;
  const problem = translate(given, attempt);
  (given.shapes ?? []).forEach((s, i) => {
    const kinds = [s.ellipse, s.rectangle, s.polygon].filter((k) => k !== undefined).length;
    if (kinds !== 1)
      problems.push({
        code: "one_of",
        path: `shapes[${i}]`,
        given: kinds,
        possible: ["ellipse", "rectangle", "polygon"],
      });
  });
  const last = given.stages?.at(-1)?.until;
  // without an end there is nothing that times or stages could be held against
  if (last === undefined && given.until === undefined)
    throw new InputError([...problems, { code: "missing", path: "until" }]);
  if (typeof given.until === "number") {
    if (last === undefined && !(given.until > 0))
      problems.push({ code: "not_positive", path: "until", given: given.until });
    else if (given.until < (last ?? 0))
      problems.push({ code: "too_small", path: "until", given: given.until, least: `${last} s` });
  }
  const end = problem.stages.at(-1)?.until ?? 0;
  if (problem.steady !== true)
    given.times?.forEach((t, i) => {
      if (!(t >= 0 && t <= end * (1 + 1e-12)))
        problems.push({
          code: t >= 0 ? "too_big" : "too_small",
          path: `times[${i}]`,
          given: t,
          least: "0 s",
          most: `${end} s`,
        });
    });
  // what could not be translated has been named: no second complaint about the stand-in
  const named = new Set(problems.map(({ path }) => path));
  // of an end that is given alone a stage was made
  if (given.stages === undefined) named.add("stages[0].until");
  problems.push(...checkHeatProblem(problem).filter(({ path }) => !named.has(path)));
  if (problems.length > 0) throw new InputError(problems);
  return problem;
}

type Attempt = <A>(f: () => A, otherwise: A) => A;

function translate(given: SolveInput, attempt: Attempt): HeatProblem {
  const materials: Record<string, Material> = {};
  for (const [name, m] of Object.entries(given.materials))
    materials[name] = toMaterial(name, m, attempt);
  const steady = given.until === "steady";
  const stages: Stage[] = given.stages
    ? given.stages.map((s, i) => toStage(s, `stages[${i}]`, attempt))
    : [{ until: steady ? 1 : endOf(given) }];
  const last = stages[stages.length - 1];
  if (given.stages && last && endOf(given) > last.until) stages.push({ until: endOf(given) });
  return {
    frame: given.frame,
    materials,
    ...(given.layers
      ? { layers: given.layers.map((l) => defined({ ...l, initial: l.initial + ZERO_CELSIUS })) }
      : {}),
    ...(given.block
      ? { block: { ...given.block, initial: given.block.initial + ZERO_CELSIUS } }
      : {}),
    ...(given.shapes ? { shapes: given.shapes.map((s, i) => toShape(s, i, given.block)) } : {}),
    ...(given.contacts ? { contacts: given.contacts } : {}),
    ...(given.mirrors ? { mirrors: given.mirrors } : {}),
    ...(given.ends ? { ends: { ...given.ends, ambient: given.ends.ambient + ZERO_CELSIUS } } : {}),
    boundary: toBoundaries(given.boundary ?? {}, "boundary", attempt),
    stages,
    ...(steady ? { steady } : {}),
    ...(given.tolerance === undefined ? {} : { tolerance: given.tolerance }),
    ...(given.resolution === undefined ? {} : { resolution: given.resolution }),
    ...(given.mostCells === undefined ? {} : { mostCells: given.mostCells }),
    ...(given.mostSteps === undefined ? {} : { mostSteps: given.mostSteps }),
    probes: Object.fromEntries(Object.entries(given.probes).map(([k, p]) => [k, toProbe(p)])),
    times: given.times ?? [],
    crossings: (given.crossings ?? []).map((c) => ({ probe: c.probe, ...levels(c) })),
    snapshots: given.snapshots ?? [],
  };
}

/** The end that is given as a time, s; 0 where none is. */
const endOf = ({ until }: SolveInput): number => (typeof until === "number" ? until : 0);

/** The same without keys that hold undefined. */
function defined<A extends object>(value: A): { [K in keyof A]: Exclude<A[K], undefined> } {
  return Object.fromEntries(Object.entries(value).filter(([, v]) => v !== undefined)) as {
    [K in keyof A]: Exclude<A[K], undefined>;
  };
}

const levels = (c: { below?: number | undefined; above?: number | undefined }) => ({
  ...(c.below === undefined ? {} : { below: c.below + ZERO_CELSIUS }),
  ...(c.above === undefined ? {} : { above: c.above + ZERO_CELSIUS }),
});

type Law = number | [number, number][] | string;

/** The same text is the same function, so that its tables are made once. */
const expressions = new Map<string, (x: number) => number>();

function expression(text: string, variable: "T" | "t", path: string): (x: number) => number {
  const key = `${variable}:${text}`;
  const known = expressions.get(key);
  if (known) return known;
  const f = compileExpression(text, variable, path);
  const made = variable === "T" ? (T: number) => f(T - ZERO_CELSIUS) : f;
  if (expressions.size > 500) expressions.clear();
  expressions.set(key, made);
  return made;
}

function property(law: Law, path: string): PropertyLaw {
  if (typeof law === "number") return law;
  if (typeof law === "string") return expression(law, "T", path);
  return { T: law.map(([T]) => T + ZERO_CELSIUS), value: law.map(([, v]) => v) };
}

function overTime(law: Law, path: string, offset: number): OverTime {
  if (typeof law === "number") return law + offset;
  if (typeof law === "string") {
    const f = expression(law, "t", path);
    return offset === 0 ? f : (t) => f(t) + offset;
  }
  return { t: law.map(([t]) => t), value: law.map(([, v]) => v + offset) };
}

/** Materials of the same text are the same object: the engine's tables hang on it. */
const known = new Map<string, Material>();

function toMaterial(name: string, m: SolveInput["materials"][string], attempt: Attempt): Material {
  const key = JSON.stringify(m);
  const found = known.get(key);
  if (found) return found;
  const path = `materials.${name}`;
  let broken = false;
  const tried = (law: Law, at: string): PropertyLaw =>
    attempt(() => property(law, `${path}.${at}`), Number.NaN);
  const made: Material = {
    name,
    conductivity: tried(m.conductivity, "conductivity"),
    density: tried(m.density, "density"),
    specificHeat: tried(m.specificHeat, "specificHeat"),
    ...(m.source === undefined ? {} : { source: m.source }),
    ...(m.cure
      ? {
          cure: {
            law: attempt(() => rateLawOf(m.cure as Record<string, unknown>, `${path}.cure`), {
              evaluate: () => undefined,
            }),
            heat: m.cure.heat,
            initial: m.cure.initial ?? 0,
          },
        }
      : {}),
  };
  for (const law of [made.conductivity, made.density, made.specificHeat])
    if (typeof law === "number" && Number.isNaN(law)) broken = true;
  if (!broken) {
    if (known.size > 200) known.clear();
    known.set(key, made);
  }
  return made;
}

function rateLawOf(cure: Record<string, unknown>, path: string) {
  const { heat: _heat, initial: _initial, law, ...constants } = cure;
  const spec = { law: law === "nth" ? "nth-order" : law, ...constants };
  try {
    return makeTabulatedRateLaw(spec as RateSpec);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(error.problems.map((p) => ({ ...p, path: `${path}.${p.path}` })));
  }
}

type GivenBoundary = NonNullable<NonNullable<SolveInput["boundary"]>["left"]>;

function toBoundary(b: GivenBoundary, path: string, attempt: Attempt): Boundary {
  if (b === "insulated") return { kind: "insulated" };
  const law = (value: Law, at: string, offset: number): OverTime =>
    attempt(() => overTime(value, `${path}.${at}`, offset), Number.NaN);
  if ("temperature" in b)
    return { kind: "held", temperature: law(b.temperature, "temperature", ZERO_CELSIUS) };
  if ("flux" in b) return { kind: "flux", flux: law(b.flux, "flux", 0) };
  return {
    kind: "exchange",
    h: law(b.h, "h", 0),
    ambient: law(b.ambient, "ambient", ZERO_CELSIUS),
    ...(b.emissivity === undefined ? {} : { emissivity: b.emissivity }),
  };
}

function toBoundaries(
  given: NonNullable<SolveInput["boundary"]>,
  path: string,
  attempt: Attempt,
): Partial<Record<Side, Boundary>> {
  const out: Partial<Record<Side, Boundary>> = {};
  for (const side of ["left", "right", "top", "bottom"] as const) {
    const b = given[side];
    if (b !== undefined) out[side] = toBoundary(b, `${path}.${side}`, attempt);
  }
  return out;
}

function toStage(
  s: NonNullable<SolveInput["stages"]>[number],
  path: string,
  attempt: Attempt,
): Stage {
  return {
    until: s.until,
    ...(s.lasts === undefined ? {} : { lasts: s.lasts }),
    ...(s.stop ? { stop: { probe: s.stop.probe, ...levels(s.stop) } } : {}),
    ...(s.absent ? { absent: s.absent } : {}),
    ...(s.exposed === undefined
      ? {}
      : { exposed: toBoundary(s.exposed, `${path}.exposed`, attempt) }),
    ...(s.refill
      ? {
          refill: s.refill.map((r) => defined({ ...r, temperature: r.temperature + ZERO_CELSIUS })),
        }
      : {}),
    ...(s.boundary ? { boundary: toBoundaries(s.boundary, `${path}.boundary`, attempt) } : {}),
    ...(s.contact ? { contact: s.contact } : {}),
  };
}

function toShape(
  s: NonNullable<SolveInput["shapes"]>[number],
  i: number,
  block: SolveInput["block"],
): Shape {
  const center = s.center ?? [0, 0];
  const outline: Outline = s.ellipse
    ? { kind: "ellipse", axes: s.ellipse, center }
    : s.rectangle
      ? { kind: "rectangle", size: s.rectangle, center }
      : { kind: "polygon", points: s.polygon ?? [], ...(s.holes ? { holes: s.holes } : {}) };
  return {
    name: s.name ?? `shape ${i + 1}`,
    outline,
    // without a material of its own a shape is more of the block
    material: s.material ?? block?.material ?? "",
    initial: (s.initial ?? block?.initial ?? 20) + ZERO_CELSIUS,
    ...(s.contact === undefined ? {} : { contact: s.contact }),
  };
}

function toProbe(p: SolveInput["probes"][string]): Probe {
  if (typeof p === "string") return { kind: "mean", region: p };
  if (Array.isArray(p)) {
    const parts: readonly (number | "left" | "right")[] = p;
    const numbers = parts.filter((v): v is number => typeof v === "number");
    const side = parts.find((v): v is "left" | "right" => typeof v === "string");
    return {
      kind: "point",
      x: numbers[0],
      ...(numbers.length > 1 ? { y: numbers[1] } : {}),
      ...(side ? { side } : {}),
    };
  }
  if ("hottest" in p) return { kind: "hottest", region: p.hottest };
  if ("coldest" in p) return { kind: "coldest", region: p.coldest };
  return { kind: "face", region: p.face, neighbor: p.neighbor, of: p.of ?? "hottest" };
}

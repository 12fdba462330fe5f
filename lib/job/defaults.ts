/** Walks the job file beside its schema: fills in defaults, names unknown keys, refuses lists without end. */
import { z } from "zod";
import { findMaterial } from "../materials/catalog.ts";
import { nearest } from "../units/nearest.ts";
import type { Problem } from "../units/problem.ts";
import type { Quantity } from "../units/quantity.ts";
import { type FieldMeta, shown, TypedQuantity, typedQuantity } from "./fields.ts";

interface Filled {
  /** The file with every default typed in; unknown keys left out. */
  readonly raw: Record<string, unknown>;
  /** Paths that were left to their defaults. */
  readonly defaults: string[];
  readonly problems: Problem[];
  /** Every leaf that is there, with what is known of it. */
  readonly leaves: Leaf[];
  /** Paths that took over the value of another: what is wrong with it is said there. */
  readonly followers: ReadonlySet<string>;
}

export interface Leaf {
  readonly path: string;
  readonly given: unknown;
  readonly meta: FieldMeta;
  /** What a quantity was read as. */
  readonly quantity?: Quantity | Problem;
}

type Schema = z.core.$ZodType;

function inner(schema: Schema): { schema: Schema; optional: boolean } {
  return schema instanceof z.ZodOptional
    ? { schema: schema.unwrap(), optional: true }
    : { schema, optional: false };
}

function metaOf(schema: Schema): FieldMeta | undefined {
  return (schema as z.ZodType).meta() as FieldMeta | undefined;
}

const isGroup = (x: unknown): x is Record<string, unknown> =>
  typeof x === "object" && x !== null && !Array.isArray(x);

/** What stands at a path of the raw file, or its default. */
function at(raw: unknown, path: string): unknown {
  return path
    .split(".")
    .reduce((x, key) => (isGroup(x) && Object.hasOwn(x, key) ? x[key] : undefined), raw);
}

/** How many items a list may have. */
function lengthsOf(list: z.ZodArray): { minimum?: number; maximum?: number } {
  return Object.assign({}, ...(list.def.checks ?? []).map((check) => check._zod.def)) as {
    minimum?: number;
    maximum?: number;
  };
}

/** A leaf that takes over the value of another. */
interface Follower {
  readonly path: string;
  readonly from: string;
  readonly meta: FieldMeta;
  put(value: unknown): void;
}

/** What gathers while the file is walked. */
interface Walk {
  readonly defaults: string[];
  readonly problems: Problem[];
  readonly leaves: Leaf[];
  readonly followers: Follower[];
}

/** Where a value stands: its path, and the filled group that it becomes a key of. */
interface Place {
  readonly path: string;
  readonly parent: Record<string, unknown>;
  readonly key: string;
}

/** The file with every default typed in, and what is wrong with its keys. */
export function fillDefaults(schema: z.ZodObject, file: Record<string, unknown>): Filled {
  const walk: Walk = { defaults: [], problems: [], leaves: [], followers: [] };
  const raw = fillGroup(walk, schema, file, "");
  // in the order of the file: a follower may be followed in turn
  for (const { path, from, put, meta } of walk.followers) {
    const followed = at(raw, from);
    const value = fits(raw, followed, meta) ? followed : meta.initial;
    put(value);
    if (value !== undefined) note(walk, path, value, meta);
  }
  const { defaults, problems, leaves } = walk;
  const followers = new Set(walk.followers.map(({ path }) => path));
  return { raw, defaults, problems, leaves, followers };
}

/** Whether what is followed may stand there: a material that can't has the default beside it. */
function fits(
  raw: Record<string, unknown>,
  followed: unknown,
  { initial, families }: FieldMeta,
): boolean {
  if (initial === undefined || families === undefined) return true;
  const family = familyOf(raw, followed);
  return family !== undefined && families.includes(family);
}

/** Family of a material of the catalog, or of the one that a job's own is like. */
function familyOf(raw: Record<string, unknown>, name: unknown): string | undefined {
  const own: readonly unknown[] = Array.isArray(raw["materials"]) ? raw["materials"] : [];
  let sought = name;
  // each is like one before it, or of the catalog
  for (const one of [...own].reverse())
    if (isGroup(one) && one["name"] === sought) sought = one["like"];
  return typeof sought === "string" ? findMaterial(sought)?.family : undefined;
}

/** Notes a leaf; a quantity is read here, once, and goes on with what it was read as. */
function note({ leaves }: Walk, path: string, given: unknown, meta: FieldMeta): unknown {
  const value = given instanceof TypedQuantity ? given : typedQuantity(given, meta);
  if (value instanceof TypedQuantity)
    leaves.push({ path, given: value.text, meta, quantity: value.read });
  else leaves.push({ path, given: value, meta });
  return value;
}

function fillGroup(
  walk: Walk,
  group: z.ZodObject,
  given: unknown,
  path: string,
): Record<string, unknown> {
  const filled: Record<string, unknown> = {};
  const known = Object.keys(group.shape);
  if (given !== undefined && given !== null && !isGroup(given)) {
    walk.problems.push({ code: "not_a_group", path, given: shown(given), possible: known });
    return filled;
  }
  const raw = given ?? {};
  for (const key of Object.keys(raw))
    if (!Object.hasOwn(group.shape, key))
      walk.problems.push(keyProblem(key, path, known, walk.problems.length));
  for (const key of known) {
    const value = Object.hasOwn(raw, key) ? raw[key] : undefined;
    const place = { path: path === "" ? key : `${path}.${key}`, parent: filled, key };
    const result = fill(walk, group.shape[key]!, value, place);
    if (result !== undefined) filled[key] = result;
  }
  return filled;
}

/** Unknown keys up to which it is looked up what was meant: who has more has another kind of file. */
const MOST_MEANT = 40;

function keyProblem(key: string, path: string, known: readonly string[], before: number): Problem {
  // { wall: 0,5 mm } reads as wall: 0 and a key "5 mm"
  if (/^\d/.test(key))
    return {
      code: "comma_in_braces",
      path: path === "" ? "file" : path,
      given: key.slice(0, 60),
    };
  const suggestion = before < MOST_MEANT ? nearest(key, known) : undefined;
  return {
    code: "unknown_key",
    path: path === "" ? key.slice(0, 60) : `${path}.${key.slice(0, 60)}`,
    possible: known,
    ...(suggestion !== undefined && { suggestion }),
  };
}

function fill(walk: Walk, outer: Schema, given: unknown, place: Place): unknown {
  const { schema, optional } = inner(outer);
  const absent = given === undefined || given === null;
  if (schema instanceof z.ZodObject)
    return optional && absent ? undefined : fillGroup(walk, schema, given, place.path);
  if (schema instanceof z.ZodArray)
    return absent ? undefined : fillList(walk, schema, given, place.path);
  if (schema instanceof z.ZodTuple) return fillPair(walk, schema, given, place.path);
  const meta = metaOf(schema);
  if (meta === undefined) throw new Error(`a leaf without label: ${place.path}`);
  return absent ? missingLeaf(walk, given, meta, place) : note(walk, place.path, given, meta);
}

/** What stands where nothing was typed: the default, later what it follows, or nothing. */
function missingLeaf(
  walk: Walk,
  given: undefined | null,
  meta: FieldMeta,
  { path, parent, key }: Place,
): unknown {
  const { initial, follows, required, least, most } = meta;
  if (given === null)
    walk.problems.push({
      code: "empty",
      path,
      ...(initial !== undefined && { suggestion: String(initial) }),
    });
  else if (required)
    walk.problems.push({
      code: "missing",
      path,
      ...(least !== undefined && { least }),
      ...(most !== undefined && { most }),
    });
  if (follows === undefined && initial === undefined) return undefined;
  if (given === undefined) walk.defaults.push(path);
  if (follows === undefined) return note(walk, path, initial, meta);
  walk.followers.push({
    path,
    from: follows,
    meta,
    put: (value) => {
      parent[key] = value;
    },
  });
  return undefined;
}

function fillPair(walk: Walk, { def }: z.ZodTuple, given: unknown, path: string): unknown {
  const { items } = def;
  if (Array.isArray(given) && given.length === items.length)
    return given.map((item, i) => fillItem(walk, items[i]!, item, `${path}[${i}]`));
  walk.problems.push({
    code: "not_a_pair",
    path,
    given: shown(given),
    possible: ["[0 mm, 8 mm]"],
  });
  return undefined;
}

function fillList(walk: Walk, list: z.ZodArray, given: unknown, path: string): unknown[] {
  const { problems } = walk;
  if (!Array.isArray(given)) {
    problems.push({ code: "not_a_list", path, given: shown(given) });
    return [];
  }
  const { minimum, maximum } = lengthsOf(list);
  const range = {
    least: String(minimum ?? 0),
    ...(maximum !== undefined && { most: String(maximum) }),
  };
  if (given.length > (maximum ?? Number.POSITIVE_INFINITY)) {
    problems.push({ code: "too_many", path, given: given.length, ...range });
    return [];
  }
  if (given.length < (minimum ?? 0))
    problems.push({ code: "too_few", path, given: given.length, ...range });
  return given.map((item, i) => fillItem(walk, list.element, item, `${path}[${i}]`));
}

function fillItem(walk: Walk, schema: Schema, item: unknown, path: string): unknown {
  return fill(walk, schema, item, { path, parent: {}, key: "" });
}

/** Walks the job file beside its schema: fills in defaults, names unknown keys, refuses lists without end. */
import { z } from "zod";
import { nearest } from "../units/nearest.ts";
import type { Problem } from "../units/problem.ts";
import { type FieldMeta, shown } from "./fields.ts";

export interface Filled {
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

/** The file with every default typed in, and what is wrong with its keys. */
export function fillDefaults(schema: z.ZodObject, file: Record<string, unknown>): Filled {
  const defaults: string[] = [];
  const problems: Problem[] = [];
  const leaves: Leaf[] = [];
  const follows: { path: string; from: string; put: (value: unknown) => void; meta: FieldMeta }[] =
    [];

  function fillGroup(group: z.ZodObject, given: unknown, path: string): Record<string, unknown> {
    const filled: Record<string, unknown> = {};
    if (given !== undefined && given !== null && !isGroup(given)) {
      problems.push({
        code: "not_a_group",
        path,
        given: shown(given),
        possible: Object.keys(group.shape),
      });
      return filled;
    }
    const raw = given ?? {};
    const known = Object.keys(group.shape);
    for (const key of Object.keys(raw)) {
      if (Object.hasOwn(group.shape, key)) continue;
      if (/^\d/.test(key)) {
        // { wall: 0,5 mm } reads as wall: 0 and a key "5 mm"
        problems.push({
          code: "comma_in_braces",
          path: path === "" ? "file" : path,
          given: key.slice(0, 60),
        });
        continue;
      }
      const suggestion = nearest(key, known);
      problems.push({
        code: "unknown_key",
        path: path === "" ? key.slice(0, 60) : `${path}.${key.slice(0, 60)}`,
        possible: known,
        ...(suggestion !== undefined && { suggestion }),
      });
    }
    for (const key of known) {
      const value = Object.hasOwn(raw, key) ? raw[key] : undefined;
      const result = fill(
        group.shape[key]!,
        value,
        path === "" ? key : `${path}.${key}`,
        filled,
        key,
      );
      if (result !== undefined) filled[key] = result;
    }
    return filled;
  }

  function fill(
    outer: Schema,
    given: unknown,
    path: string,
    parent: Record<string, unknown>,
    key: string,
  ): unknown {
    const { schema: own, optional } = inner(outer);
    if (own instanceof z.ZodObject)
      return optional && (given === undefined || given === null)
        ? undefined
        : fillGroup(own, given, path);
    if (own instanceof z.ZodArray) {
      if (given === undefined || given === null) return undefined;
      return fillList(own, given, path);
    }
    if (own instanceof z.ZodTuple) {
      const items = own.def.items;
      if (!Array.isArray(given) || given.length !== items.length) {
        problems.push({
          code: "not_a_pair",
          path,
          given: shown(given),
          possible: ["[0 mm, 8 mm]"],
        });
        return undefined;
      }
      return given.map((item, i) => fill(items[i]!, item, `${path}[${i}]`, {}, ""));
    }
    const meta = metaOf(own);
    if (meta === undefined) throw new Error(`a leaf without label: ${path}`);
    if (given === undefined || given === null) {
      if (given === null)
        problems.push({
          code: "empty",
          path,
          ...(meta.initial !== undefined && { suggestion: String(meta.initial) }),
        });
      else if (meta.required) problems.push({ code: "missing", path });
      if (meta.follows !== undefined) {
        if (given === undefined) defaults.push(path);
        follows.push({
          path,
          from: meta.follows,
          meta,
          put: (value) => {
            parent[key] = value;
          },
        });
        return undefined;
      }
      if (meta.initial === undefined) return undefined;
      if (given === undefined) defaults.push(path);
      leaves.push({ path, given: meta.initial, meta });
      return meta.initial;
    }
    leaves.push({ path, given, meta });
    return given;
  }

  function fillList(list: z.ZodArray, given: unknown, path: string): unknown[] {
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
    return given.map((item, i) => fill(list.element, item, `${path}[${i}]`, {}, ""));
  }

  const raw = fillGroup(schema, file, "");
  // in the order of the file: a follower may be followed in turn
  for (const { path, from, put, meta } of follows) {
    const value = at(raw, from);
    put(value);
    if (value !== undefined) leaves.push({ path, given: value, meta });
  }
  return { raw, defaults, problems, leaves, followers: new Set(follows.map(({ path }) => path)) };
}

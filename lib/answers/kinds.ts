/**
 * What the bare numbers of an answer are. A number that says nothing of itself has its kind in a table beside the
 * answer's type, by its key; the table does not compile while a key is missing.
 */
import type { MaterialEntry } from "../materials/entry.ts";
import type { Kind } from "../units/kinds.ts";
import type { Lever, Quantified } from "./answer.ts";

/** A kind, or a number that is shown as it is: counts, and numbers without a dimension that are no share. */
export type NumberKind = Kind | "count";

/** What says itself what it is, or is looked up by its name. */
type Told = Quantified | Lever | MaterialEntry | string | boolean | null | undefined;

/** Keys, anywhere within, under which a number or a list of numbers stands. */
type NumberKey<T> = T extends Told
  ? never
  : T extends readonly (infer Item)[]
    ? NumberKey<Item>
    : T extends object
      ? {
          [K in keyof T & string as string extends K ? never : K]-?: Exclude<
            T[K],
            null | undefined
          > extends number | readonly number[] | Float64Array | Float32Array
            ? K
            : NumberKey<T[K]>;
        } extends infer Found
        ? Found[keyof Found]
        : never
      : never;

/** What the number under a key is, anywhere in an answer; `group.key` says it of that key within `group` alone. */
export type KindByKey = Readonly<Record<string, NumberKind>>;

/** The kinds of an answer: none of its keys may be missing. */
export type KindsOf<Content> = KindByKey & Readonly<Record<NumberKey<Content>, NumberKind>>;

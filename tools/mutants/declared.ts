/** What test files take from `vitest`, so that their tests are kept in a list instead of run. */
import { expect } from "vitest";

export { expect };

export interface Declared {
  readonly name: string;
  readonly file: string;
  readonly run: () => unknown;
}

type Body = (...given: never[]) => unknown;
type Declare = (name: string, a?: unknown, b?: unknown) => void;

export const declared: Declared[] = [];
let file = "";
/** How often a name stands in the file. */
const named = new Map<string, number>();
/** Of the groups around: what must have run before a test. */
let before: readonly (() => unknown)[] = [];
/** The outermost group that is under way: its body, and how many tests it has declared so far. */
let around: { readonly declare: () => void; count: number } | undefined;
/** Where tests go instead while a group is declared again. */
let again: Declared["run"][] | undefined;

const bodyOf = (a: unknown, b: unknown): Body => (typeof a === "function" ? a : b) as Body;

function add(name: string, body: Body, given: readonly unknown[]): void {
  const first = before;
  const run = async () => {
    for (const one of first) await one();
    await body(...(given as never[]));
  };
  if (again) {
    again.push(run);
    return;
  }
  const group = around;
  const index = group ? group.count++ : 0;
  const alike = named.get(name) ?? 0;
  named.set(name, alike + 1);
  declared.push({
    name: `${file} > ${name}${alike > 0 ? ` #${alike}` : ""}`,
    file,
    // what the tests of a group keep for each other is made anew
    run: group ? () => declaredAgain(group.declare)[index]!() : run,
  });
}

function declaredAgain(declare: () => void): readonly Declared["run"][] {
  again = [];
  try {
    declare();
    return again;
  } finally {
    again = undefined;
  }
}

const listOf = (one: unknown): readonly unknown[] => (Array.isArray(one) ? one : [one]);
const skipped = Object.assign((() => {}) as Declare, { each: () => () => {} });

const each = (cases: readonly unknown[]) => (name: string, a?: unknown, b?: unknown) => {
  for (const one of cases) add(name, bodyOf(a, b), listOf(one));
};

export const test = Object.assign(((name, a, b) => add(name, bodyOf(a, b), [])) as Declare, {
  each,
  skipIf: (yes: unknown) => (yes ? skipped : test),
  runIf: (yes: unknown) => (yes ? test : skipped),
});

function group(body: Body, given: readonly unknown[]): void {
  const outside = before;
  const declare = () => {
    body(...(given as never[]));
    before = outside;
  };
  const isOutermost = !around && !again;
  if (isOutermost) around = { declare, count: 0 };
  declare();
  if (isOutermost) around = undefined;
}

export const describe = Object.assign(((_name, a, b) => group(bodyOf(a, b), [])) as Declare, {
  each: (cases: readonly unknown[]) => (_name: string, a?: unknown, b?: unknown) => {
    for (const one of cases) group(bodyOf(a, b), listOf(one));
  },
  runIf: (yes: unknown) => (yes ? describe : () => {}),
  skipIf: (yes: unknown) => (yes ? () => {} : describe),
});

export const beforeAll = (first: () => unknown) => {
  before = [...before, first];
};

/** What is declared from now on is of this file. */
export function beginFile(path: string): void {
  file = path;
  before = [];
  named.clear();
}

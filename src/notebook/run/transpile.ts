/** TypeScript of a working to JavaScript, line by line the same. The compiler is loaded when first needed. */
import type { Options } from "sucrase";

type Transpiled = { readonly code: string } | { readonly problem: string; readonly line: number };

/** Types are taken out, nothing else changes. */
export const TRANSPILING: Options = {
  transforms: ["typescript"],
  disableESTransforms: true,
  production: true,
};

const MOST_KEPT = 300;
const kept = new Map<string, Transpiled>();

/** Workings that were transpiled when the site was built: for these no compiler is loaded. */
export function seedTranspiled(pairs: Readonly<Record<string, string>>): void {
  for (const [body, code] of Object.entries(pairs)) kept.set(body, { code });
}

let later: (() => Promise<Readonly<Record<string, string>>>) | undefined;

/** More of them, loaded when a working is met that is not among the first. */
export function seedLater(load: () => Promise<Readonly<Record<string, string>>>): void {
  later = load;
}

/** `line` of a problem counts from 1 in the body. */
export async function transpile(body: string): Promise<Transpiled> {
  if (!kept.has(body) && later !== undefined) {
    seedTranspiled(await later());
    later = undefined;
  }
  const before = kept.get(body);
  if (before !== undefined) return before;
  const { transform } = await import("sucrase");
  let made: Transpiled;
  try {
    const { code } = transform(body, TRANSPILING);
    made = { code };
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    const place = /\((\d+):\d+\)/.exec(message);
    made = {
      problem: message.replace(/^Error transforming [^:]*: /, "").replace(/\s*\(\d+:\d+\)$/, ""),
      line: place ? Number(place[1]) : 1,
    };
  }
  for (const oldest of kept.keys()) {
    if (kept.size < MOST_KEPT) break;
    kept.delete(oldest);
  }
  kept.set(body, made);
  return made;
}

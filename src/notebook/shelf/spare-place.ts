/** Where spare copies stand: in the browser's storage of plain texts, each under its name. */

/** What is needed of the browser's storage. Each of them may throw. */
export interface SparePlace {
  readonly length: number;
  key(index: number): string | null;
  getItem(key: string): string | null;
  setItem(key: string, text: string): void;
  removeItem(key: string): void;
}

const PREFIX = "castclock.spare.";

export const spareKey = (kind: string, name: string): string => `${PREFIX}${kind}:${name}`;

/** Keys of all copies; undefined where the storage can't be used at all. */
export function spareKeys(place: SparePlace): string[] | undefined {
  try {
    const keys = Array.from({ length: place.length }, (_, i) => place.key(i) ?? "");
    return keys.filter((key) => key.startsWith(PREFIX));
  } catch {
    return undefined;
  }
}

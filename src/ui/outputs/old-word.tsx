/** Why what is shown is old, in words; undefined when it is not. */
export type Old = string | undefined;

/** What is old says so: in words, not by color alone. */
export function OldWord({ old }: { old: Old }) {
  return old === undefined ? null : <span class="old-word">old: {old}</span>;
}

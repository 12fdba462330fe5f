/** While something newer is being worked out, what is shown says that it is old: in words, not by color alone. */
export function OldWord({ old }: { old: boolean }) {
  return old ? <span class="old-word">old: new one coming</span> : null;
}

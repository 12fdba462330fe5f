/**
 * A signal kept in this browser's storage, the same in every tab. Small things only: choices, timers, the log.
 * Storage may be full or switched off; then the value lasts for this visit, and `keptWell` says so.
 */
import { type Signal, signal } from "@preact/signals";

/** False once something could not be kept. */
export const keptWell = signal(true);

const PREFIX = "castclock.";

interface Kept<T> {
  readonly value: Signal<T>;
  /** Changes what is stored now, which another tab may have written a moment ago. */
  change(next: (stored: T) => T): void;
}

/** `read` turns the stored text (null: none) into a value and never throws; `write` is its inverse. */
export function kept<T>(
  key: string,
  read: (text: string | null) => T,
  write: (value: T) => string,
): Kept<T> {
  const name = PREFIX + key;
  const stored = () => {
    try {
      return localStorage.getItem(name);
    } catch {
      return null;
    }
  };
  const value = signal(read(stored()));
  addEventListener("storage", (e) => {
    if (e.key === name || e.key === null) value.value = read(stored());
  });
  return {
    value,
    change(next) {
      const changed = next(keptWell.value ? read(stored()) : value.value);
      value.value = changed;
      try {
        localStorage.setItem(name, write(changed));
      } catch {
        keptWell.value = false;
      }
    },
  };
}

/** A choice among a few words. */
export function keptWord<T extends string>(key: string, words: readonly T[], first: T): Kept<T> {
  return kept(
    key,
    (text) => words.find((w) => w === text) ?? first,
    (word) => word,
  );
}

import { kept } from "../reading/kept.ts";
import { type BenchTimer, readStored } from "./timer.ts";

const store = kept<(BenchTimer | null)[]>("timers", readStored, (timers) => JSON.stringify(timers));

/** The places on the bench, each with a running timer or none. */
export const timers = store.value;

/** Puts a timer into the first free place; false when all are taken. */
export function placeTimer(timer: BenchTimer): boolean {
  const place = timers.value.indexOf(null);
  if (place < 0) return false;
  changeTimer(place, () => timer);
  return true;
}

export function changeTimer(
  place: number,
  next: (stored: BenchTimer | null) => BenchTimer | null,
): void {
  store.change((all) => all.map((t, i) => (i === place ? next(t) : t)));
}

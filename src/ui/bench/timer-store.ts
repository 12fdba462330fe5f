import { kept } from "../reading/kept.ts";
import { type BenchTimer, readStored } from "./timer.ts";

const store = kept<(BenchTimer | null)[]>("timers", readStored, (timers) => JSON.stringify(timers));

/** Two places on the bench, each with a running timer or none. */
export const timers = store.value;

export function changeTimer(
  place: number,
  next: (stored: BenchTimer | null) => BenchTimer | null,
): void {
  store.change((all) => all.map((t, i) => (i === place ? next(t) : t)));
}

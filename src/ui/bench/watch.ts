/** Looks after running timers whatever sheet is open: rings at their marks, tells the time, keeps the screen on. */
import { effect, signal } from "@preact/signals";
import { holdScreen, isAudible, keepHold, letScreenSleep, ring } from "./alarm.ts";
import { dueMarks, withRung } from "./timer.ts";
import { changeTimer, timers } from "./timer-store.ts";

const TICK_MS = 200;

/** ms since the epoch; goes on while a timer runs. */
export const clock = signal(Date.now());

function tick(): void {
  const time = Date.now();
  timers.value.forEach((timer, place) => {
    if (!timer) return;
    const due = dueMarks(timer, time);
    if (due.length === 0) return;
    const last = timer.marks.indexOf(due.at(-1)!);
    ring(Math.min(2, last));
    const isHeard = isAudible();
    changeTimer(place, (t) => t && withRung(t, time, isHeard));
  });
  clock.value = time;
}

/** To be called once. */
export function watchTimers(): void {
  let ticking: ReturnType<typeof setInterval> | undefined;
  keepHold();
  document.addEventListener("visibilitychange", () => {
    if (ticking !== undefined) tick();
  });
  effect(() => {
    const isRunning = timers.value.some((timer) => timer !== null);
    if (isRunning === (ticking !== undefined)) return;
    if (isRunning) {
      ticking = setInterval(tick, TICK_MS);
      queueMicrotask(tick);
      void holdScreen();
    } else {
      clearInterval(ticking);
      ticking = undefined;
      letScreenSleep();
    }
  });
}

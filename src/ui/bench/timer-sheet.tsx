import { useEffect, useState } from "preact/hooks";
import {
  holdScreen,
  keepHold,
  letScreenSleep,
  readySound,
  ring,
  screenHeld,
  soundReady,
} from "./alarm.ts";
import { Running } from "./running.tsx";
import { Starting } from "./starting.tsx";
import { dueMarks, withRung } from "./timer.ts";
import { changeTimer, timers } from "./timer-store.ts";

const PLACES = ["Mold A", "Mold B"] as const;
const TICK_MS = 200;

export default function TimerSheet() {
  const [now, setNow] = useState(Date.now());
  useEffect(() => {
    const tick = () => {
      const time = Date.now();
      timers.value.forEach((timer, place) => {
        if (!timer) return;
        const due = dueMarks(timer, time);
        if (due.length === 0) return;
        const last = timer.marks.indexOf(due.at(-1)!);
        ring(Math.min(2, last));
        changeTimer(place, (t) => t && withRung(t, time));
      });
      setNow(time);
    };
    tick();
    const ticking = setInterval(tick, TICK_MS);
    document.addEventListener("visibilitychange", tick);
    const unhold = keepHold();
    return () => {
      clearInterval(ticking);
      document.removeEventListener("visibilitychange", tick);
      unhold();
    };
  }, []);

  const running = timers.value.some((t) => t !== null);
  useEffect(() => {
    if (running) void holdScreen();
    else letScreenSleep();
  }, [running]);

  return (
    <div class="timer-sheet">
      <h1 class={running ? "out-of-sight" : ""}>Timer</h1>
      <div class="places">
        {PLACES.map((place, i) => {
          const timer = timers.value[i];
          return timer ? (
            <Running key={place} timer={timer} place={i} now={now} />
          ) : (
            <Starting key={place} place={i} name={place} />
          );
        })}
      </div>
      <AlarmWords running={running} />
    </div>
  );
}

/** Says plainly what the alarm can and cannot do here. */
function AlarmWords({ running }: { running: boolean }) {
  const held = screenHeld.value;
  return (
    <p class="alarm-words">
      The count goes on whatever happens: reload, locked phone, empty battery.{" "}
      <b>The alarm rings only while this sheet is in front and the screen is on.</b>{" "}
      {running && held === true && "The screen is being kept on."}
      {running && held === false && (
        <strong class="error">
          This device does not let the sheet keep the screen on: keep it awake yourself, or set a
          second alarm.
        </strong>
      )}
      {running && soundReady.value !== true && (
        <>
          {" "}
          <button type="button" onClick={readySound}>
            Sound is off: tap to switch it on
          </button>
        </>
      )}
    </p>
  );
}

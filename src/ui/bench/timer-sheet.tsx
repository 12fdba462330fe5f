import { readySound, screenHeld, soundReady } from "./alarm.ts";
import { Running } from "./running.tsx";
import { Starting } from "./starting.tsx";
import { PLACES } from "./timer.ts";
import { timers } from "./timer-store.ts";
import { clock } from "./watch.ts";

/** Places that offer a start by themselves; the others are taken by answers of sheets. */
const OFFERED = 2;

export default function TimerSheet() {
  const now = clock.value;
  const running = timers.value.some((t) => t !== null);
  return (
    <div class="timer-sheet">
      <h1 class={running ? "out-of-sight" : ""}>Timer</h1>
      <div class="places">
        {PLACES.map((place, i) => {
          const timer = timers.value[i];
          if (timer) return <Running key={place} timer={timer} place={i} now={now} />;
          return i < OFFERED ? <Starting key={place} place={i} name={place} /> : null;
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
      <b>
        The alarm rings only while Castclock is in front, on any of its sheets, and the screen is
        on.
      </b>{" "}
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

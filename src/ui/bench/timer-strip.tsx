import { route } from "../frame/route.ts";
import { countdownText } from "../reading/clock.ts";
import { readTimer } from "./timer.ts";
import { timers } from "./timer-store.ts";
import { clock } from "./watch.ts";

/** Running timers on every sheet but their own: how long to what. */
export function TimerStrip() {
  const running = timers.value.filter((timer) => timer !== null);
  if (running.length === 0 || route.value.sheet === "timer") return null;
  const now = clock.value;
  return (
    <nav class="timer-strip no-print" aria-label="Running timers">
      {running.map((timer) => {
        const { left, next, past, elapsed } = readTimer(timer, now);
        return (
          <a
            class="button"
            href="#/timer"
            key={`${timer.name}${timer.startedAt}`}
            {...(past && { "data-due": "" })}
          >
            {/* in one piece: a button lays its parts out without the spaces between them */}
            <span>
              {timer.name} <b>{countdownText(left ?? elapsed)}</b>{" "}
              {next ? `to: ${next.word}` : `since the start: ${past?.word ?? ""}`}
            </span>
          </a>
        );
      })}
    </nav>
  );
}

import { clockWords, countdownText, spokenTime } from "../reading/clock.ts";
import { Correct } from "./correct.tsx";
import { Finish } from "./finish.tsx";
import { type BenchTimer, delayed, lateness, readTimer, type TimerKind } from "./timer.ts";
import { changeTimer } from "./timer-store.ts";

export function Running({ timer, place, now }: { timer: BenchTimer; place: number; now: number }) {
  const reading = readTimer(timer, now);
  const stage = reading.past ? timer.marks.indexOf(reading.past) + 1 : 0;
  const last = stage === timer.marks.length;
  const word = reading.past?.word ?? "Wait";
  return (
    <section
      class="place running"
      data-stage={last ? "last" : String(stage)}
      aria-label={timer.name}
    >
      <p class="place-name">
        {timer.name}
        <span class="soft">
          {" "}
          {timer.jobName}
          {KINDS[timer.kind](timer.shot)}
        </span>
      </p>
      <p class="stage-word" aria-live="assertive">
        {word}
      </p>
      <p class="countdown" role="timer" aria-label={spokenTime(reading.left ?? reading.elapsed)}>
        <Figures text={countdownText(reading.left ?? reading.elapsed)} />
      </p>
      <p class="countdown-of">
        {reading.next ? `to: ${reading.next.word}` : "since the start; all marks are past"}
      </p>
      <ol class="marks-list">
        {timer.marks.map((m) => {
          const late = lateness(timer, m);
          return (
            <li key={m.word} data-past={m.seconds <= reading.elapsed}>
              <span aria-hidden="true">{m.seconds <= reading.elapsed ? "\u25A0" : "\u25A1"}</span>{" "}
              <b>{clockWords(m.seconds)}</b> {m.word}
              {late === 0 && m.silent && <span class="error">shown without sound</span>}
              {late > 0 && (
                <span class="error">
                  {m.silent ? "shown without sound, " : "rang "}
                  {clockWords(late)} late: the screen was off or Castclock closed
                </span>
              )}
            </li>
          );
        })}
      </ol>
      <p class="small">Marks {timer.from}.</p>
      {timer.marks.length > A_PLAN && reading.next && (
        <button
          type="button"
          class="no-print"
          onClick={() => changeTimer(place, (t) => t && delayed(t, LATER, Date.now()))}
        >
          Late: all that is to come 1 min later
        </button>
      )}
      <Correct timer={timer} place={place} />
      <button type="button" class="no-print" onClick={(e) => fillScreen(e.currentTarget)}>
        Fill the screen
      </button>
      <Finish timer={timer} place={place} elapsed={reading.elapsed} />
    </section>
  );
}

/** More marks than one answer has: a plan that is followed. */
const A_PLAN = 4;
/** s */
const LATER = 60;

const KINDS: Readonly<Record<TimerKind, (shot: number) => string>> = {
  open: (shot) => `, shot ${shot}`,
  "second color": () => ", second color",
  answer: () => "",
};

/** The whole screen for one count, and back. */
function fillScreen(button: HTMLButtonElement): void {
  const place = button.closest(".running");
  if (document.fullscreenElement) void document.exitFullscreen();
  else void place?.requestFullscreen?.().catch(() => undefined); // not on this device
}

function Figures({ text }: { text: string }) {
  return (
    <>
      {[...text].map((sign, i) => (
        <span key={`${text.length - i}`} class={/\d/.test(sign) ? "" : "sign"}>
          {sign}
        </span>
      ))}
    </>
  );
}

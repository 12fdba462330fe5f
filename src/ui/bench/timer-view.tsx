import { useEffect, useState } from "preact/hooks";
import type { Range } from "../../../lib/confidence/range.ts";
import { ask } from "../asking/ask.ts";
import type { Answers, ColorWindow, Question, Reply, Settings } from "../asking/asked.ts";
import { job } from "../job/job-store.ts";
import { VERDICTS } from "../log/entries.ts";
import { addEntry } from "../log/log-store.ts";
import { clockWords, countdownText, spokenTime } from "../reading/clock.ts";
import { problemWords } from "../reading/problem-words.ts";
import {
  holdScreen,
  keepHold,
  letScreenSleep,
  readySound,
  ring,
  screenHeld,
  soundReady,
} from "./alarm.ts";
import {
  type BenchTimer,
  corrected,
  dueMarks,
  lateness,
  readTimer,
  startTimer,
  type TimerKind,
  type TimerMark,
  withRung,
} from "./timer.ts";
import { changeTimer, timers } from "./timer-store.ts";

function foretoldOf(answer: Answers["opening"] | Answers["window"]): Range | undefined {
  return answer === null || "close" in answer ? undefined : (answer.open ?? undefined);
}

type BenchReply = Reply<"opening"> | Reply<"window">;

const PLACES = ["Mold A", "Mold B"] as const;
const TICK_MS = 200;

/** Without a surely safe moment the likely ends of the window are all that can be timed, and are called so. */
function windowMarks({ open, close, startClosing, injectAt }: ColorWindow): TimerMark[] {
  if (injectAt === null || startClosing === null)
    return [
      { word: "Likely set: close at once", seconds: open.value },
      { word: "Likely too late: it will peel", seconds: close.value },
    ];
  return [
    { word: "Set: start closing", seconds: startClosing },
    { word: "Second color in", seconds: injectAt },
    { word: "Too late: it will peel", seconds: close.low },
  ];
}

/** The marks of an opening or of a window, from the library's answer. */
export function marksOf(
  kind: TimerKind,
  answer: Answers["opening"] | Answers["window"],
): TimerMark[] {
  if (answer === null) return [];
  if ("close" in answer) return kind === "second color" ? windowMarks(answer) : [];
  const { sprueCloses, open } = answer;
  if (open === null) return [];
  return [
    ...(sprueCloses ? [{ word: "Sprue closed: let go", seconds: sprueCloses.high }] : []),
    { word: "May open", seconds: open.value },
    { word: "Surely open", seconds: open.high },
  ];
}

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

function Starting({ place, name }: { place: number; name: string }) {
  const [label, setLabel] = useState(name);
  const [kind, setKind] = useState<TimerKind>("open");
  const [shot, setShot] = useState(1);
  const { reply, question } = useBenchAnswer(kind, shot, {});
  const marks = reply && "answer" in reply ? marksOf(kind, reply.answer) : undefined;
  const end = kind === "open" ? "Start: injector off" : "Start: first color is in";

  function start(): void {
    if (!marks) return;
    readySound();
    void holdScreen();
    const from = kind === "open" ? `shot ${shot} as worked out` : "as worked out";
    const foretold = reply && "answer" in reply ? foretoldOf(reply.answer) : undefined;
    const what = {
      name: label || name,
      kind,
      jobName: job.value.name,
      shot,
      from,
      ...(foretold && { foretold }),
    };
    changeTimer(place, () => startTimer(what, marks, Date.now()));
  }

  return (
    <section class="place" aria-label={label}>
      <div class="place-form">
        <label>
          <span class="dial-label">Name of this timer</span>
          <input value={label} maxLength={24} onInput={(e) => setLabel(e.currentTarget.value)} />
        </label>
        {/* biome-ignore lint/a11y/useSemanticElements: two buttons, not a form */}
        <div class="either" role="group" aria-label="What is timed">
          <button type="button" aria-pressed={kind === "open"} onClick={() => setKind("open")}>
            Opening
          </button>
          <button
            type="button"
            aria-pressed={kind === "second color"}
            onClick={() => setKind("second color")}
          >
            Second color
          </button>
        </div>
        {kind === "open" && <ShotStepper shot={shot} onChange={setShot} />}
      </div>
      <Foretold reply={reply} marks={marks} question={question} />
      <button
        type="button"
        class="strong start"
        disabled={!marks || marks.length === 0}
        onClick={start}
      >
        {end}
      </button>
    </section>
  );
}

function ShotStepper({ shot, onChange }: { shot: number; onChange: (shot: number) => void }) {
  return (
    // biome-ignore lint/a11y/useSemanticElements: a stepper, not a form
    <div class="stepper" role="group" aria-label="Shot number">
      <button
        type="button"
        class="step"
        aria-label="Shot before"
        onClick={() => onChange(Math.max(1, shot - 1))}
      >
        {"\u2212"}
      </button>
      <output class="stepper-figure">
        shot <b>{shot}</b>
      </output>
      <button
        type="button"
        class="step"
        aria-label="Next shot"
        onClick={() => onChange(Math.min(40, shot + 1))}
      >
        +
      </button>
    </div>
  );
}

function Foretold(props: {
  reply: BenchReply | undefined;
  marks: readonly TimerMark[] | undefined;
  question: string;
}) {
  const { reply, marks } = props;
  if (reply && "problems" in reply)
    return (
      <ul class="error-list">
        {reply.problems.map((p) => (
          <li class="error" key={p.path + p.code}>
            {problemWords(p)}
          </li>
        ))}
      </ul>
    );
  if (reply && "fault" in reply) return <p class="error">{reply.fault}</p>;
  if (!marks) return <p class="marks-space">Working it out {"\u2026"}</p>;
  if (marks.length === 0)
    return (
      <p class="error">
        There is nothing to time: with this job that moment never comes. Its sheet says why.
      </p>
    );
  const unsure =
    reply &&
    "answer" in reply &&
    reply.answer &&
    "close" in reply.answer &&
    reply.answer.injectAt === null;
  return (
    <>
      {unsure && (
        <p class="error">
          With what is not known of this job no moment is surely right. What would open the window
          is on the sheet about the second color.
        </p>
      )}
      <ol class="marks-list">
        {marks.map((m) => (
          <li key={m.word}>
            <b>{clockWords(m.seconds)}</b> {m.word}
          </li>
        ))}
      </ol>
    </>
  );
}

function Running({ timer, place, now }: { timer: BenchTimer; place: number; now: number }) {
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
          {timer.kind === "open" ? `, shot ${timer.shot}` : ", second color"}
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
              {late > 0 && (
                <span class="error">
                  rang {clockWords(late)} late: the screen was off or the sheet closed
                </span>
              )}
            </li>
          );
        })}
      </ol>
      <p class="small">Marks {timer.from}.</p>
      <Correct timer={timer} place={place} />
      <button type="button" class="no-print" onClick={(e) => fillScreen(e.currentTarget)}>
        Fill the screen
      </button>
      <Finish timer={timer} place={place} elapsed={reading.elapsed} />
    </section>
  );
}

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

/** A reading of the mold, or another shot number: the library is asked again, and only what is left changes. */
function Correct({ timer, place }: { timer: BenchTimer; place: number }) {
  const [mold, setMold] = useState("");
  const [busy, setBusy] = useState(false);
  const [wrong, setWrong] = useState<readonly string[]>([]);

  async function correct(settings: Settings, shot: number, from: string): Promise<void> {
    setBusy(true);
    setWrong([]);
    const what = { jobText: job.value.text, settings, shot };
    const reply =
      timer.kind === "open"
        ? await ask({ ...what, ask: "opening" })
        : await ask({ ...what, ask: "window" });
    setBusy(false);
    if ("answer" in reply) {
      const marks = marksOf(timer.kind, reply.answer);
      const foretold = foretoldOf(reply.answer);
      const what = { from, shot, ...(foretold && { foretold }) };
      changeTimer(place, (t) => t && corrected(t, marks, what, Date.now()));
    } else setWrong("problems" in reply ? reply.problems.map(problemWords) : [reply.fault]);
  }

  return (
    <details class="closer">
      <summary>Correct it</summary>
      <div class="place-form">
        {timer.kind === "open" && (
          <ShotStepper
            shot={timer.shot}
            onChange={(shot) => void correct({}, shot, `for shot ${shot}, corrected`)}
          />
        )}
        <label>
          <span class="dial-label">Infrared reading of the empty mold face, at the start</span>
          <input value={mold} placeholder="104 F" onInput={(e) => setMold(e.currentTarget.value)} />
        </label>
        <p class="small">
          Read it on matt tape or a black marker dot; bare metal reads far too cold.
        </p>
        <button
          type="button"
          disabled={busy || mold.trim() === ""}
          onClick={() =>
            void correct(
              { "mold.temperature": mold.trim() },
              1,
              `for a mold at ${mold.trim()}, as read`,
            )
          }
        >
          {busy ? "Working it out \u2026" : "Use this reading"}
        </button>
        {wrong.map((w) => (
          <p class="error" key={w}>
            {w}
          </p>
        ))}
      </div>
    </details>
  );
}

function Finish({ timer, place, elapsed }: { timer: BenchTimer; place: number; elapsed: number }) {
  const [ending, setEnding] = useState<number | undefined>();
  function clear(): void {
    changeTimer(place, () => null);
  }
  if (ending === undefined)
    return (
      <button type="button" class="strong" onClick={() => setEnding(elapsed)}>
        {timer.kind === "open" ? "Opened: stop" : "Second color is in: stop"}
      </button>
    );
  function log(verdict: (typeof VERDICTS)[number]): void {
    addEntry({
      id: crypto.randomUUID(),
      at: new Date().toISOString(),
      job: timer.jobName,
      ...job.value.measured,
      shot: timer.shot,
      seconds: Math.round(ending ?? 0),
      weight: "",
      verdict,
      note: timer.kind === "open" ? timer.name : `${timer.name}, second color`,
      ...(timer.foretold && { foretold: timer.foretold }),
    });
    clear();
  }
  return (
    <fieldset class="verdicts">
      <legend>
        Opened after <b>{clockWords(ending)}</b>. How was it?
      </legend>
      <div class="row">
        {VERDICTS.map((v) => (
          <button type="button" key={v} onClick={() => log(v)}>
            {v}
          </button>
        ))}
        <button type="button" class="plain" onClick={clear}>
          Do not log
        </button>
        <button type="button" class="plain" onClick={() => setEnding(undefined)}>
          Still closed: go on
        </button>
      </div>
    </fieldset>
  );
}

function useBenchAnswer(
  kind: TimerKind,
  shot: number,
  settings: Settings,
): { reply: BenchReply | undefined; question: string } {
  const [reply, setReply] = useState<BenchReply | undefined>();
  const { text } = job.value;
  const question = JSON.stringify([kind, shot, settings, text]);
  useEffect(() => {
    let current = true;
    const what: Omit<Question, "ask"> = { jobText: text, settings, shot };
    const asked =
      kind === "open" ? ask({ ...what, ask: "opening" }) : ask({ ...what, ask: "window" });
    void asked.then((r) => current && setReply(r));
    setReply(undefined);
    return () => {
      current = false;
    };
  }, [question]);
  return { reply, question };
}

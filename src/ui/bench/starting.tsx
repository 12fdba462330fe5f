import { useEffect, useState } from "preact/hooks";
import { isProblem, readQuantity } from "../../../lib/units/quantity.ts";
import { ask } from "../asking/ask.ts";
import type { Question, Reply, Settings } from "../asking/asked.ts";
import { job } from "../job/job-store.ts";
import { clockWords } from "../reading/clock.ts";
import { ErrorList } from "../reading/error-list.tsx";
import { unitSystem } from "../reading/preferences.ts";
import { placedWords } from "../reading/problem-words.ts";
import { withReaderUnit } from "../reading/typed.ts";
import { holdScreen, readySound } from "./alarm.ts";
import { foretoldOf, marksOf } from "./marks.ts";
import { MoldReading, moldReading } from "./mold-reading.tsx";
import { ShotStepper } from "./shot-stepper.tsx";
import { timedJob } from "./timed-job.ts";
import { startTimer, type TimerKind, type TimerMark } from "./timer.ts";
import { changeTimer } from "./timer-store.ts";

type BenchReply = Reply<"opening"> | Reply<"window">;

export function Starting({ place, name }: { place: number; name: string }) {
  const [label, setLabel] = useState(name);
  const [kind, setKind] = useState<TimerKind>("open");
  const [shot, setShot] = useState(1);
  const [mold, setMold] = useState("");
  const reading = withReaderUnit(mold, "temperature", unitSystem.value);
  const isRead = mold.trim() !== "" && !isProblem(readQuantity(reading, "temperature"));
  const { reply, question } = useBenchAnswer(kind, shot, isRead ? moldReading(reading) : {});
  const marks = reply && "answer" in reply ? marksOf(kind, reply.answer) : undefined;
  const end = kind === "open" ? "Start: injector off" : "Start: first color is in";

  function start(): void {
    if (!marks) return;
    readySound();
    void holdScreen();
    const worked = kind === "open" ? `shot ${shot} as worked out` : "as worked out";
    const from = isRead ? `for a mold at ${reading}, as read` : worked;
    const foretold = reply && "answer" in reply ? foretoldOf(reply.answer) : undefined;
    const what = {
      name: label || name,
      kind,
      jobName: job.value.name,
      shot,
      from,
      job: timedJob(isRead ? reading : undefined),
      ...(isRead && { corrections: [`mold read at the start: ${reading}`] }),
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
        <MoldReading value={mold} onChange={setMold} />
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

function Foretold(props: {
  reply: BenchReply | undefined;
  marks: readonly TimerMark[] | undefined;
  question: string;
}) {
  const { reply, marks } = props;
  if (reply && "problems" in reply) return <ErrorList words={reply.problems.map(placedWords)} />;
  if (reply && "fault" in reply) return <p class="error">{reply.fault}</p>;
  if (!marks) return <p class="marks-space">Working it out {"\u2026"}</p>;
  if (marks.length === 0)
    return (
      <p class="error">
        There is nothing to time: with this job that moment never comes. Its sheet says why.
      </p>
    );
  const unsure =
    reply && "answer" in reply && reply.answer && "close" in reply.answer && !reply.answer.sure;
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

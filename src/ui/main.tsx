import { effect, signal } from "@preact/signals";
import { type ComponentType, render } from "preact";
import { useEffect, useState } from "preact/hooks";
import { FIRST_PAGE } from "../notebook/run/first-job.ts";
import { TimerStrip } from "./bench/timer-strip.tsx";
import { watchTimers } from "./bench/watch.ts";
import { watchDrops } from "./files/dropped.ts";
import { Headline } from "./frame/headline.tsx";
import { nextTurn } from "./frame/next-turn.ts";
import { keepPlaces, takePlace } from "./frame/place.ts";
import { type Route, route } from "./frame/route.ts";
import { TitleBlock } from "./frame/title-block.tsx";
import { job, startJobs } from "./job/job-store.ts";
import { notices } from "./reading/notices.ts";
import { showPaper } from "./reading/preferences.ts";
import { listPages, pages, theShelf, titleOf, undoable } from "./shelf/the-shelf.ts";

type Sheet = ComponentType;

/** Asked for at once, but started in a turn of its own: the browser listens in between. */
const pageSheet = import("./page/page-sheet.tsx");

/** Everything but the pages is loaded when it is asked for. */
const SHEETS = {
  index: () => import("./shelf/index-sheet.tsx"),
  job: () => import("./job/job-sheet.tsx"),
  many: () => import("./many/many-sheet.tsx"),
  timer: () => import("./bench/timer-sheet.tsx"),
  card: () => import("./bench/card/card-sheet.tsx"),
  log: () => import("./log/log-sheet.tsx"),
} satisfies Record<string, () => Promise<{ default: Sheet }>>;

const TITLES: Readonly<Record<string, string>> = {
  index: "Sheets",
  job: "Job",
  many: "Many jobs at once",
  timer: "Timer",
  card: "Card for the wall",
  log: "Log",
};

const ready = signal(false);

function titleFor(now: Route): string {
  if (now.sheet !== "page") return TITLES[now.sheet] ?? "Nothing here";
  const entry = pages.value.find((e) => e.name === now.name);
  return entry ? titleOf(entry) : now.name;
}

function PageSheet({ name }: { name: string }) {
  const [View, setView] = useState<ComponentType<{ name: string }> | undefined>();
  useEffect(() => {
    void pageSheet.then((module) => setView(() => module.PageSheet));
  }, []);
  return View ? <View name={name} /> : <div class="waiting" aria-hidden="true" />;
}

function LazySheet({ name }: { name: keyof typeof SHEETS }) {
  const [View, setView] = useState<Sheet | undefined>();
  useEffect(() => {
    let current = true;
    setView(undefined);
    void SHEETS[name]().then((module) => current && setView(() => module.default));
    return () => {
      current = false;
    };
  }, [name]);
  return View ? <View /> : <div class="waiting" aria-hidden="true" />;
}

function UndoStrip() {
  const now = undoable.value;
  if (!now) return null;
  return (
    <div class="undo-strip no-print" role="status">
      <p>{now.words}</p>
      <button
        type="button"
        onClick={() => {
          undoable.value = undefined;
          void theShelf.then((shelf) => shelf.undo(now.undo));
        }}
      >
        Undo
      </button>
      <button
        type="button"
        class="plain"
        onClick={() => {
          undoable.value = undefined;
        }}
      >
        Close
      </button>
    </div>
  );
}

/** What has to be said, until it is put away; and the way to mend a job that can't be read. */
function Notices() {
  const { job: ofJob, page, shelf } = notices.value;
  const { name, problems } = job.value;
  const isBroken = problems.length > 0 && route.value.sheet !== "job";
  const close = (which: keyof typeof notices.value) => {
    notices.value = { ...notices.value, [which]: "" };
  };
  return (
    <>
      {isBroken && (
        <div class="undo-strip no-print" role="alert">
          <p>
            The job {`\u201c${name}\u201d`} has{" "}
            {problems.length === 1 ? "a value" : `${problems.length} values`} to mend: every sheet
            that reads it waits.
          </p>
          <a class="button" href="#/job">
            Mend the job
          </a>
        </div>
      )}
      {(
        [
          ["job", ofJob],
          ["page", page],
          ["shelf", shelf],
        ] as const
      ).map(
        ([which, words]) =>
          words && (
            <div class="undo-strip no-print" role="alert" key={which}>
              <p>{words}</p>
              <button type="button" class="plain" onClick={() => close(which)}>
                Close
              </button>
            </div>
          ),
      )}
    </>
  );
}

function Paper() {
  const now = route.value;
  return (
    <div class="sheet">
      <Headline />
      <UndoStrip />
      <Notices />
      <TimerStrip />
      <main id="main" tabIndex={-1}>
        {!ready.value ? (
          <div class="waiting" aria-hidden="true" />
        ) : now.sheet === "page" ? (
          <PageSheet key={now.name} name={now.name} />
        ) : now.sheet === "nowhere" ? (
          <>
            <h1>Nothing here</h1>
            <p>
              There is nothing at this address. <a href="#/">First sheet</a>,{" "}
              <a href="#/index">all sheets</a>
            </p>
          </>
        ) : (
          <LazySheet name={now.sheet} />
        )}
      </main>
      <TitleBlock title={titleFor(now)} />
    </div>
  );
}

showPaper();
keepPlaces();
watchTimers();
watchDrops();
effect(() => {
  document.title = `${titleFor(route.value)} \u2013 Castclock`;
});
let first = true;
effect(() => {
  void route.value;
  if (!first) {
    takePlace();
    document.getElementById("main")?.focus({ preventScroll: true });
  }
  first = false;
});
void nextTurn().then(() => render(<Paper />, document.getElementById("sheet")!));
void startJobs()
  .then(nextTurn)
  .then(() => {
    ready.value = true;
  });

/** Keeps the site for days without a network. */
function goOffline(): void {
  void navigator.serviceWorker.register("./offline.js").catch(() => undefined); // works without, online
}
const isOnFirst = route.value.sheet === "page" && route.value.name === FIRST_PAGE;
/** What comes after the first answer, whose files come first: not before this, and at the latest by that. ms */
const AFTER_FIRST = 1500;
const LATEST = 15_000;
const LOOK = 250;

/** Once the first answer stands; at once where none is waited for. */
function afterFirst(then: () => void): void {
  const stands = () => document.querySelector(".answer.main .figure-big") !== null;
  if (!isOnFirst || stands() || performance.now() > LATEST) then();
  else setTimeout(afterFirst, LOOK, then);
}
setTimeout(afterFirst, isOnFirst ? AFTER_FIRST : 0, () => void listPages());
if (import.meta.env.PROD && "serviceWorker" in navigator)
  setTimeout(afterFirst, AFTER_FIRST, goOffline);

import type { ComponentType } from "preact";
import { useEffect, useState } from "preact/hooks";
import { readPageInSteps } from "../../notebook/page/page.ts";
import { FIRST_PAGE } from "../../notebook/run/first-job.ts";
import { PageRunner } from "../../notebook/run/runner-browser.ts";
import type { Draft, DraftNews } from "../../notebook/shelf/draft.ts";
import type { ShelfEntry } from "../../notebook/shelf/entry.ts";
import { nextTurn } from "../frame/next-turn.ts";
import { pageAddress } from "../frame/route.ts";
import { notices } from "../reading/notices.ts";
import { listPages, removedPages, theShelf } from "../shelf/the-shelf.ts";
import { type OpenPage, openPage } from "./open-page.ts";
import { PageFold } from "./page-fold.tsx";
import { PageView } from "./page-view.tsx";

interface Opened {
  readonly open: OpenPage;
  readonly draft: Draft;
  readonly entry: ShelfEntry;
}

/** Takes a page from the shelf, keeps what is typed, and shows it. */
export function PageSheet({ name }: { name: string }) {
  const [opened, setOpened] = useState<Opened | "missing" | undefined>();
  const [visit, setVisit] = useState(0);

  useEffect(() => {
    setOpened(undefined);
    notices.value = { ...notices.value, page: "" };
    let left = false;
    let close = () => {};
    void (async () => {
      const shelf = await theShelf;
      const draft = await shelf.open("page", name);
      const entry = await shelf.read("page", name);
      await nextTurn();
      if (left) {
        void draft?.close();
        return;
      }
      if (!draft || !entry) {
        await listPages(); // one that was taken off can be put back
        setOpened("missing");
        return;
      }
      // in steps, with the browser listening in between
      const runner = new PageRunner();
      await nextTurn();
      const page = await readPageInSteps(draft.text, nextTurn);
      await nextTurn();
      if (left) {
        runner.close();
        void draft.close();
        return;
      }
      const open = openPage({
        name,
        runner,
        page,
        text: draft.text,
        shipped: (await shelf.shipped("page", name))?.text,
        keep: (text) => draft.change(text),
      });
      draft.subscribe((news) => {
        const words = newsWords(news);
        if (news.kind === "elsewhere") open.setText(news.text);
        if (words !== undefined) notices.value = { ...notices.value, page: words };
      });
      close = () => {
        open.close();
        void draft.close();
      };
      await nextTurn(); // the run is under way; the sheet is drawn meanwhile
      if (!left) setOpened({ open, draft, entry });
    })();
    return () => {
      left = true;
      close();
    };
  }, [name, visit]);

  if (opened === undefined) return <div class="waiting" aria-hidden="true" />;
  if (opened === "missing") return <Missing name={name} onBack={() => setVisit(visit + 1)} />;
  return (
    <>
      <PageView open={opened.open} top={name === SHAPE_PAGE && <LazyShapeFile />}>
        {name === FIRST_PAGE && <Further />}
        <PageFold open={opened.open} entry={opened.entry} draft={opened.draft} />
      </PageView>
    </>
  );
}

/** The sheet on which a file with a shape is read. */
const SHAPE_PAGE = "shape";

function LazyShapeFile() {
  const [View, setView] = useState<ComponentType | undefined>();
  useEffect(() => {
    void import("../files/shape-file.tsx").then((module) => setView(() => module.default));
  }, []);
  return View ? <View /> : null;
}

/** What the reader has to know of it. */
function newsWords(news: DraftNews): string | undefined {
  switch (news.kind) {
    case "kept":
      return undefined;
    case "elsewhere":
      return "Another tab changed this sheet: what it says there stands here, too.";
    case "failed":
      return `This could not be kept: ${news.why}. Save the sheet to a file.`;
    case "second":
      return `Another tab changed this sheet. What you typed here is kept as \u201c${news.name}\u201d.`;
  }
}

/** A sheet that is not there; one that was shipped can always be put back. */
function Missing({ name, onBack }: { name: string; onBack: () => void }) {
  const isShipped = removedPages.value.some((page) => page.name === name);
  async function bringBack(): Promise<void> {
    await (await theShelf).bringBack("page", name);
    onBack();
  }
  return (
    <>
      <h1>No such sheet</h1>
      <p>
        There is no sheet called {name.slice(0, 120)} on this shelf.{" "}
        <a href="#/index">All sheets</a>
      </p>
      {isShipped && (
        <button type="button" class="strong" onClick={() => void bringBack()}>
          Put it back as it came
        </button>
      )}
    </>
  );
}

/** From the first answer to what is asked next. */
function Further() {
  const links = [
    ["shots", "By the fifth one they come out soft", "shot by shot"],
    ["second-color", "When do I shoot the second color?", "the window"],
    ["demold", "Which spot decides?", "station by station"],
  ] as const;
  return (
    <nav aria-label="What is asked next" class="no-print">
      <h2>Asked next</h2>
      <ol class="index">
        {links.map(([page, question, gist]) => (
          <li key={page}>
            <a class="entry" href={pageAddress(page)}>
              <b>{question}</b>
              <span class="leader" aria-hidden="true" />
              <span class="gist">{gist}</span>
            </a>
          </li>
        ))}
        <li>
          <a class="entry" href="#/timer">
            <b>Start the clock</b>
            <span class="leader" aria-hidden="true" />
            <span class="gist">timer with three marks</span>
          </a>
        </li>
      </ol>
    </nav>
  );
}

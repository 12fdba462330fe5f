import { useEffect, useState } from "preact/hooks";
import { readPageInSteps } from "../../notebook/page/page.ts";
import { PageRunner } from "../../notebook/run/runner-browser.ts";
import type { Draft } from "../../notebook/shelf/draft.ts";
import type { ShelfEntry } from "../../notebook/shelf/entry.ts";
import { nextTurn } from "../frame/next-turn.ts";
import { FIRST_PAGE, pageAddress } from "../frame/route.ts";
import { theShelf } from "../shelf/the-shelf.ts";
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
  const [said, setSaid] = useState("");

  useEffect(() => {
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
        shipped: shelf.shippedText("page", name)?.text,
        keep: (text) => draft.change(text),
      });
      draft.subscribe((news) => {
        if (news.kind === "elsewhere") open.setText(news.text);
        if (news.kind === "failed")
          setSaid(`This could not be kept: ${news.why}. Save the sheet to a file.`);
        if (news.kind === "kept") setSaid("");
        if (news.kind === "second")
          setSaid(
            `Another tab changed this sheet. What you typed here is kept as \u201c${news.name}\u201d.`,
          );
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
  }, [name]);

  if (opened === undefined) return <div class="waiting" aria-hidden="true" />;
  if (opened === "missing")
    return (
      <>
        <h1>No such sheet</h1>
        <p>
          There is no sheet called {name} on this shelf. <a href="#/index">All sheets</a>
        </p>
      </>
    );
  return (
    <>
      {said && (
        <p class="note" role="alert">
          {said}
        </p>
      )}
      <PageView open={opened.open}>
        {name === FIRST_PAGE && <Further />}
        <PageFold open={opened.open} entry={opened.entry} draft={opened.draft} />
      </PageView>
    </>
  );
}

/** From the first answer to what is asked next. */
function Further() {
  const links = [
    ["shots", "By the fifth one they come out soft", "shot by shot"],
    ["layer", "When do I shoot the second color?", "the window"],
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

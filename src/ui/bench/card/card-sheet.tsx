import { useEffect, useState } from "preact/hooks";
import { ask } from "../../asking/ask.ts";
import type { Reply } from "../../asking/asked.ts";
import { job } from "../../job/job-store.ts";
import { ErrorList } from "../../reading/error-list.tsx";
import { placedWords } from "../../reading/problem-words.ts";
import { Card } from "./card.tsx";

/** The sheet for the wall: one job, one page, black on white. */
export default function CardSheet() {
  const now = job.value;
  const [reply, setReply] = useState<Reply<"card"> | undefined>();
  useEffect(() => {
    let current = true;
    setReply(undefined);
    void ask({ ask: "card", jobText: now.text, settings: {}, shot: 1 }).then(
      (r) => current && setReply(r),
    );
    return () => {
      current = false;
    };
  }, [now.text]);
  return (
    <>
      <div class="no-print">
        <h1>Card for the wall</h1>
        <p class="lead">
          One page for {now.name}, A4 or Letter, black on white. Laminate it and write on it with a
          grease pencil.
        </p>
        <div class="row">
          <button
            type="button"
            class="strong"
            disabled={!reply || !("answer" in reply)}
            onClick={() => print()}
          >
            Print the card
          </button>
          <a class="button" href="#/job">
            Change the job
          </a>
        </div>
      </div>
      <Problems reply={reply} />
      {reply && "answer" in reply ? (
        <Card facts={reply.answer} />
      ) : (
        <p class="waiting card-space">{reply ? "" : "Working out the card \u2026"}</p>
      )}
    </>
  );
}

function Problems({ reply }: { reply: Reply<"card"> | undefined }) {
  if (!reply || "answer" in reply) return null;
  const words = "problems" in reply ? reply.problems.map(placedWords) : [reply.fault];
  return <ErrorList words={words} />;
}

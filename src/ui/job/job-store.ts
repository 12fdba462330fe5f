/** The jobs of this browser and the one that every sheet reads. */
import { shippedJobs } from "virtual:notebooks";
import { computed, signal } from "@preact/signals";
import { betweenShots } from "../../../lib/models/shots/between.ts";
import type { Problem } from "../../../lib/units/problem.ts";
import { atPath, type OpenJob } from "../../notebook/dials/dials.ts";
import { FIRST_JOB } from "../../notebook/run/first-job.ts";
import { loadJobReader, openJobAtHand } from "../../notebook/run/job-at-hand.ts";
import type { Draft } from "../../notebook/shelf/draft.ts";
import { kept } from "../reading/kept.ts";
import { notices } from "../reading/notices.ts";
import { jobs, theShelf } from "../shelf/the-shelf.ts";

interface ChosenJob {
  /** Its name on the shelf. */
  readonly key: string;
  readonly name: string;
  readonly text: string;
  /** False for an example as it was shipped. */
  readonly own: boolean;
  /** Absent while the text has problems. */
  readonly open: OpenJob | undefined;
  readonly problems: readonly Problem[];
  /** Molds in rotation. */
  readonly molds: number;
  /** From opening a mold to filling it again, s. */
  readonly pause: number;
  /** As typed, for a line of the log. */
  readonly measured: { readonly room: string; readonly mold: string; readonly plastisol: string };
}

const chosen = kept<string>(
  "job",
  (text) => text ?? "",
  (key) => key,
);

const text = signal(shippedJobs.find((j) => j.name === FIRST_JOB)?.text ?? "");
const key = signal("");
let draft: Draft | undefined;

/** A job is read before it is chosen: the reader may have to be loaded first. */
async function take(next: string): Promise<void> {
  if (openJobAtHand(next) === undefined) await loadJobReader();
  text.value = next;
}

export const job = computed<ChosenJob>(() => {
  const read = openJobAtHand(text.value) ?? { problems: [] };
  const open = "problems" in read ? undefined : read;
  const typed = (path: string) => {
    const value = open && atPath(open.raw, path);
    return typeof value === "string" ? value : "";
  };
  const entry = jobs.value.find((e) => e.name === key.value);
  return {
    key: key.value,
    name: open?.reading.job.name || key.value || "My bait",
    text: text.value,
    own: entry?.own ?? true,
    open,
    problems: "problems" in read ? read.problems : [],
    molds: open?.reading.job.run.molds ?? 1,
    pause: open ? betweenShots(open.reading.job) : 0,
    measured: {
      room: typed("room.temperature"),
      mold: typed("mold.temperature"),
      plastisol: typed("shot.temperature"),
    },
  };
});

/** Takes a job from the shelf; the first one when the wanted one is gone. */
export async function chooseJob(wanted: string): Promise<void> {
  const shelf = await theShelf;
  await draft?.close();
  // asked afresh: the list on the sheet may lag behind what was just added
  const names = (await shelf.list("job")).map((e) => e.name);
  const name = [wanted, FIRST_JOB, names[0] ?? ""].find((n) => names.includes(n));
  draft = name === undefined ? undefined : await shelf.open("job", name);
  if (!draft) return;
  draft.subscribe((news) => {
    if (news.kind === "elsewhere") {
      void take(news.text);
      notices.value = {
        ...notices.value,
        job: "Another tab changed this job: what it says there stands here, too.",
      };
    }
    if (news.kind === "second") {
      key.value = news.name;
      notices.value = {
        ...notices.value,
        job: `Another tab changed this job. What you typed here is kept as \u201c${news.name}\u201d.`,
      };
    }
    if (news.kind === "failed")
      notices.value = { ...notices.value, job: `The job could not be kept: ${news.why}.` };
  });
  await take(draft.text);
  key.value = draft.name;
  chosen.change(() => draft?.name ?? "");
}

/** What is typed into the job is kept and read by every sheet at once. */
export function editJob(next: string): void {
  void take(next);
  draft?.change(next);
}

export async function startJobs(): Promise<void> {
  await theShelf;
  await chooseJob(chosen.value.value);
}

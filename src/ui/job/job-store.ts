/** The jobs of this browser and the one that every sheet reads. */
import { computed, signal } from "@preact/signals";
import type { Problem } from "../../../lib/units/problem.ts";
import { atPath, type OpenJob } from "../../notebook/dials.ts";
import type { Draft } from "../../notebook/draft.ts";
import { openJob } from "../../notebook/open-job.ts";
import { kept } from "../reading/kept.ts";
import { jobs, theShelf } from "../shelf/the-shelf.ts";

export interface ChosenJob {
  /** Its name on the shelf. */
  readonly key: string;
  readonly name: string;
  readonly text: string;
  /** False for an example as it was shipped. */
  readonly own: boolean;
  /** Absent while the text has problems. */
  readonly open: OpenJob | undefined;
  readonly problems: readonly Problem[];
  /** As typed, for a line of the log. */
  readonly measured: { readonly room: string; readonly mold: string; readonly plastisol: string };
}

/** A job for somebody who has none yet: everything but the thickness is left to its default. */
export const BLANK_JOB = "name: My bait\nbait:\n  thickness: 16 mm\n";

/** The example that a new reader starts from. */
const FIRST_JOB = "thick-swimmer";

const chosen = kept<string>(
  "job",
  (text) => text ?? "",
  (key) => key,
);

const text = signal(BLANK_JOB);
const key = signal("");
let draft: Draft | undefined;

export const job = computed<ChosenJob>(() => {
  const read = openJob(text.value);
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
    if (news.kind === "elsewhere") text.value = news.text;
    if (news.kind === "second") key.value = news.name;
  });
  text.value = draft.text;
  key.value = draft.name;
  chosen.change(() => draft?.name ?? "");
}

/** What is typed into the job is kept and read by every sheet at once. */
export function editJob(next: string): void {
  text.value = next;
  draft?.change(next);
}

export async function startJobs(): Promise<void> {
  await theShelf;
  await chooseJob(chosen.value.value);
}

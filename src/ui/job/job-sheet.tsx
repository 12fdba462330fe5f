import { useEffect, useState } from "preact/hooks";
import { parse } from "yaml";
import { withFitted } from "../../../lib/job/fitted-text.ts";
import { BLANK_JOB } from "../../notebook/run/first-job.ts";
import { importFile } from "../../notebook/shelf/archive.ts";
import ShapeFile from "../files/shape-file.tsx";
import { fileName, saveFile } from "../outputs/save.ts";
import { ErrorList } from "../reading/error-list.tsx";
import { problemWords } from "../reading/problem-words.ts";
import { jobs, theShelf, undoable } from "../shelf/the-shelf.ts";
import { JobForm } from "./job-form.tsx";
import { chooseJob, editJob, job } from "./job-store.ts";

export default function JobSheet() {
  const now = job.value;
  const raw = rawOf(now.text);
  return (
    <>
      <h1>Job</h1>
      <p class="lead">
        One bait, its mold, plastic and room. Every sheet reads the job chosen here. Type each size
        with its unit, as you think of it: 5/8 in, 16 mm, 340 F.
      </p>
      <div class="spread has-dials">
        <section class="dials" aria-label="Your jobs">
          <div class="dial">
            <label class="dial-label" for="job-choice">
              The job on the bench
            </label>
            <select
              id="job-choice"
              value={now.key}
              onChange={(e) => void chooseJob(e.currentTarget.value)}
            >
              {jobs.value.map((e) => (
                <option key={e.name} value={e.name}>
                  {e.name}
                  {e.own ? "" : " (example)"}
                </option>
              ))}
            </select>
          </div>
          <JobActions />
          <p>
            Undecided between several sizes or temperatures? Try{" "}
            <a href="#/many">many jobs at once</a>.
          </p>
          <ShapeFile />
        </section>
        <div class="reading">
          {now.problems.length > 0 && (
            <ErrorList words={now.problems.map((problem) => problemWords(problem))} />
          )}
          {raw === undefined ? (
            <p class="error">The text below cannot be read as a job. Mend it there first.</p>
          ) : (
            <JobForm text={now.text} raw={raw} problems={now.problems} onChange={editJob} />
          )}
          {(now.open?.reading.job.fitted.length ?? 0) > 0 && (
            <p class="note info">
              A log has taught this job how its times really are: every question answers from it.{" "}
              <button
                type="button"
                class="plain"
                onClick={() => editJob(withFitted(now.text, null))}
              >
                Forget the log
              </button>
            </p>
          )}
          <JobText text={now.text} isBroken={raw === undefined} />
        </div>
      </div>
    </>
  );
}

/** Opens by itself where the form can't: then it stays open, whatever is typed. */
function JobText({ text, isBroken }: { text: string; isBroken: boolean }) {
  const [open, setOpen] = useState(isBroken);
  useEffect(() => {
    if (isBroken) setOpen(true);
  }, [isBroken]);
  return (
    <details class="closer" open={open} onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>The job as text</summary>
      <textarea
        class="editor-plain"
        aria-label="The job as text"
        spellcheck={false}
        rows={Math.min(40, text.split("\n").length + 2)}
        value={text}
        onInput={(e) => editJob(e.currentTarget.value)}
      />
    </details>
  );
}

/** Characters of a job for which a form is drawn. */
const MOST_OF_FORM = 20_000;

/** The file as plain data; undefined while it is no readable YAML map. */
function rawOf(text: string): Record<string, unknown> | undefined {
  if (text.length > MOST_OF_FORM) return undefined;
  try {
    const raw: unknown = parse(text, { maxAliasCount: 0 });
    if (raw === null) return {};
    return typeof raw === "object" && !Array.isArray(raw)
      ? (raw as Record<string, unknown>)
      : undefined;
  } catch {
    return undefined; // said in the list of problems
  }
}

function JobActions() {
  const [wrong, setWrong] = useState("");
  const now = job.value;
  const entry = jobs.value.find((e) => e.name === now.key);

  async function add(name: string, text: string): Promise<void> {
    const shelf = await theShelf;
    const added = await shelf.add("job", name, text);
    await chooseJob(added.name);
  }
  async function remove(): Promise<void> {
    const shelf = await theShelf;
    const undo = await shelf.remove("job", now.key);
    undoable.value = { words: `${now.key} was taken off the shelf.`, undo };
    await chooseJob("");
  }
  async function reset(): Promise<void> {
    const shelf = await theShelf;
    const undo = await shelf.reset("job", now.key);
    undoable.value = { words: `${now.key} is as it came again.`, undo };
    await chooseJob(now.key);
  }
  async function read(file: File | undefined): Promise<void> {
    if (!file) return;
    const added = await importFile(await theShelf, file.name, await file.text());
    if (added?.kind === "job") await chooseJob(added.name);
    setWrong(added ? "" : "That file is no job: .yaml or .json is expected.");
  }
  return (
    <>
      <div class="row">
        <button type="button" onClick={() => void add("My bait", BLANK_JOB)}>
          New job
        </button>
        <button type="button" onClick={() => void add(`${now.key} copy`, now.text)}>
          Copy it
        </button>
        {entry?.shipped && entry.own && (
          <button type="button" onClick={() => void reset()}>
            As it came
          </button>
        )}
        <button type="button" onClick={() => void remove()}>
          Remove
        </button>
        <button
          type="button"
          onClick={() => saveFile(fileName(now.key, "yaml"), now.text, "application/yaml")}
        >
          Save to a file
        </button>
        <label class="button">
          Read a file
          <input
            class="out-of-sight"
            type="file"
            accept=".yaml,.yml,.json"
            onChange={(e) => void read(e.currentTarget.files?.[0])}
          />
        </label>
      </div>
      {wrong && (
        <p class="error" role="alert">
          {wrong}
        </p>
      )}
    </>
  );
}

import { useEffect, useRef, useState } from "preact/hooks";
import { chooseJob, job } from "../job/job-store.ts";
import { ErrorList } from "../reading/error-list.tsx";
import { unitSystem } from "../reading/preferences.ts";
import { problemWords } from "../reading/problem-words.ts";
import { shownText } from "../reading/shown.ts";
import { withReaderUnit } from "../reading/typed.ts";
import { theShelf } from "../shelf/the-shelf.ts";
import type { FileAsked, FileRead, FileReply } from "./asked.ts";
import { droppedShape, isShape } from "./dropped.ts";

/** Bytes; a text mesh of two million triangles is 500 MB. */
const MOST = 600_000_000;

type State =
  | { readonly is: "idle" }
  | { readonly is: "reading" }
  | { readonly is: "read"; readonly read: FileRead; readonly key: string }
  | { readonly is: "wrong"; readonly words: readonly string[] };

/** A mesh or a drawing becomes a job of its own, with the mold, plastic and room of the job on the bench. */
export default function ShapeFile() {
  const [file, setFile] = useState<File | undefined>();
  const [unit, setUnit] = useState<"mm" | "in">("mm");
  const [length, setLength] = useState("");
  const [state, setState] = useState<State>({ is: "idle" });
  const stop = useRef(() => {});

  async function read(wanted: File, asked: Pick<FileAsked, "unit" | "length">): Promise<void> {
    stop.current();
    setFile(wanted);
    if (!isShape(wanted.name) || wanted.size > MOST) {
      const words = isShape(wanted.name)
        ? `${wanted.name} is larger than ${MOST / 1e6} MB: save it with fewer triangles.`
        : `${wanted.name}: an STL mesh or an SVG drawing is read here.`;
      setState({ is: "wrong", words: [words] });
      return;
    }
    setState({ is: "reading" });
    const reading = inWorker(wanted, asked);
    stop.current = reading.stop;
    const reply = await reading.reply;
    if (reply === undefined) return;
    if (!("read" in reply)) {
      const words = "problems" in reply ? reply.problems.map(problemWords) : [reply.fault];
      setState({ is: "wrong", words });
      return;
    }
    const added = await (await theShelf).add("job", reply.read.jobName, reply.read.jobText);
    await chooseJob(added.name);
    setState({ is: "read", read: reply.read, key: added.name });
  }

  const dropped = droppedShape.value;
  useEffect(() => {
    if (!dropped) return;
    droppedShape.value = undefined;
    void read(dropped, { unit, length });
  }, [dropped]);
  useEffect(() => () => stop.current(), []);

  const isMesh = file !== undefined && /\.stl$/i.test(file.name);
  const again = (change: Partial<Pick<FileAsked, "unit" | "length">>) =>
    file &&
    void read(file, {
      unit,
      length: withReaderUnit(length, "length", unitSystem.value),
      ...change,
    });
  return (
    <section class="closer no-print shape-file" aria-label="A shape from a file">
      <div class="row">
        <label class="button">
          Read a shape: STL or SVG
          <input
            class="out-of-sight"
            type="file"
            accept=".stl,.svg"
            onChange={(e) => {
              const [wanted] = e.currentTarget.files ?? [];
              if (wanted) void read(wanted, { unit, length });
              e.currentTarget.value = "";
            }}
          />
        </label>
        {state.is === "reading" && (
          <button
            type="button"
            onClick={() => {
              stop.current();
              setState({ is: "idle" });
            }}
          >
            Stop
          </button>
        )}
        {isMesh && (
          // biome-ignore lint/a11y/useSemanticElements: two buttons, not a form
          <div class="either" role="group" aria-label="The mesh is drawn in">
            {(["mm", "in"] as const).map((one) => (
              <button
                key={one}
                type="button"
                aria-pressed={unit === one}
                onClick={() => {
                  setUnit(one);
                  again({ unit: one });
                }}
              >
                {one === "mm" ? "millimeters" : "inches"}
              </button>
            ))}
          </div>
        )}
        {file && !isMesh && isShape(file.name) && (
          <form
            class="row"
            onSubmit={(e) => {
              e.preventDefault();
              again({});
            }}
          >
            <label>
              <span class="dial-label">Length of the bait</span>
              <input value={length} onInput={(e) => setLength(e.currentTarget.value)} />
            </label>
            <button type="submit">Scale it to that</button>
          </form>
        )}
      </div>
      <div role="status">
        {state.is === "idle" && (
          <p class="small">Or drop the file on this sheet. It is read on this machine.</p>
        )}
        {state.is === "reading" && (
          <p>
            Reading {file?.name} {"\u2026"}
          </p>
        )}
        {state.is === "read" && (
          <>
            <p>
              <b>{state.key}</b> is the job on the bench now,{" "}
              {shownText(state.read.length, "mm", unitSystem.value)} long; its mold, plastic and
              room are as they were before.
            </p>
            {state.read.found.map((line) => (
              <p class="small" key={line}>
                {line}
              </p>
            ))}
          </>
        )}
      </div>
      {state.is === "wrong" && <ErrorList words={state.words} />}
    </section>
  );
}

/** Ended by `stop`, then the reply is undefined. */
function inWorker(
  file: File,
  { unit, length }: Pick<FileAsked, "unit" | "length">,
): { reply: Promise<FileReply | undefined>; stop: () => void } {
  const worker = new Worker(new URL("./reading.ts", import.meta.url), { type: "module" });
  let end: (reply: FileReply | undefined) => void = () => {};
  const reply = new Promise<FileReply | undefined>((resolve) => {
    end = (said) => {
      worker.terminate();
      resolve(said);
    };
  });
  worker.onmessage = (e: MessageEvent<FileReply>) => end(e.data);
  worker.onerror = (e) => end({ fault: e.message || "The file could not be read." });
  void file.arrayBuffer().then(
    (bytes) => {
      const asked: FileAsked = { name: file.name, bytes, jobText: job.value.text, unit, length };
      worker.postMessage(asked, [bytes]);
    },
    (error) => end({ fault: String(error) }),
  );
  return { reply, stop: () => end(undefined) };
}

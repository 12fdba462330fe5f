import { useEffect, useRef, useState } from "preact/hooks";
import { ALL_SENTENCES } from "../../messages/all-problems.ts";
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

type Choices = Pick<FileAsked, "unit" | "length">;

/** A mesh or a drawing becomes a job of its own, with the mold, plastic and room of the job on the bench. */
export default function ShapeFile() {
  const { file, state, read, stop } = useReading();
  const [unit, setUnit] = useState<"mm" | "in">("mm");
  const [length, setLength] = useState("");
  const typed = withReaderUnit(length, "length", unitSystem.value);

  const dropped = droppedShape.value;
  useEffect(() => {
    if (!dropped) return;
    droppedShape.value = undefined;
    void read(dropped, { unit, length: typed });
  }, [dropped]);

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
              if (wanted) void read(wanted, { unit, length: typed });
              e.currentTarget.value = "";
            }}
          />
        </label>
        {state.is === "reading" && (
          <button type="button" onClick={stop}>
            Stop
          </button>
        )}
        {file && isMesh(file) && (
          <UnitChoice
            unit={unit}
            onChange={(one) => {
              setUnit(one);
              void read(file, { unit: one, length: typed });
            }}
          />
        )}
        {file && !isMesh(file) && isShape(file.name) && (
          <LengthField
            length={length}
            onTyped={setLength}
            onGiven={() => void read(file, { unit, length: typed })}
          />
        )}
      </div>
      <Said state={state} name={file?.name ?? ""} />
      {state.is === "wrong" && <ErrorList words={state.words} />}
    </section>
  );
}

const isMesh = (file: File) => /\.stl$/i.test(file.name);

/** The file that is read, and how far that is. A newer one ends the one before. */
function useReading() {
  const [file, setFile] = useState<File | undefined>();
  const [state, setState] = useState<State>({ is: "idle" });
  const end = useRef(() => {});
  useEffect(() => () => end.current(), []);

  async function read(wanted: File, choices: Choices): Promise<void> {
    end.current();
    setFile(wanted);
    const refused = refusal(wanted);
    if (refused !== undefined) {
      setState({ is: "wrong", words: [refused] });
      return;
    }
    setState({ is: "reading" });
    const reading = inWorker(wanted, choices);
    end.current = reading.stop;
    const reply = await reading.reply;
    if (reply === undefined) return;
    if (!("read" in reply)) {
      const words =
        "problems" in reply
          ? reply.problems.map((problem) => problemWords(problem, ALL_SENTENCES))
          : [reply.fault];
      setState({ is: "wrong", words });
      return;
    }
    const added = await (await theShelf).add("job", reply.read.jobName, reply.read.jobText);
    await chooseJob(added.name);
    setState({ is: "read", read: reply.read, key: added.name });
  }
  function stop(): void {
    end.current();
    setState({ is: "idle" });
  }
  return { file, state, read, stop };
}

function refusal({ name, size }: File): string | undefined {
  if (!isShape(name)) return `${name}: an STL mesh or an SVG drawing is read here.`;
  if (size <= MOST) return undefined;
  return `${name} is larger than ${MOST / 1e6} MB: save it with fewer triangles.`;
}

function UnitChoice(props: { unit: "mm" | "in"; onChange: (unit: "mm" | "in") => void }) {
  return (
    // biome-ignore lint/a11y/useSemanticElements: two buttons, not a form
    <div class="either" role="group" aria-label="The mesh is drawn in">
      {(["mm", "in"] as const).map((one) => (
        <button
          key={one}
          type="button"
          aria-pressed={props.unit === one}
          onClick={() => props.onChange(one)}
        >
          {one === "mm" ? "millimeters" : "inches"}
        </button>
      ))}
    </div>
  );
}

function LengthField(props: {
  length: string;
  onTyped: (length: string) => void;
  onGiven: () => void;
}) {
  return (
    <form
      class="row"
      onSubmit={(e) => {
        e.preventDefault();
        props.onGiven();
      }}
    >
      <label>
        <span class="dial-label">Length of the bait</span>
        <input value={props.length} onInput={(e) => props.onTyped(e.currentTarget.value)} />
      </label>
      <button type="submit">Scale it to that</button>
    </form>
  );
}

function Said({ state, name }: { state: State; name: string }) {
  return (
    <div role="status">
      {state.is === "idle" && (
        <p class="small">Or drop the file on this sheet. It is read on this machine.</p>
      )}
      {state.is === "reading" && (
        <p>
          Reading {name} {"\u2026"}
        </p>
      )}
      {state.is === "read" && (
        <>
          <p>
            <b>{state.key}</b> is the job on the bench now,{" "}
            {shownText(state.read.length, "mm", unitSystem.value)} long; its mold, plastic and room
            are as they were before.
          </p>
          {state.read.found.map((line) => (
            <p class="small" key={line}>
              {line}
            </p>
          ))}
        </>
      )}
    </div>
  );
}

/** Ended by `stop`, then the reply is undefined. */
function inWorker(
  file: File,
  { unit, length }: Choices,
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

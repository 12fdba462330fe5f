/** The worker that reads a mesh or a drawing into a job: however large the file, the sheet stays quick under the finger. */
import { parseDocument } from "yaml";
import { baitKeys } from "../../../lib/questions/shape/stations.ts";
import { chooseStations } from "../../../lib/shape/choose-stations.ts";
import { readViews } from "../../../lib/shape/drawing-reading.ts";
import { readMesh } from "../../../lib/shape/mesh-reading.ts";
import { InputError, type Problem } from "../../../lib/units/problem.ts";
import { isProblem, readQuantity } from "../../../lib/units/quantity.ts";
import { findingLine } from "../../messages/findings.ts";
import type { FileAsked, FileRead, FileReply } from "./asked.ts";

const METERS = { mm: 1e-3, in: 0.0254 } as const;

function readingOf({ name, bytes, unit, length }: FileAsked) {
  if (/\.stl$/i.test(name)) return readMesh(new Uint8Array(bytes), { unit: METERS[unit] });
  const typed = length.trim();
  const given = typed === "" ? undefined : readQuantity(typed, "length", "length");
  if (given !== undefined && isProblem(given)) throw new InputError([given as Problem]);
  const text = new TextDecoder().decode(bytes);
  return readViews(text, given === undefined ? {} : { length: given.value });
}

function readFile(asked: FileAsked): FileRead {
  const reading = readingOf(asked);
  const document = parseDocument(asked.jobText);
  const jobName = asked.name.replace(/\.\w+$/, "").slice(0, 100) || "bait";
  document.commentBefore = null;
  document.set("name", jobName);
  document.set("bait", baitKeys(reading.length, chooseStations(reading), asked.unit));
  return {
    jobText: document.toString({ lineWidth: 110 }),
    jobName,
    found: reading.findings.map(findingLine),
    length: reading.length,
  };
}

function reply(asked: FileAsked): FileReply {
  try {
    return { read: readFile(asked) };
  } catch (error) {
    if (error instanceof InputError) {
      // what is wrong with a file as a whole is said of the file
      const problems = error.problems.map((p) => (p.path === "" ? { ...p, path: asked.name } : p));
      return { problems };
    }
    return { fault: error instanceof Error ? error.message : String(error) };
  }
}

addEventListener("message", (e: MessageEvent<FileAsked>) => postMessage(reply(e.data)));

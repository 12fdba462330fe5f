/** What `castclock shape FILE` reads, and how a shape gets into a job file. */
import { parseDocument } from "yaml";
import { checkJob } from "../../lib/job/job.ts";
import { parseJobText } from "../../lib/job/text.ts";
import { withSetting } from "../../lib/job/with-setting.ts";
import type { ShapeOptions } from "../../lib/questions/shape/shape.ts";
import { baitKeys } from "../../lib/questions/shape/stations.ts";
import { chooseStations } from "../../lib/shape/choose-stations.ts";
import { type DrawingOptions, readViews } from "../../lib/shape/drawing-reading.ts";
import { type MeshOptions, readMesh } from "../../lib/shape/mesh-reading.ts";
import type { Kind } from "../../lib/units/kinds.ts";
import { nearest } from "../../lib/units/nearest.ts";
import { InputError, type Problem } from "../../lib/units/problem.ts";
import { isProblem, readQuantity } from "../../lib/units/quantity.ts";
import { bytesOf, textOf, type World } from "./files.ts";

interface Setting {
  readonly path: string;
  readonly typed: string;
}

interface GivenShape {
  /** As typed: tells the unit system. */
  readonly text: string;
  /** The job with the shape in it. */
  readonly raw: Record<string, unknown>;
  readonly options: ShapeOptions;
}

/** Two million triangles in binary are 100 MB, as text up to 500. */
const MOST_MESH = 600_000_000;
const MOST_DRAWING = 8_000_000;

type Source = "mesh" | "drawing" | "stations";

/** Words that may be set of a shape by what it is read from, beside the paths of a job. */
const WORDS: Readonly<Record<Source, Readonly<Record<string, readonly string[]>>>> = {
  mesh: { unit: ["mm", "in", "cm", "m"], up: ["x", "y", "z"], nose: ["low", "high"] },
  // in which unit its lengths are written
  drawing: { unit: ["mm", "in"], nose: ["left", "right"], form: ["round", "flat", "lens"] },
  stations: {},
};
const WEIGHED: Readonly<Record<string, Kind>> = { weight: "mass", displaced: "volume" };
/** The same of quantities: a mesh has its size, a drawing's is told by a mark or by the bait's length. */
const QUANTITIES: Readonly<Record<Source, Readonly<Record<string, Kind>>>> = {
  mesh: WEIGHED,
  drawing: { mark: "length", length: "length", ...WEIGHED },
  stations: WEIGHED,
};
const SETTABLE = new Set(
  [...Object.values(WORDS), ...Object.values(QUANTITIES)].flatMap((known) => Object.keys(known)),
);
const METERS = { mm: 1e-3, in: 0.0254, cm: 1e-2, m: 1 } as const;

interface ShapeSettings {
  readonly words: Readonly<Record<string, string>>;
  readonly sizes: Readonly<Record<string, number>>;
  readonly job: readonly Setting[];
}

/** The file as a job that has its bait; a job that is to be completed lends what else it says. */
export function shapeGiven(
  path: string,
  settings: readonly Setting[],
  target: string | undefined,
  world: World,
): GivenShape {
  const kind = /\.(stl|svg)$/i.exec(path)?.[1]?.toLowerCase();
  const source = kind === "stl" ? "mesh" : kind === "svg" ? "drawing" : "stations";
  const known = settingsOf(settings, source);
  const { sizes } = known;
  const weighed = {
    ...(sizes["weight"] !== undefined && { weight: sizes["weight"] }),
    ...(sizes["displaced"] !== undefined && { displaced: sizes["displaced"] }),
  };
  if (source === "stations") {
    const text = textOf(world, path);
    return { text, raw: withSettings(parseJobText(text), known.job), options: weighed };
  }
  const reading = source === "mesh" ? meshOf(path, known, world) : drawingOf(path, known, world);
  const unit = known.words["unit"] === "in" ? "in" : "mm";
  const there = target !== undefined && "bytes" in world.size(target);
  const text = there ? textOf(world, target) : "";
  const base = text.trim() === "" ? {} : parseJobText(text);
  const bait = baitKeys(reading.length, chooseStations(reading), unit);
  return {
    text: text === "" ? `10 ${unit}` : text,
    raw: withSettings({ name: nameOf(path), ...base, bait }, known.job),
    options: { ...weighed, reading },
  };
}

function withSettings(raw: Record<string, unknown>, settings: readonly Setting[]) {
  return settings.reduce((job, { path, typed }) => withSetting(job, path, typed), raw);
}

const nameOf = (path: string) =>
  path
    .replace(/^.*[\\/]/, "")
    .replace(/\.\w+$/, "")
    .slice(0, 100) || "bait";

function meshOf(path: string, { words }: ShapeSettings, world: World) {
  const bytes = bytesOf(world, path, MOST_MESH);
  const { unit = "mm", up, nose } = words as Partial<Record<string, string>>;
  const options: MeshOptions = {
    unit: METERS[unit as keyof typeof METERS],
    ...(up !== undefined && { up: up as "x" }),
    ...((nose === "low" || nose === "high") && { nose }),
  };
  return { ...inFile(path, () => readMesh(bytes, options)), source: "mesh" as const };
}

function drawingOf(path: string, { words, sizes }: ShapeSettings, world: World) {
  const text = textOf(world, path, MOST_DRAWING);
  const { form, nose } = words;
  const options: DrawingOptions = {
    ...(sizes["mark"] !== undefined && { mark: sizes["mark"] }),
    ...(sizes["length"] !== undefined && { length: sizes["length"] }),
    ...(form !== undefined && { form: form as "round" }),
    ...((nose === "left" || nose === "right") && { nose }),
  };
  return { ...inFile(path, () => readViews(text, options)), source: "drawing" as const };
}

/** Problems with a file as a whole are said of the file. */
function inFile<T>(path: string, read: () => T): T {
  try {
    return read();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(error.problems.map((p) => (p.path === "" ? { ...p, path } : p)));
  }
}

function settingsOf(settings: readonly Setting[], source: Source): ShapeSettings {
  const [ofWords, ofQuantities] = [WORDS[source], QUANTITIES[source]];
  const words: Record<string, string> = {};
  const sizes: Record<string, number> = {};
  const job: Setting[] = [];
  const problems: Problem[] = [];
  for (const setting of settings) {
    const { path, typed } = setting;
    if (/[.[]/.test(path) || path === "name") job.push(setting);
    else if (Object.hasOwn(ofWords, path)) {
      const possible = ofWords[path]!;
      if (possible.includes(typed)) words[path] = typed;
      else problems.push({ code: "unknown_word", path, given: typed.slice(0, 60), possible });
    } else if (Object.hasOwn(ofQuantities, path)) {
      const read = readQuantity(typed, ofQuantities[path]!, path);
      if (isProblem(read)) problems.push(read);
      else if (read.value > 0) sizes[path] = read.value;
      else problems.push({ code: "not_positive", path, given: typed });
    } else {
      const possible = [...Object.keys(ofWords), ...Object.keys(ofQuantities)];
      const suggestion = nearest(path, possible);
      problems.push({
        code: SETTABLE.has(path) ? "not_of_this_shape" : "unknown_key",
        given: source,
        path: path.slice(0, 60),
        possible,
        ...(suggestion !== undefined && { suggestion }),
      });
    }
  }
  if (problems.length > 0) throw new InputError(problems);
  return { words, sizes, job };
}

/** The bait into the job file: the rest of it, comments included, stays as it was. */
export function writeJob(target: string, { raw }: GivenShape, world: World): void {
  const there = "bytes" in world.size(target);
  const document = parseDocument(there ? textOf(world, target) : "{}");
  for (const [key, value] of Object.entries(raw)) {
    const known = document.has(key) && key !== "bait";
    if (!known) document.set(key, document.createNode(value, { flow: false }));
  }
  const root = document.contents as { flow?: boolean } | null;
  if (root) root.flow = false;
  flowOutlines(document);
  const text = document.toString({ lineWidth: 110 });
  checkJob(parseJobText(text));
  const problem = world.write(target, text);
  if (problem) throw new InputError([problem]);
  world.complain(`The bait stands in ${target} now.\n`);
}

/** Outlines are long: several points to a line. */
function flowOutlines(document: ReturnType<typeof parseDocument>): void {
  for (let i = 0; document.hasIn(["bait", "stations", i]); i++) {
    const outline = document.getIn(["bait", "stations", i, "outline"], true) as { flow?: boolean };
    if (outline) outline.flow = true;
    const station = document.getIn(["bait", "stations", i], true) as { flow?: boolean };
    if (station && !outline) station.flow = true;
  }
}

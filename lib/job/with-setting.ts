/** A job file with one value typed in. */
import { isScalar, parseDocument } from "yaml";
import { InputError, type Problem } from "../units/problem.ts";
import { isProblem, readQuantity, valueIn } from "../units/quantity.ts";
import { checkJob } from "./job.ts";
import { BAIT_THICKNESS, STATION_SIZE } from "./keys-bait.ts";
import type { Bait } from "./types.ts";

/** The key along with which stations are scaled. */
export const THICKNESS = "bait.thickness";

type Raw = Record<string, unknown>;

/**
 * A job with one value typed in: what `--set bait.thickness="18 mm"` does, or a dial of a page. The thickness of a bait that was
 * measured or drawn scales all of its stations alike, as `withThickness` does: else it would be passed over, or contradict them.
 *
 * @param raw parsed job file; it is not changed
 * @param path such as `bait.thickness` or `bait.stations[1].width`
 * @param typed as it would stand in the file
 * @throws InputError `bad_path` when the path can't stand in this job; what is wrong with a thickness that its stations can't be
 * @example withSetting({ bait: { thickness: "16 mm" } }, "bait.thickness", "18 mm") // { bait: { thickness: "18 mm" } }
 */
export function withSetting(raw: unknown, path: string, typed: string): Record<string, unknown> {
  if (path !== THICKNESS) return withPlain(raw, path, typed);
  const by = stationsScale(raw, typed);
  return by === null ? withPlain(raw, path, typed) : withScale(raw as Raw, by, typed);
}

function withPlain(raw: unknown, path: string, typed: string): Raw {
  const refuse = () =>
    new InputError([{ code: "bad_path", path: path.slice(0, 60), given: typed.slice(0, 60) }]);
  if (!/^[A-Za-z]\w*(?:\.[A-Za-z]\w*|\[\d{1,3}\])*$/.test(path) || path.length > 120)
    throw refuse();
  const keys = path.split(/[.[\]]+/).filter((key) => key !== "");
  const copy = structuredCloned(raw);
  let place: Record<string, unknown> = copy;
  for (const [i, key] of keys.entries()) {
    if (Array.isArray(place) && !(Number(key) < place.length)) throw refuse();
    if (i === keys.length - 1) {
      place[key] = scalarOf(typed);
      break;
    }
    const inside = Object.hasOwn(place, key) ? place[key] : undefined;
    if (inside === undefined || inside === null) {
      if (/^\d+$/.test(keys[i + 1]!)) throw refuse();
      place[key] = {};
    } else if (typeof inside !== "object") throw refuse();
    place = place[key] as Record<string, unknown>;
  }
  return copy;
}

/** Plain data copied; `structuredClone` is no part of the language. */
function structuredCloned(raw: unknown): Record<string, unknown> {
  if (typeof raw !== "object" || raw === null || Array.isArray(raw))
    throw new InputError([{ code: "not_a_job", path: "" }]);
  const copy = (x: unknown): unknown =>
    Array.isArray(x)
      ? x.map(copy)
      : typeof x === "object" && x !== null
        ? Object.fromEntries(Object.entries(x).map(([key, value]) => [key, copy(value)]))
        : x;
  return copy(raw) as Record<string, unknown>;
}

/** Typed text as YAML reads one value: a number, a word, or text. Nothing nested. */
function scalarOf(typed: string): unknown {
  const tree = parseDocument(typed, { version: "1.2" });
  // `*name` would be looked up elsewhere in the file
  const plain = tree.errors.length === 0 && (tree.contents === null || isScalar(tree.contents));
  const value: unknown = plain ? tree.toJS() : typed;
  return typeof value === "object" && value !== null ? typed : value;
}

/** The bait of a file whose stations were measured or drawn; null: there is none, or it can't be read. */
function measuredBait(raw: unknown): Bait | null {
  try {
    // what a log has taught moves what was typed, and is kept
    const { fitted: _, ...plain } = raw as Raw;
    const { bait } = checkJob(plain).job;
    return bait.even === null ? bait : null;
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

const meters = (text: unknown): number => {
  const read = readQuantity(String(text), "length");
  return isProblem(read) ? Number.NaN : read.value;
};

/** By how much all stations are scaled where this thickness is typed; null: there are none, or it is no thickness. */
export function stationsScale(raw: unknown, typed: string): number | null {
  const thickness = meters(typed);
  const [least, most] = [meters(BAIT_THICKNESS.least), meters(BAIT_THICKNESS.most)];
  // its own key tells what is wrong with it
  if (!(thickness >= least && thickness <= most)) return null;
  const bait = measuredBait(raw);
  return bait && thickness / bait.thickness;
}

/** Across, along the parting line, above the axis: what of a station goes along with its thickness. */
const ACROSS = ["width", "height", "rise"];

function withScale(raw: Raw, by: number, typed: string): Raw {
  const copy = structuredCloned(raw);
  const bait = copy["bait"] as Raw;
  const stations = (bait["stations"] ?? []) as Raw[];
  const scaled = (text: unknown): unknown => {
    const read = readQuantity(String(text), "length");
    if (isProblem(read)) return text;
    return `${Number(valueIn(read.value * by, read.unit, "length").toPrecision(10))} ${read.unit}`;
  };
  for (const own of [bait, ...stations]) {
    const { outline } = own;
    if (Array.isArray(outline))
      own["outline"] = outline.map((corner: unknown[]) => corner.map(scaled));
  }
  for (const station of stations)
    for (const key of ACROSS)
      if ((station[key] ?? null) !== null) station[key] = scaled(station[key]);
  refuseScale(stations, typed);
  // beside stations it only says again what they measure
  if ((bait["thickness"] ?? null) !== null) bait["thickness"] = scalarOf(typed);
  return copy;
}

/** A thickness at which a station would be thinner or wider than one may be. */
function refuseScale(stations: readonly Raw[], typed: string): void {
  const read = readQuantity(typed, "length");
  if (isProblem(read)) return;
  const sizes = stations.flatMap(({ width, height }) => [meters(width), meters(height)]);
  // never past what is possible by its rounding
  const bound = (size: number, of: number, away: number) => {
    const at = (size / of) * read.value * (1 + away * 5e-4);
    return `${Number(valueIn(at, read.unit, "length").toPrecision(4))} ${read.unit}`;
  };
  const [least, most] = [meters(STATION_SIZE.least), meters(STATION_SIZE.most)];
  const [thin, wide] = [Math.min(...sizes), Math.max(...sizes)];
  const problems: Problem[] = [];
  const at = { path: THICKNESS, given: typed };
  if (thin < least * (1 - 1e-9))
    problems.push({ code: "stations_scaled", ...at, least: bound(least, thin, 1) });
  if (wide > most * (1 + 1e-9))
    problems.push({ code: "stations_scaled", ...at, most: bound(most, wide, -1) });
  if (problems.length > 0) throw new InputError(problems);
}

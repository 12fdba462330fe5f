/** What the dials of a page stand at: text to SI, bounds, steps; and changing them in the page's text. */
import type { JobReading } from "../../../lib/job/job.ts";
import { type Kind, kinds } from "../../../lib/units/kinds.ts";
import type { Problem } from "../../../lib/units/problem.ts";
import { isProblem, type Quantity, readQuantity, valueIn } from "../../../lib/units/quantity.ts";
import type {
  Dial,
  DialReading,
  DialValue,
  Page,
  PageProblem,
  QuantityDial,
} from "../page/types.ts";

/** A job as the dials see it: the file's own words, and what they mean. */
export interface OpenJob {
  /** Parsed YAML, texts as typed. */
  readonly raw: unknown;
  readonly reading: JobReading;
}

export interface DialsReading {
  readonly readings: readonly DialReading[];
  readonly problems: readonly PageProblem[];
}

/** Order in which a kind is guessed from a unit; kinds that share a unit (temperature difference) are never guessed. */
const GUESSED: readonly Kind[] = [
  "length",
  "temperature",
  "duration",
  "mass",
  "volume",
  "ratio",
  "speed",
  "area",
  "density",
  "conductivity",
  "specificHeat",
  "conductance",
  "energyPerMass",
  "power",
  "flux",
  "flow",
  "viscosity",
];

/** The kind of a quantity dial: as it says, or from the unit of its value. */
export function kindOf(dial: QuantityDial): Kind | undefined {
  if (dial.quantity in kinds) return dial.quantity as Kind;
  if (dial.quantity !== "") return undefined;
  // the value may be half typed; its bounds then still say what it is
  for (const text of [dial.value, dial.min, dial.max]) {
    const kind = GUESSED.find((k) => text !== undefined && !isProblem(readQuantity(text, k)));
    if (kind !== undefined) return kind;
  }
  return undefined;
}

/** Where every dial of the page stands. A dial that can't be read has no `value` and a problem; all are listed. */
export function readDials(page: Page, job?: OpenJob): DialsReading {
  const problems: PageProblem[] = [];
  const readings = page.dials.map((dial) => readDial(dial, job, problems));
  return { readings, problems };
}

function readDial(dial: Dial, job: OpenJob | undefined, problems: PageProblem[]): DialReading {
  if (dial.value === undefined) return readFromJob(dial, job, problems);
  if (dial.kind === "choice") {
    return { dial, text: String(dial.value), value: dial.value, from: "page" };
  }
  if (dial.kind === "flag") {
    return { dial, text: dial.value ? "yes" : "no", value: dial.value, from: "page" };
  }
  const value = quantityValue(dial, String(dial.value), problems);
  return { dial, text: String(dial.value), ...(value !== undefined && { value }), from: "page" };
}

function readFromJob(dial: Dial, job: OpenJob | undefined, problems: PageProblem[]): DialReading {
  const path = dial.job ?? "";
  const complain = (code: string): DialReading => {
    problems.push({ code, line: dial.line, name: dial.name, given: path });
    return { dial, text: "", from: "job" };
  };
  if (job === undefined) return complain("dial.noJob");
  const value = atPath(job.reading.job, path);
  const from = job.reading.defaults.includes(path) ? "default" : "job";
  if (dial.kind === "choice" || dial.kind === "flag") {
    const named =
      typeof value === "object" && value !== null && "name" in value ? value.name : value;
    if (dial.kind === "flag" && typeof named === "boolean") {
      return { dial, text: named ? "yes" : "no", value: named, from };
    }
    if (dial.kind === "choice" && typeof named === "string") {
      return { dial, text: named, value: named, from };
    }
    return complain("dial.jobPath");
  }
  if (typeof value !== "number") return complain("dial.jobPath");
  const typed = atPath(job.raw, path);
  const kind = dial.kind === "quantity" ? kindOf(dial) : undefined;
  if (dial.kind === "quantity" && kind === undefined) return complain("dial.kind");
  const text =
    typeof typed === "string" || typeof typed === "number"
      ? String(typed)
      : kind === undefined
        ? String(value)
        : textOf(value, unitOfStep(dial) ?? kinds[kind].propose, kind, 4);
  return { dial, text, value, from };
}

/** A default is shown in the unit in which the page steps it: there it is round. */
function unitOfStep(dial: Dial): string | undefined {
  const step = dial.kind === "quantity" ? dial.step : undefined;
  return step === undefined ? undefined : /[a-zA-Z%].*$/.exec(step)?.[0];
}

/** A value by its path in plain data: `bait.stations[0].width`. Own keys only. */
export function atPath(data: unknown, path: string): unknown {
  let at = data;
  for (const key of path.match(/[^.[\]]+/g) ?? []) {
    if (typeof at !== "object" || at === null || !Object.hasOwn(at, key)) return undefined;
    at = (at as Record<string, unknown>)[key];
  }
  return at;
}

/** A typed quantity or number in SI, or undefined with its problems noted. */
function quantityValue(
  dial: QuantityDial,
  text: string,
  problems: PageProblem[],
): DialValue | undefined {
  const at = { line: dial.line, name: dial.name, given: text };
  const read = readText(dial, text);
  if (read === undefined) {
    problems.push({ code: "dial.kind", ...at, possible: Object.keys(kinds) });
    return undefined;
  }
  if (isProblem(read)) {
    problems.push({
      code: read.code,
      ...at,
      ...(read.possible !== undefined && { possible: read.possible }),
      ...(read.suggestion !== undefined && { suggestion: read.suggestion }),
    });
    return undefined;
  }
  const before = problems.length;
  const bound = (key: "min" | "max" | "step") => {
    const typed = dial[key];
    if (typed === undefined) return undefined;
    const limit = readText(dial, typed, key === "step");
    if (limit === undefined || isProblem(limit)) {
      problems.push({ code: "dial.bound", ...at, given: `${key}: ${typed}` });
      return undefined;
    }
    return limit.value;
  };
  const least = bound("min");
  const most = bound("max");
  const step = bound("step");
  if (least !== undefined && most !== undefined && !(least < most)) {
    problems.push({ code: "dial.bounds", ...at, least: dial.min ?? "", most: dial.max ?? "" });
  }
  if (step !== undefined && !(step > 0)) {
    problems.push({ code: "dial.step", ...at, given: dial.step ?? "" });
  }
  const room = 1e-9 * Math.max(Math.abs(least ?? 0), Math.abs(most ?? 0), Math.abs(read.value));
  if (
    (least !== undefined && !(read.value >= least - room)) ||
    (most !== undefined && !(read.value <= most + room))
  ) {
    problems.push({
      code: "dial.range",
      ...at,
      ...(dial.min !== undefined && { least: dial.min }),
      ...(dial.max !== undefined && { most: dial.max }),
    });
  }
  return problems.length > before ? undefined : read.value;
}

/** A dial's text in SI, or the problem with it; undefined when its kind is unknown. */
export function readText(
  dial: QuantityDial,
  text: string,
  difference = false,
): Quantity | Problem | undefined {
  if (dial.kind === "number") {
    // a comma is a decimal comma, as everywhere
    const plain = /^[+-]?\d+(?:[.,]\d+)?(?:e[+-]?\d+)?$/i.test(text);
    const value = plain ? Number(text.replace(",", ".")) : Number.NaN;
    if (!Number.isFinite(value)) return { code: "not_a_number", path: "", given: text };
    return { value, unit: "" };
  }
  const kind = kindOf(dial);
  if (kind === undefined) return undefined;
  return readQuantity(text, difference && kind === "temperature" ? "temperatureDifference" : kind);
}

/** SI as text in a unit, without digits that nobody typed. */
export function textOf(value: number, unit: string, kind: Kind, digits = 7): string {
  return `${shortNumber(valueIn(value, unit, kind), digits)} ${unit}`;
}

export function shortNumber(value: number, digits = 7): string {
  return String(Number(value.toPrecision(digits)));
}

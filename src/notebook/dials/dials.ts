/** What the dials of a page stand at: by the page's own text, or by the job's. */
import type { JobReading } from "../../../lib/job/job.ts";
import { countingPath } from "../../../lib/models/start.ts";
import { type UnitSystem, unitFor } from "../../../lib/units/display.ts";
import { type Kind, kinds } from "../../../lib/units/kinds.ts";
import { isProblem, readQuantity, valueIn } from "../../../lib/units/quantity.ts";
import { kindOf, quantityValue, textOf } from "./quantity-dial.ts";
import type { Dial, DialReading, DialValue, PageProblem, QuantityDial } from "./types.ts";

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

/** Where every dial of the page stands. A dial that can't be read has no `value` and a problem; all are listed. */
export function readDials(
  page: { readonly dials: readonly Dial[] },
  job?: OpenJob,
  system?: UnitSystem,
): DialsReading {
  const problems: PageProblem[] = [];
  const readings = page.dials.map((dial) => inReaderUnit(readDial(dial, job, problems), system));
  return { readings, problems };
}

/** A temperature that nobody typed stands in the reader's unit. */
function inReaderUnit(reading: DialReading, system: UnitSystem | undefined): DialReading {
  const { dial, value, from } = reading;
  if (!system || from !== "default" || dial.kind !== "quantity" || typeof value !== "number")
    return reading;
  return kindOf(dial) === "temperature"
    ? { ...reading, text: textOf(value, unitFor("temperature", system), "temperature", 3) }
    : reading;
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
  const named = dial.job ?? dial.start ?? "";
  // a dial stands at what counts
  const path = job === undefined ? named : countingPath(named, job.reading.job);
  const complain = (code: string): DialReading => {
    problems.push({ code, line: dial.line, name: dial.name, given: path });
    return { dial, text: "", from: "job" };
  };
  if (job === undefined) return complain("dial.noJob");
  const value = atPath(job.reading.job, path);
  const from = job.reading.defaults.includes(path) ? "default" : "job";
  if (dial.kind === "choice" || dial.kind === "flag") {
    const word = wordIn(value);
    if (typeof word !== (dial.kind === "flag" ? "boolean" : "string")) {
      return complain("dial.jobPath");
    }
    const text = typeof word === "boolean" ? (word ? "yes" : "no") : String(word);
    return { dial, text, value: word as DialValue, from };
  }
  if (typeof value !== "number") return complain("dial.jobPath");
  if (dial.kind === "quantity" && kindOf(dial) === undefined) return complain("dial.kind");
  // a default follows from nothing that was typed
  const part = from === "default" ? undefined : atPath(job.raw, path.split(".")[0] ?? "");
  return { dial, text: textInJob(dial, atPath(job.raw, path), part, value), value, from };
}

/** A material stands for its name. */
function wordIn(value: unknown): unknown {
  return typeof value === "object" && value !== null && "name" in value ? value.name : value;
}

/**
 * As typed in the job, or as what it follows from is typed there: the thickest of stations in inches stands in inches. A
 * default is shown in the unit in which the page steps it: there it is round.
 */
function textInJob(dial: QuantityDial, typed: unknown, part: unknown, value: number): string {
  if (typeof typed === "string" || typeof typed === "number") return String(typed);
  const kind = dial.kind === "quantity" ? kindOf(dial) : undefined;
  if (kind === undefined) return String(value);
  const beside = typedBeside(part, kind);
  const same = beside.find((one) => Math.abs(one.value - value) <= 1e-9 * Math.abs(value));
  if (same) return same.text;
  const unit = dial.step === undefined ? undefined : /[a-zA-Z%].*$/.exec(dial.step)?.[0];
  const shown = beside[0]?.unit ?? unit ?? kinds[kind].propose;
  const close = Math.abs(valueIn(value, shown, kind)) < 100 ? 3 : 4;
  return textOf(value, shown, kind, close);
}

interface Typed {
  readonly text: string;
  readonly value: number;
  readonly unit: string;
}

/** Quantities of a kind that are typed in a part of the job, in their order. */
function typedBeside(part: unknown, kind: Kind): Typed[] {
  if (typeof part === "string") {
    const read = readQuantity(part, kind);
    return isProblem(read) ? [] : [{ text: part, value: read.value, unit: read.unit }];
  }
  if (typeof part !== "object" || part === null) return [];
  return Object.values(part).flatMap((one) => typedBeside(one, kind));
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

/** Reads the YAML of a fenced `dials` block into dials; every mistake with its line. Values stay text as typed. */
import { isMap, isScalar, isSeq, LineCounter, type Pair, parseDocument, type YAMLMap } from "yaml";
import type { Dial, PageProblem } from "./types.ts";

export const KEYS = [
  "label",
  "help",
  "kind",
  "value",
  "min",
  "max",
  "step",
  "choices",
  "job",
  "start",
] as const;
type Key = (typeof KEYS)[number];

/** Names that a working has already, or that the language keeps for itself. */
const TAKEN = new Set(
  `show job quick arguments eval await async yield let static undefined NaN Infinity break case catch class
  const continue debugger default delete do else enum export extends false finally for function if implements
  import in instanceof interface new null package private protected public return super switch this throw true
  try typeof var void while with`.split(/\s+/),
);

const MOST_DIALS = 60;
/** Characters of a block: room for the most dials with all they can say. */
const MOST_CHARACTERS = 20_000;

interface DialsRead {
  readonly dials: readonly Dial[];
  readonly problems: readonly PageProblem[];
}

interface Entry {
  readonly text: string;
  readonly flag?: boolean;
  readonly isNumber: boolean;
  readonly line: number;
}

/** `bodyLine` is the page's line of the block's first line; `earlier` are the dials of blocks above. */
export function readDialsBlock(
  body: string,
  bodyLine: number,
  earlier: readonly Dial[],
): DialsRead {
  const problems: PageProblem[] = [];
  const dials: Dial[] = [];
  if (body.length > MOST_CHARACTERS) {
    const size = { given: `${body.length}`, most: `${MOST_CHARACTERS}` };
    return { dials, problems: [{ code: "dials.long", line: bodyLine, ...size }] };
  }
  const counter = new LineCounter();
  const document = parseDocument(body, { lineCounter: counter, merge: false });
  const lineOf = (offset: number | undefined) =>
    bodyLine + Math.max(counter.linePos(offset ?? 0).line, 1) - 1;
  for (const error of document.errors) {
    problems.push({
      code: error.code === "DUPLICATE_KEY" ? "dial.twice" : "dials.yaml",
      line: lineOf(error.pos[0]),
      given: error.message.split("\n")[0]?.replace(/ at line \d+, column \d+:?$/, "") ?? "",
    });
  }
  if (problems.length > 0 || document.contents === null) return { dials, problems };
  if (!isMap(document.contents)) {
    problems.push({ code: "dials.notNames", line: bodyLine });
    return { dials, problems };
  }
  const names = new Set(earlier.map((d) => d.name));
  for (const pair of document.contents.items) {
    const start = isScalar(pair.key) ? pair.key.range?.[0] : undefined;
    const line = lineOf(start);
    const name = isScalar(pair.key) ? String(pair.key.value) : "";
    const complain = (code: string, more: Partial<PageProblem> = {}) => {
      problems.push({ code, line, name, ...more });
    };
    if (names.size >= MOST_DIALS) {
      complain("dials.many", { most: `${MOST_DIALS}` });
      break;
    }
    if (!/^[a-zA-Z][a-zA-Z0-9]{0,39}$/.test(name) || TAKEN.has(name)) {
      complain("dial.name", { given: name });
      continue;
    }
    if (names.has(name)) {
      complain("dial.twice", { given: name });
      continue;
    }
    if (!isMap(pair.value)) {
      complain("dial.notKeys");
      continue;
    }
    names.add(name);
    const before = problems.length;
    const declared = entriesOf(pair.value, name, lineOf, problems);
    if (problems.length > before) continue;
    const dial = dialOf(name, line, declared, problems);
    if (dial !== undefined) dials.push(dial);
  }
  return { dials, problems };
}

function entriesOf(
  map: YAMLMap,
  name: string,
  lineOf: (offset: number | undefined) => number,
  problems: PageProblem[],
): { entries: Map<Key, Entry>; choices: string[] | undefined } {
  const entries = new Map<Key, Entry>();
  let choices: string[] | undefined;
  for (const { key, value } of map.items as Pair[]) {
    const line = lineOf(isScalar(key) ? key.range?.[0] : undefined);
    const word = isScalar(key) ? String(key.value) : "";
    if (!(KEYS as readonly string[]).includes(word)) {
      problems.push({ code: "dial.key", line, name, given: word, possible: KEYS });
      continue;
    }
    if (word === "choices") {
      const texts = isSeq(value) ? value.items.map((i) => (isScalar(i) ? textOf(i) : "")) : [];
      if (texts.length < 2 || texts.length > 40 || texts.some((t) => t === "")) {
        problems.push({ code: "dial.choices", line, name });
      } else choices = texts;
      continue;
    }
    if (!isScalar(value) || value.value === null) {
      problems.push({ code: "dial.plain", line, name, given: word });
      continue;
    }
    const text = textOf(value);
    if (text.length > 300) {
      problems.push({ code: "dial.long", line, name, given: word, most: "300" });
      continue;
    }
    entries.set(word as Key, {
      text,
      line,
      isNumber: typeof value.value === "number",
      ...(typeof value.value === "boolean" && { flag: value.value }),
    });
  }
  return { entries, choices };
}

/** A scalar as the person typed it. */
function textOf(scalar: { value: unknown; source?: string }): string {
  return (typeof scalar.value === "string" ? scalar.value : (scalar.source ?? "")).trim();
}

/** What a dial's entries say, before its kind is known. */
interface Declared {
  readonly base: Pick<Dial, "name" | "line" | "label" | "help" | "job" | "start">;
  readonly entries: ReadonlyMap<Key, Entry>;
  readonly choices: string[] | undefined;
}

function dialOf(
  name: string,
  line: number,
  { entries, choices }: Pick<Declared, "entries" | "choices">,
  problems: PageProblem[],
): Dial | undefined {
  const text = (key: Key) => entries.get(key)?.text;
  const label = text("label");
  const help = text("help");
  const job = text("job");
  const start = text("start");
  const before = problems.length;
  if (label === undefined) problems.push({ code: "dial.label", line, name });
  if (!entries.has("value") && job === undefined && start === undefined) {
    problems.push({ code: "dial.value", line, name });
  }
  const base = {
    name,
    line,
    label: label ?? name,
    ...(help && { help }),
    ...(job && { job }),
    ...(start && { start }),
  };
  const dial = dialOfKind({ base, entries, choices }, problems);
  return problems.length > before ? undefined : dial;
}

function dialOfKind(declared: Declared, problems: PageProblem[]): Dial {
  const { entries, choices } = declared;
  const kind = entries.get("kind")?.text;
  if (choices !== undefined || kind === "choice") return choiceOf(declared, problems);
  if (entries.get("value")?.flag !== undefined || kind === "flag")
    return flagOf(declared, problems);
  return quantityOf(declared);
}

function choiceOf({ base, entries, choices }: Declared, problems: PageProblem[]): Dial {
  const { name, line } = base;
  const value = entries.get("value");
  problems.push(...unfitting(name, entries));
  if (choices === undefined) problems.push({ code: "dial.choices", line, name });
  const possible = choices ?? [];
  if (value !== undefined && choices !== undefined && !possible.includes(value.text)) {
    problems.push({ code: "dial.choice", line: value.line, name, given: value.text, possible });
  }
  return { ...base, kind: "choice", choices: possible, ...(value && { value: value.text }) };
}

function flagOf({ base, entries }: Declared, problems: PageProblem[]): Dial {
  const { name } = base;
  const value = entries.get("value");
  problems.push(...unfitting(name, entries));
  if (value !== undefined && value.flag === undefined) {
    problems.push({ code: "dial.flag", line: value.line, name, given: value.text });
  }
  return { ...base, kind: "flag", ...(value?.flag !== undefined && { value: value.flag }) };
}

/** Bounds and steps belong to numbers alone. */
function unfitting(name: string, entries: Declared["entries"]): PageProblem[] {
  return (["min", "max", "step"] as const).flatMap((key) => {
    const entry = entries.get(key);
    return entry ? [{ code: "dial.unfit", line: entry.line, name, given: key }] : [];
  });
}

function quantityOf({ base, entries }: Declared): Dial {
  const kind = entries.get("kind")?.text;
  const value = entries.get("value");
  const plain = kind === "number" || (kind === undefined && value?.isNumber === true);
  const given = (["value", "min", "max", "step"] as const).flatMap((key) => {
    const entry = entries.get(key);
    return entry ? [[key, entry.text] as const] : [];
  });
  return {
    ...base,
    kind: plain ? "number" : "quantity",
    quantity: plain ? "number" : (kind ?? ""),
    ...Object.fromEntries(given),
  };
}

/** Words that may be meant by what was begun: the library's, with the first lines of their docstrings. */
import { libraryWords } from "virtual:library-words";

export interface Word {
  readonly name: string;
  /** What it is, in words. */
  readonly doc: string;
}

const SHOW = ["answer", "table", "figure", "field", "note", "timeline", "lesson"];

const all: readonly Word[] = [
  ...libraryWords.map(({ name, doc }) => ({ name, doc })),
  ...SHOW.map((kind) => ({ name: `show.${kind}`, doc: `Shows a ${kind} on the sheet.` })),
  { name: "job", doc: "The chosen job, in SI and kelvin." },
  { name: "quick", doc: "True while a dial is being turned: answer fast, roughly." },
];

export interface Begun {
  /** Where the word begins, from the start of the line. */
  readonly from: number;
  readonly words: readonly Word[];
}

const MOST = 6;

/** What a line up to the cursor may go on with; nothing for a word of one letter or one that is whole. */
export function begun(line: string): Begun | undefined {
  const typed = /[A-Za-z_][\w.]*$/.exec(line)?.[0];
  if (typed === undefined || typed.length < 2) return undefined;
  const small = typed.toLowerCase();
  const words = all
    .filter(({ name }) => name.toLowerCase().startsWith(small) && name !== typed)
    .sort((a, b) => a.name.length - b.name.length || a.name.localeCompare(b.name))
    .slice(0, MOST);
  return words.length === 0 ? undefined : { from: line.length - typed.length, words };
}

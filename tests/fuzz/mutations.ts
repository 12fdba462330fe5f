/** Real files, changed as disks, editors and ill will change them. */
import fc from "fast-check";

/** What breaks readers: ends of ranges, marks of other syntaxes, names that every object has, and what is not seen. */
const TOKENS = [
  ...["null", "~", "true", "NaN", "-Infinity", "1e999", "-0", "0x1F", "1_000", "9".repeat(400)],
  ...[
    "{",
    "}",
    "[",
    "]",
    ":",
    ": ",
    "- ",
    "#",
    "&a ",
    "*a",
    "<<: ",
    "!!js/function ",
    "|",
    ">",
    "%YAML 9",
  ],
  ...[
    "__proto__",
    "constructor",
    "toString",
    "hasOwnProperty",
    "\0",
    "\u001b[2J",
    "\u202e",
    "\u2028",
  ],
  ...[
    "\ufeff",
    "\ud800",
    "e\u0301".repeat(40),
    "\t",
    "\r",
    "\n---\n",
    "\n",
    "  ".repeat(200),
    "\\",
    '"',
    "'",
  ],
  ...[
    "((((((((((",
    "a a a a a a a a a a a a",
    "<!DOCTYPE x [<!ENTITY a 'b'>]>",
    "&a;",
    "<![CDATA[",
    "<svg>",
  ],
  ...[
    "M0 0 L1e308 1e308 Z",
    "A 0 0 0 0 0 0 0",
    "````",
    "```dials\n",
    "```ts\n",
    "$$",
    "16 mm",
    "-40 degF",
  ],
  ...[
    "1 1/0 in",
    "3,5,7 mm",
    "5 minutes 3 hours",
    "facet normal",
    "vertex nan nan nan",
    ";",
    ",",
    ",,,,",
  ],
];

type Change = (text: string, other: string) => string;
const place = fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true });
const span = fc.tuple(place, fc.integer({ min: 1, max: 60 }));
const at = (text: string, share: number) => Math.floor(share * (text.length + 1));

const change: fc.Arbitrary<Change> = fc.oneof(
  fc.tuple(place, fc.constantFrom(...TOKENS)).map(
    ([share, token]): Change =>
      (text) =>
        text.slice(0, at(text, share)) + token + text.slice(at(text, share)),
  ),
  span.map(
    ([share, length]): Change =>
      (text) =>
        text.slice(0, at(text, share)) + text.slice(at(text, share) + length),
  ),
  fc.tuple(span, fc.integer({ min: 2, max: 30 })).map(
    ([[share, length], times]): Change =>
      (text) => {
        const i = at(text, share);
        return text.slice(0, i) + text.slice(i, i + length).repeat(times) + text.slice(i + length);
      },
  ),
  place.map(
    (share): Change =>
      (text) =>
        text.slice(0, at(text, share)),
  ),
  fc.tuple(span, place).map(
    ([[share, length], from]): Change =>
      (text, other) =>
        text.slice(0, at(text, share)) +
        other.slice(at(other, from), at(other, from) + length) +
        text.slice(at(text, share)),
  ),
  fc.tuple(place, fc.string({ unit: "binary", maxLength: 12 })).map(
    ([share, noise]): Change =>
      (text) =>
        text.slice(0, at(text, share)) + noise + text.slice(at(text, share) + noise.length),
  ),
  // a number for another
  fc.tuple(place, fc.constantFrom("0", "-1", "1e-320", "1e300", "999999999999", "0.1", "1/3")).map(
    ([share, number]): Change =>
      (text) => {
        const numbers = [...text.matchAll(/-?\d+(?:\.\d+)?/g)];
        const one = numbers[Math.floor(share * numbers.length)];
        if (one === undefined) return text;
        return text.slice(0, one.index) + number + text.slice(one.index + one[0].length);
      },
  ),
);

/** A file of these with up to six changes; now and then no file at all. */
export function mutated(files: readonly string[]): fc.Arbitrary<string> {
  const file = fc.constantFrom(...files);
  const changed = fc
    .tuple(file, file, fc.array(change, { minLength: 1, maxLength: 6 }))
    .map(([text, other, changes]) =>
      changes.reduce((t, apply) => apply(t, other), text).slice(0, 200_000),
    );
  return fc.oneof(
    { weight: 20, arbitrary: changed },
    { weight: 1, arbitrary: fc.string({ unit: "binary", maxLength: 300 }) },
    {
      weight: 1,
      arbitrary: fc.array(fc.constantFrom(...TOKENS), { maxLength: 40 }).map((t) => t.join("")),
    },
  );
}

/** The bytes of such a file with some changed. */
export function mutatedBytes(files: readonly Uint8Array[]): fc.Arbitrary<Uint8Array> {
  return fc
    .tuple(
      fc.constantFrom(...files),
      fc.array(fc.tuple(place, fc.integer({ min: 0, max: 255 })), { maxLength: 12 }),
      fc.option(place, { freq: 4 }),
    )
    .map(([bytes, changes, end]) => {
      const copy = Uint8Array.from(bytes);
      for (const [share, value] of changes) copy[Math.floor(share * copy.length)] = value;
      return end === null ? copy : copy.slice(0, Math.floor(end * copy.length));
    });
}

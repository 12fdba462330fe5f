/**
 * Numbers as they are typed in a workshop: `0.5`, `0,5`, `3/8`, `1 1/4`, `1-1/4`, `1e-3`.
 *
 * A comma is a decimal comma. Where it could as well separate thousands (`1,234` or `1,234.5`), the text is
 * refused: a comma that silently turns 1,23 into 123 spoils a batch.
 */
type TypedNumber =
  | { readonly value: number; readonly rest: string }
  | { readonly ambiguous: readonly string[] }
  | { readonly missing: true };

const MIXED = /^([+-]?)(\d+)(?:\s+|\s*[-\u2010-\u2013]\s*)(\d+)\s*\/\s*(\d+)(?![\d.,])/;
const FRACTION = /^([+-]?)(\d+)\s*\/\s*(\d+)(?![\d.,])/;
const DECIMAL = /^[+-]?(?:\d+(?:[.,]\d*)*|[.,]\d+)(?:[eE][+-]?\d+)?/;
const WITH_GLYPH = /^([+-]?)(\d*)\s*([\u00bc-\u00be\u215b-\u215e])/;
const GLYPHS: Readonly<Record<string, number>> = {
  "\u00bc": 1 / 4,
  "\u00bd": 1 / 2,
  "\u00be": 3 / 4,
  "\u215b": 1 / 8,
  "\u215c": 3 / 8,
  "\u215d": 5 / 8,
  "\u215e": 7 / 8,
};

/** Reads the number at the start of the text; `rest` is what follows it, trimmed. */
export function readNumber(text: string): TypedNumber {
  const given = text.trim().replace(/^\u2212/, "-");
  const rest = (matched: string) => given.slice(matched.length).trim();

  const glyph = WITH_GLYPH.exec(given);
  if (glyph) {
    const size = Number(glyph[2] || 0) + GLYPHS[glyph[3]!]!;
    return { value: glyph[1] === "-" ? -size : size, rest: rest(glyph[0]) };
  }
  const mixed = MIXED.exec(given);
  if (mixed) {
    const size = Number(mixed[2]) + Number(mixed[3]) / Number(mixed[4]);
    return { value: mixed[1] === "-" ? -size : size, rest: rest(mixed[0]) };
  }
  const fraction = FRACTION.exec(given);
  if (fraction) {
    const size = Number(fraction[2]) / Number(fraction[3]);
    return { value: fraction[1] === "-" ? -size : size, rest: rest(fraction[0]) };
  }
  const decimal = DECIMAL.exec(given);
  if (!decimal) return { missing: true };
  const typed = decimal[0];
  const readings = readingsOf(typed);
  if (readings.length > 1) return { ambiguous: readings.map((r) => `${r} ${rest(typed)}`.trim()) };
  return { value: Number(readings[0]), rest: rest(typed) };
}

/** The plain numbers that the typed one may mean; `["NaN"]` when it means none. */
function readingsOf(typed: string): string[] {
  const marks = typed.replace(/[^.,]/g, "");
  if (marks === "" || marks === ".") return [typed];
  if (marks === ",") {
    const asDecimal = typed.replace(",", ".");
    // 0,125 can only be a decimal; 1,234 may be either
    return /^[+-]?[1-9]\d{0,2},\d{3}$/.test(typed)
      ? [asDecimal, typed.replace(",", "")]
      : [asDecimal];
  }
  const last = marks.at(-1)!;
  const decimalLast = typed
    .replace(/[.,]/g, (mark, at: number) =>
      mark === last && at === typed.lastIndexOf(last) ? "!" : "",
    )
    .replace("!", ".");
  return [decimalLast, typed.replace(/[.,]/g, "")];
}

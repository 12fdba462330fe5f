/** Text for a terminal: nothing in a file may move its cursor, color it, or turn its writing around. */

/** Controls but tab and line feed, the old eight-bit ones, turns of writing direction, and line ends that are no line feed. */
const UNSEEN =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
  /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff\ufff9-\ufffb]/g;

const escaped = (character: string) =>
  `\\u${character.charCodeAt(0).toString(16).padStart(4, "0")}`;

/**
 * The same text with what is not seen written out, as JSON writes it too.
 *
 * @example plainText("Dune\u001b[31m minnow") // "Dune\\u001b[31m minnow"
 */
export function plainText(text: string): string {
  return text.replace(UNSEEN, escaped);
}

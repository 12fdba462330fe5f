/** Names of pages and jobs: what a person calls them, and fit for a file and an address. */

const NAME = /^[\p{L}\p{N}][\p{L}\p{N} _.,()+-]{0,79}$/u;

export function isName(text: string): boolean {
  return NAME.test(text) && text === text.trim() && !text.endsWith(".");
}

/** The nearest possible name. */
export function nameFrom(wanted: string): string {
  const plain = wanted
    .normalize("NFC")
    .replace(/[^\p{L}\p{N} _.,()+-]+/gu, " ")
    .replace(/\s+/g, " ")
    .replace(/^[^\p{L}\p{N}]+/u, "")
    .slice(0, 80)
    .replace(/[ .]+$/, "");
  return plain === "" ? "untitled" : plain;
}

/** Takes something off the sheet into a file of the reader's own. */
export function saveFile(name: string, content: string | Blob, type = "text/plain"): void {
  const blob = typeof content === "string" ? new Blob([content], { type }) : content;
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

/** A file name that every system takes. */
export function fileName(words: string, ending: string): string {
  const plain = words
    .normalize("NFKD")
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-+|-+$/g, "")
    .toLowerCase()
    .slice(0, 60);
  return `${plain || "castclock"}.${ending}`;
}

export type Cell = string | number | boolean | null;

/** Comma-separated, quoted where needed. A text that a spreadsheet would take for a formula is kept as text. */
export function csvText(header: readonly string[], rows: readonly (readonly Cell[])[]): string {
  const field = (cell: Cell) => {
    if (cell === null) return "";
    if (typeof cell !== "string") return String(cell);
    const safe = /^[=+\-@\t\r]/.test(cell) ? `'${cell}` : cell;
    return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
  };
  return [header, ...rows]
    .map((row) => row.map(field).join(","))
    .join("\r\n")
    .concat("\r\n");
}

/** Keys of the job in running text by what the form calls them: a sheet's reader has a form, and no file. */
import { type Field, jobFields } from "./fields.ts";

/** Keys from the top, `mold.inserts[0].thickness`. */
const KEY = /\b[a-z]\w*(?:\[\d+\])?(?:\.[a-z]\w*(?:\[\d+\])?)+/g;
/** A label so short says nothing without that of its group: `at`. */
const SHORT = 3;

/**
 * The text with labels in place of keys: in quotes, but for one that stands in front as the place of a problem.
 *
 * @example inLabels("run.preheat: 200 degF is too much.") // "Preheated to: 200 degF is too much."
 */
export function inLabels(text: string): string {
  return text.replace(KEY, (key, at: number) => {
    const label = labelOf(key);
    if (label === undefined) return key;
    return at === 0 && text.startsWith(":", key.length) ? label : `\u201c${label}\u201d`;
  });
}

function labelOf(key: string): string | undefined {
  let fields: readonly Field[] = jobFields();
  const labels: string[] = [];
  for (const part of key.match(/[^.[\]]+/g) ?? []) {
    const place = /^\d+$/.test(part);
    if (place) continue;
    const field = fields.find(({ path }) => path.at(-1) === part);
    if (field === undefined) return undefined;
    labels.push(field.label);
    fields =
      field.kind === "group" ? field.fields : field.kind === "list" ? inside(field.item(0)) : [];
  }
  const [last = "", group = ""] = labels.reverse();
  return last.length <= SHORT && group !== "" ? `${group}, ${last}` : last;
}

const inside = (item: Field) => (item.kind === "group" ? item.fields : []);

/** Changes one value in a job's text; comments and order of the file stay. */
import { isMap, isSeq, parseDocument } from "yaml";

type Path = readonly (string | number)[];

/** `undefined` takes the key out, so that its default holds again; groups left empty go with it. */
export function withJobValue(
  text: string,
  path: Path,
  value: string | number | boolean | undefined,
): string {
  const document = parseDocument(text);
  if (document.errors.length > 0) return text; // to be mended in the text first
  if (document.contents === null || !isMap(document.contents)) {
    if (value === undefined) return text;
    document.contents = document.createNode({}) as unknown as typeof document.contents;
  }
  if (value === undefined) {
    document.deleteIn(path);
    for (let length = path.length - 1; length > 0; length--) {
      const node = document.getIn(path.slice(0, length));
      if (!isMap(node) && !isSeq(node)) continue;
      if (node.items.length === 0) document.deleteIn(path.slice(0, length));
      else break;
    }
  } else document.setIn(path, value);
  return document.toString({ lineWidth: 0 });
}

/** One more at the end of a list: a copy of its last, or empty. */
export function withOneMore(text: string, path: Path): string {
  const document = parseDocument(text);
  const list = document.getIn(path);
  if (isSeq(list) && list.items.length > 0) {
    const last = list.toJSON().at(-1) as unknown;
    document.addIn(path, document.createNode(last));
  } else document.setIn(path, document.createNode([{}]));
  return document.toString({ lineWidth: 0 });
}

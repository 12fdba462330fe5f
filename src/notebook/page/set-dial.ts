/** Changes a dial in the page's text: only the value's own characters, comments and order stay. */
import { isMap, isScalar, type Pair, parseDocument, type Scalar, type YAMLMap } from "yaml";
import { withPassage } from "./page.ts";
import type { Page } from "./types.ts";

/**
 * The page's text with the dial at `value`; undefined takes the value out, so that the job's holds again.
 * A page without such a dial stays as it is.
 */
export function withDial(page: Page, name: string, value: string | boolean | undefined): string {
  const index = page.passages.findIndex(
    (p) => p.kind === "dials" && p.dials.some((d) => d.name === name),
  );
  const passage = page.passages[index];
  if (passage?.kind !== "dials") return page.text;
  const pairs = pairsOf(passage.body, name);
  if (pairs === undefined) return page.text;
  // "16" on its way to "16 mm" must not turn a quantity into a number
  const isQuantity = passage.dials.some((d) => d.name === name && d.kind === "quantity");
  const written = value === undefined ? undefined : scalarText(value, isQuantity);
  const body = spliced(passage.body, pairs.map, pairs.pair, written);
  const start = passage.text.indexOf("\n") + 1;
  // a fence may be indented, then the body in the page differs from the body that was read
  const original = passage.text.slice(start, start + passage.body.length);
  if (original !== passage.body) {
    const rest = passage.text.slice(start).split(/(?<=\n)/);
    const closing = rest.at(-1) ?? "";
    return withPassage(page, index, passage.text.slice(0, start) + body + closing);
  }
  return withPassage(
    page,
    index,
    passage.text.slice(0, start) + body + passage.text.slice(start + passage.body.length),
  );
}

function pairsOf(body: string, name: string): { map: YAMLMap; pair: Pair | undefined } | undefined {
  const { contents } = parseDocument(body);
  if (!isMap(contents)) return undefined;
  const map = contents.get(name);
  if (!isMap(map)) return undefined;
  const pair = (map.items as Pair[]).find((p) => isScalar(p.key) && p.key.value === "value");
  return { map, pair };
}

function spliced(
  body: string,
  map: YAMLMap,
  pair: Pair | undefined,
  value: string | undefined,
): string {
  const old = pair && isScalar(pair.value) ? (pair.value as Scalar).range : undefined;
  if (pair !== undefined && old && value !== undefined) {
    return body.slice(0, old[0]) + value + body.slice(old[1]);
  }
  if (pair === undefined && value !== undefined) {
    const first = map.items[0] as Pair | undefined;
    const at = first && isScalar(first.key) ? first.key.range?.[0] : undefined;
    if (at === undefined) return body;
    if (map.flow) return `${body.slice(0, at)}value: ${value}, ${body.slice(at)}`;
    const indent = body.slice(body.lastIndexOf("\n", at - 1) + 1, at);
    return `${body.slice(0, at)}value: ${value}\n${indent}${body.slice(at)}`;
  }
  if (pair !== undefined && old && isScalar(pair.key) && pair.key.range) {
    return map.flow
      ? withoutInFlow(body, pair.key.range[0], old[1])
      : withoutLine(body, pair.key.range[0], old[1]);
  }
  return body;
}

function withoutInFlow(body: string, from: number, to: number): string {
  const after = /^\s*,\s*/.exec(body.slice(to));
  if (after) return body.slice(0, from) + body.slice(to + after[0].length);
  return body.slice(0, from).replace(/\s*,\s*$/, " ") + body.slice(to).replace(/^\s+/, "");
}

function withoutLine(body: string, from: number, to: number): string {
  const start = body.lastIndexOf("\n", from - 1) + 1;
  const end = body.indexOf("\n", to);
  return body.slice(0, start) + (end < 0 ? "" : body.slice(end + 1));
}

/** YAML for the value; texts that YAML could read otherwise, or that would end a flow map, in quotes. */
function scalarText(value: string | boolean, isQuantity: boolean): string {
  if (typeof value === "boolean") return String(value);
  const plain = /^[\p{L}\d.][\p{L}\d ./%°()^+-]*$/u.test(value) && !/\s$/.test(value);
  const word = /^(?:true|false|null|yes|no|on|off|~)$/i.test(value);
  const bare = isQuantity && !/\p{L}|%/u.test(value);
  return plain && !word && !bare ? value : JSON.stringify(value);
}

/**
 * Outlines from the text of an SVG drawing: what is drawn, and nothing that a drawing could do. Coordinates in the
 * drawing's own unit, y down.
 */
import { parseXml, type XmlDocument, XmlElement } from "@rgrove/parse-xml";
import svgpath from "svgpath";
import { InputError, type Problem } from "../units/problem.ts";
import { flattened, type Line } from "./drawing-lines.ts";

/** What a line of the drawing is for. */
type Role = "side" | "top" | "mark";

export interface DrawnLine extends Line {
  readonly role: Role | null;
  /** Its id, or what kind of element it is: how a person finds it. */
  readonly name: string;
}

interface Drawing {
  readonly lines: readonly DrawnLine[];
  /** m to a unit of the drawing, where its width is given in mm, cm, in, pt or pc; null: nothing says. */
  readonly unit: number | null;
}

const LONGEST_TEXT = 8_000_000;
const DEEPEST = 40;
const MOST_ELEMENTS = 20_000;
const MOST_POINTS = 200_000;

/** Elements and attributes by which a drawing reaches beyond itself. */
const REACHING = new Set([
  "script",
  "foreignobject",
  "image",
  "use",
  "iframe",
  "a",
  "animate",
  "set",
]);
const ROLES: readonly Role[] = ["side", "top", "mark"];
const NOT_DRAWN = new Set([
  "defs",
  "metadata",
  "title",
  "desc",
  "clippath",
  "mask",
  "symbol",
  "style",
]);
const TRANSFORM =
  /^(?:[\s,]*(?:matrix|translate|scale|rotate|skewX|skewY)\s*\([\s\d.,eE+-]*\))*[\s,]*$/;

/**
 * Reads an SVG drawing.
 *
 * Read are path, polygon, polyline, line, rect, circle and ellipse, with their transforms and those of their groups. Their
 * role is the id, label or class, of themselves or of a group around them, that begins with `side`, `top` or `mark`.
 *
 * @throws InputError `not_svg`, `drawing_too_big`, `drawing_too_deep`, `drawing_reaches_out`, `drawing_line_broken`,
 * `drawing_empty`
 * @source W3C, Scalable Vector Graphics (SVG) 1.1, 2nd ed., 2011
 */
export function readDrawing(text: string): Drawing {
  if (text.length > LONGEST_TEXT) throw tooBig(`${(text.length / 1e6).toFixed(1)} MB`, "8 MB");
  const root = rootOf(text);
  const problems: Problem[] = [];
  const lines: DrawnLine[] = [];
  let [elements, points] = [0, 0];
  const stack: Place[] = [{ element: root, transforms: [], role: null, depth: 0 }];
  for (let next = stack.pop(); next; next = stack.pop()) {
    if (++elements > MOST_ELEMENTS) throw tooBig("more elements", String(MOST_ELEMENTS));
    const { element } = next;
    const kind = localName(element.name);
    if (next.depth > DEEPEST)
      throw new InputError([
        { code: "drawing_too_deep", path: nameOf(element), most: String(DEEPEST) },
      ]);
    const reaching = reachingOut(element);
    if (reaching !== null) {
      problems.push({ code: "drawing_reaches_out", path: nameOf(element), given: reaching });
      continue;
    }
    if (NOT_DRAWN.has(kind)) continue;
    const here = placeOf(next, problems);
    for (const line of linesOf(here, problems)) {
      points += line.points.length;
      lines.push(line);
    }
    if (points > MOST_POINTS) throw tooBig("more points", String(MOST_POINTS));
    for (const child of [...element.children].reverse())
      if (child instanceof XmlElement)
        stack.push({ ...here, element: child, depth: next.depth + 1 });
  }
  if (problems.length > 0) throw new InputError(problems.slice(0, 20));
  if (lines.length === 0) throw new InputError([{ code: "drawing_empty", path: "" }]);
  return { lines, unit: unitOf(root) };
}

/** An element with what the groups around it give it. */
interface Place {
  readonly element: XmlElement;
  /** Innermost first. */
  readonly transforms: readonly string[];
  readonly role: Role | null;
  readonly depth: number;
}

/** An element with its own role and transform added to those around it. */
function placeOf(around: Place, problems: Problem[]): Place {
  const { element } = around;
  const role = roleOf(element) ?? around.role;
  const own = element.attributes["transform"];
  if (own === undefined) return { ...around, role };
  if (!TRANSFORM.test(own)) problems.push(brokenLine(element, own.slice(0, 40)));
  return { ...around, role, transforms: [own, ...around.transforms] };
}

/** The lines that an element itself draws. */
function linesOf({ element, transforms, role }: Place, problems: Problem[]): DrawnLine[] {
  const kind = localName(element.name);
  const path = kind === "svg" || kind === "g" ? null : pathOf(kind, element);
  if (path === null) return [];
  const drawn = transforms.reduce((line, transform) => line.transform(transform), svgpath(path));
  const broken = (drawn as { err?: string }).err;
  if (broken) {
    problems.push(brokenLine(element, broken.slice(0, 60)));
    return [];
  }
  return flattened(drawn).map((line) => ({ ...line, role, name: nameOf(element) }));
}

function brokenLine(element: XmlElement, given: string): Problem {
  return { code: "drawing_line_broken", path: nameOf(element), given };
}

function tooBig(given: string, most: string): InputError {
  return new InputError([{ code: "drawing_too_big", path: "", given, most }]);
}

function rootOf(text: string): XmlElement {
  let document: XmlDocument;
  try {
    document = parseXml(text);
  } catch (error) {
    // groups nested so deep that the parser's stack ends
    if (error instanceof RangeError)
      throw new InputError([{ code: "drawing_too_deep", path: "", most: String(DEEPEST) }]);
    const given = error instanceof Error ? error.message.split("\n")[0].slice(0, 100) : "";
    throw new InputError([{ code: "not_svg", path: "", given }]);
  }
  const { root } = document;
  if (!root || localName(root.name) !== "svg")
    throw new InputError([{ code: "not_svg", path: "", given: root?.name ?? "nothing" }]);
  return root;
}

const localName = (name: string) => name.replace(/^.*:/, "").toLowerCase();

function nameOf(element: XmlElement): string {
  const id = element.attributes["id"];
  return id ? `${localName(element.name)} "${id.slice(0, 40)}"` : localName(element.name);
}

/** Scripts, handlers, and whatever is fetched from elsewhere; null for a plain line. */
function reachingOut(element: XmlElement): string | null {
  if (REACHING.has(localName(element.name))) return `<${localName(element.name)}>`;
  for (const [name, value] of Object.entries(element.attributes)) {
    const local = localName(name);
    if (/^on/.test(local)) return name;
    if ((local === "href" || local === "src") && !value.startsWith("#")) return name;
    if (/url\(\s*['"]?(?!#)|@import|javascript:/i.test(value)) return name;
  }
  if (localName(element.name) === "style" && /url\(\s*['"]?(?!#)|@import/i.test(element.text))
    return "<style>";
  return null;
}

function roleOf({ attributes }: XmlElement): Role | null {
  for (const [name, value] of Object.entries(attributes)) {
    if (!["id", "label", "class"].includes(localName(name))) continue;
    const found = ROLES.find((role) => new RegExp(`^${role}(?![a-z])`, "i").test(value.trim()));
    if (found) return found;
  }
  return null;
}

/** The element as path data; null when it draws no line. */
function pathOf(kind: string, { attributes }: XmlElement): string | null {
  const number = (name: string) => Number.parseFloat(attributes[name] ?? "0") || 0;
  switch (kind) {
    case "path":
      return attributes["d"] ?? null;
    case "polygon":
    case "polyline": {
      const points = (attributes["points"] ?? "").trim();
      return points === "" ? null : `M${points}${kind === "polygon" ? "Z" : ""}`;
    }
    case "line":
      return `M${number("x1")} ${number("y1")}L${number("x2")} ${number("y2")}`;
    case "rect": {
      const [x, y, w, h] = ["x", "y", "width", "height"].map(number);
      return `M${x} ${y}h${w}v${h}h${-w}Z`;
    }
    case "circle":
    case "ellipse": {
      const [cx, cy] = [number("cx"), number("cy")];
      const rx = kind === "circle" ? number("r") : number("rx");
      const ry = kind === "circle" ? rx : number("ry");
      if (!(rx > 0 && ry > 0)) return null;
      return `M${cx - rx} ${cy}a${rx} ${ry} 0 1 0 ${2 * rx} 0a${rx} ${ry} 0 1 0 ${-2 * rx} 0Z`;
    }
    default:
      return null;
  }
}

const METERS: Readonly<Record<string, number>> = {
  mm: 1e-3,
  cm: 1e-2,
  in: 0.0254,
  pt: 0.0254 / 72,
  pc: 0.0254 / 6,
};

/** The paper size over the coordinates on it. A width in pixels, or none, says nothing of a length. */
function unitOf({ attributes }: XmlElement): number | null {
  const size = /^\s*([\d.]+)\s*(mm|cm|in|pt|pc)\s*$/.exec(attributes["width"] ?? "");
  if (!size) return null;
  const meters = Number(size[1]) * METERS[size[2]];
  const box = (attributes["viewBox"] ?? "")
    .trim()
    .split(/[\s,]+/)
    .map(Number);
  // without a view box the coordinates are CSS pixels, 96 to the inch
  const wide = box.length === 4 && box[2] > 0 ? box[2] : meters / (0.0254 / 96);
  return meters > 0 && Number.isFinite(wide) ? meters / wide : null;
}

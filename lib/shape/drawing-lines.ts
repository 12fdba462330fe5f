/** Curves of a drawing as corners. */
import type svgpath from "svgpath";
import type { Point } from "./outline.ts";

export interface Line {
  readonly points: readonly Point[];
  /** Ends where it began. */
  readonly closed: boolean;
}

type Path = ReturnType<typeof svgpath>;

/** Most pieces of one curve. */
const PIECES = 24;
/** Ends that lie this near to each other, as a share of the length, are meant to meet. */
const MEET = 0.005;

/** Every stroke of a path, its curves as straight pieces that miss them by a few thousandths of their size. */
export function flattened(path: Path): Line[] {
  const lines: Line[] = [];
  let points: Point[] = [];
  const finish = (closed: boolean) => {
    const line = asLine(points, closed);
    if (line.points.length > 1) lines.push(line);
    points = [];
  };
  path
    .abs()
    .unshort()
    .unarc()
    .iterate((segment, _, x, y) => {
      const here: Point = [x, y];
      switch (segment[0]) {
        case "M":
          finish(false);
          points = [[segment[1], segment[2]]];
          break;
        case "L":
          points.push([segment[1], segment[2]]);
          break;
        case "H":
          points.push([segment[1], y]);
          break;
        case "V":
          points.push([x, segment[1]]);
          break;
        case "Q": {
          const [, ax, ay, bx, by] = segment;
          curve(points, [here, [ax, ay], [ax, ay], [bx, by]], 2);
          break;
        }
        case "C": {
          const [, ax, ay, bx, by, cx, cy] = segment;
          curve(points, [here, [ax, ay], [bx, by], [cx, cy]], 3);
          break;
        }
        default:
          finish(true);
          // what follows without a move starts where the closed stroke began
          points = [];
      }
    });
  finish(false);
  return lines;
}

function curve(points: Point[], [a, b, c, d]: readonly Point[], order: 2 | 3): void {
  const bend =
    Math.hypot(a[0] - 2 * b[0] + c[0], a[1] - 2 * b[1] + c[1]) +
    Math.hypot(b[0] - 2 * c[0] + d[0], b[1] - 2 * c[1] + d[1]);
  const long = Math.hypot(d[0] - a[0], d[1] - a[1]) + bend;
  const pieces = long > 0 ? Math.min(PIECES, 2 + Math.ceil((PIECES * bend) / long)) : 1;
  for (let k = 1; k <= pieces; k++) {
    const s = k / pieces;
    const r = 1 - s;
    const at = (axis: 0 | 1) =>
      order === 2
        ? r * r * a[axis] + 2 * r * s * b[axis] + s * s * d[axis]
        : r ** 3 * a[axis] + 3 * r * r * s * b[axis] + 3 * r * s * s * c[axis] + s ** 3 * d[axis];
    points.push([at(0), at(1)]);
  }
}

function asLine(points: readonly Point[], closed: boolean): Line {
  if (points.length < 3) return { points, closed: false };
  const [first, last] = [points[0], points[points.length - 1]];
  let long = 0;
  for (let i = 1; i < points.length; i++)
    long += Math.hypot(points[i][0] - points[i - 1][0], points[i][1] - points[i - 1][1]);
  const gap = Math.hypot(first[0] - last[0], first[1] - last[1]);
  const meets = gap <= MEET * long;
  return { points: meets ? points.slice(0, -1) : points, closed: closed || meets };
}

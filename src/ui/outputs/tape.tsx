import { useId, useRef } from "preact/hooks";
import { useWidth } from "../frame/use-width.ts";
import { clockWords } from "../reading/clock.ts";

export interface TapeSpan {
  readonly from: number;
  readonly to: number;
  readonly label?: string;
  readonly tone: "good" | "wait" | "late";
}

export interface TapeMark {
  readonly at: number;
  readonly label: string;
}

/** Before the sheet is laid out, and where it is printed without having been seen. */
const USUAL_WIDTH = 640;
const STEPS = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14400, 43200, 86400];

/** Seconds between two long ticks, so that their figures do not touch. */
export function tickStep(span: number, most = 8): number {
  return STEPS.find((s) => span / s <= most) ?? STEPS.at(-1)!;
}

/**
 * A length of time as a printed rule. Spans differ by their pattern and their words, never by color alone:
 * solid is now, hatched one way is too soon, the other way too late.
 */
export function Tape(props: {
  from: number;
  until: number;
  spans: readonly TapeSpan[];
  marks?: readonly TapeMark[];
  at?: number;
}) {
  const id = useId();
  const place = useRef<HTMLDivElement>(null);
  const width = useWidth(place) || USUAL_WIDTH;
  const { from, until, spans, marks = [], at } = props;
  const span = Math.max(until - from, 1e-9);
  const x = (t: number) => Math.min(width, Math.max(0, ((t - from) / span) * width));
  const long = tickStep(span, width / 62);
  const fine = long / 5;
  const ticks: number[] = [];
  for (let t = Math.ceil(from / fine) * fine; t <= until + 1e-9; t += fine) ticks.push(t);
  const named = spans.filter((s) => s.label);
  const top = 6 + 18 * (named.length > 0 ? 1 : 0) + 18 * Math.max(marks.length, 0);
  const height = top + 62;
  return (
    <div ref={place} style={{ minHeight: `${height}px` }}>
      <svg class="tape" viewBox={`0 0 ${width} ${height}`} aria-hidden="true">
        <defs>
          <pattern
            id={`${id}w`}
            width="8"
            height="8"
            patternUnits="userSpaceOnUse"
            patternTransform="rotate(45)"
          >
            <rect width="2.5" height="8" fill="currentColor" />
          </pattern>
          <pattern
            id={`${id}l`}
            width="6"
            height="6"
            patternUnits="userSpaceOnUse"
            patternTransform="rotate(-45)"
          >
            <rect width="1.5" height="6" fill="currentColor" />
          </pattern>
        </defs>
        {marks.map((m, i) => {
          const y = 14 + 18 * i;
          const end = x(m.at) > width * 0.6;
          return (
            <g key={m.label}>
              <line
                x1={x(m.at)}
                x2={x(m.at)}
                y1={y - 8}
                y2={top + 22}
                stroke="currentColor"
                stroke-width="1.5"
              />
              <text x={x(m.at) + (end ? -6 : 6)} y={y} text-anchor={end ? "end" : "start"}>
                {m.label}, {clockWords(m.at)}
              </text>
            </g>
          );
        })}
        {spans.map((s) => (
          <g key={`${s.from}${s.tone}`}>
            <rect
              x={x(s.from)}
              y={top}
              width={Math.max(2, x(s.to) - x(s.from))}
              height="22"
              fill={
                s.tone === "good" ? "currentColor" : `url(#${id}${s.tone === "wait" ? "w" : "l"})`
              }
              stroke="currentColor"
              stroke-width={s.tone === "good" ? 0 : 1}
            />
            {s.label && x(s.to) - x(s.from) > 40 && (
              <text class="words" x={x(s.from) + 2} y={top - 6}>
                {fitted(s.label, x(s.to) - x(s.from))}
              </text>
            )}
          </g>
        ))}
        <line
          x1="0"
          x2={width}
          y1={top + 22}
          y2={top + 22}
          stroke="currentColor"
          stroke-width="2"
        />
        {ticks.map((t) => {
          const isLong = Math.abs(t / long - Math.round(t / long)) < 1e-6;
          return (
            <g key={t}>
              <line
                x1={x(t)}
                x2={x(t)}
                y1={top + 22}
                y2={top + (isLong ? 36 : 29)}
                stroke="currentColor"
              />
              {isLong && (
                <text x={x(t)} y={top + 52} text-anchor={anchorOf(x(t), width)}>
                  {clockWords(t)}
                </text>
              )}
            </g>
          );
        })}
        {at !== undefined && (
          <path
            d={`M${x(at)} ${top + 2} l-8 -12 h16 z`}
            fill="var(--red)"
            stroke="var(--paper)"
            stroke-width="1.5"
          />
        )}
      </svg>
    </div>
  );
}

function anchorOf(x: number, width: number): "start" | "middle" | "end" {
  return x < 12 ? "start" : x > width - 20 ? "end" : "middle";
}

/** Words that fit above their span; the list beside the tape has them in full. */
function fitted(label: string, width: number): string {
  const most = Math.floor(width / 7);
  return label.length <= most ? label : "";
}

import { useId, useRef } from "preact/hooks";
import { clockTime, formatDuration, timeText } from "../../../lib/units/format.ts";
import { useWidth } from "../frame/use-width.ts";

interface TapeSpan {
  readonly from: number;
  readonly to: number;
  readonly label?: string;
  readonly tone: "good" | "wait" | "late";
}

interface TapeMark {
  readonly at: number;
  readonly label: string;
}

/** The longest figure of a tick, "10:00 min", px. */
const FIGURE = 60;
/** Before the sheet is laid out, and where it is printed without having been seen. */
const USUAL_WIDTH = 640;
const STEPS = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14400, 43200, 86400];

/** Seconds between two long ticks, so that their figures do not touch. */
export function tickStep(span: number, most = 8): number {
  const day = STEPS.at(-1)!;
  return STEPS.find((s) => span / s <= most) ?? Math.ceil(span / most / day) * day;
}

/** From a time to its place on the tape, px. */
interface Rule {
  readonly x: (t: number) => number;
  readonly width: number;
  /** Upper edge of the band. */
  readonly top: number;
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
  const top = 6 + 18 * (spans.some((s) => s.label) ? 1 : 0) + 18 * marks.length;
  const rule: Rule = { x, width, top };
  const height = top + 62;
  return (
    <div ref={place} style={{ minHeight: `${height}px` }}>
      <svg class="tape" viewBox={`0 0 ${width} ${height}`} aria-hidden="true">
        <defs>
          <Hatch id={`${id}wait`} every={8} stroke={2.5} angle={45} />
          <Hatch id={`${id}late`} every={6} stroke={1.5} angle={-45} />
        </defs>
        {marks.map((m, i) => (
          <MarkLine key={m.label} mark={m} y={14 + 18 * i} rule={rule} />
        ))}
        {spans.map((s) => (
          <SpanBand key={`${s.from}${s.tone}`} span={s} id={id} rule={rule} />
        ))}
        <line
          x1="0"
          x2={width}
          y1={top + 22}
          y2={top + 22}
          stroke="currentColor"
          stroke-width="2"
        />
        <Ticks from={from} until={until} rule={rule} />
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

function Hatch(props: { id: string; every: number; stroke: number; angle: number }) {
  const { id, every, stroke, angle } = props;
  return (
    <pattern
      id={id}
      width={every}
      height={every}
      patternUnits="userSpaceOnUse"
      patternTransform={`rotate(${angle})`}
    >
      <rect width={stroke} height={every} fill="currentColor" />
    </pattern>
  );
}

function MarkLine({ mark, y, rule }: { mark: TapeMark; y: number; rule: Rule }) {
  const at = rule.x(mark.at);
  const end = at > rule.width * 0.6;
  return (
    <g>
      <line
        x1={at}
        x2={at}
        y1={y - 8}
        y2={rule.top + 22}
        stroke="currentColor"
        stroke-width="1.5"
      />
      <text x={at + (end ? -6 : 6)} y={y} text-anchor={end ? "end" : "start"}>
        {mark.label}, {timeText(mark.at)}
      </text>
    </g>
  );
}

function SpanBand({ span, id, rule }: { span: TapeSpan; id: string; rule: Rule }) {
  const { tone, label } = span;
  const left = rule.x(span.from);
  const wide = rule.x(span.to) - left;
  return (
    <g>
      <rect
        x={left}
        y={rule.top}
        width={Math.max(2, wide)}
        height="22"
        fill={tone === "good" ? "currentColor" : `url(#${id}${tone})`}
        stroke="currentColor"
        stroke-width={tone === "good" ? 0 : 1}
      />
      {label && wide > 40 && (
        <text class="words" x={left + 2} y={rule.top - 6}>
          {fitted(label, wide)}
        </text>
      )}
    </g>
  );
}

function Ticks({ from, until, rule }: { from: number; until: number; rule: Rule }) {
  const { x, width, top } = rule;
  const long = tickStep(Math.max(until - from, 1e-9), width / (1.5 * FIGURE));
  const fine = long / 5;
  const between = (long / Math.max(until - from, 1e-9)) * width;
  const ticks: number[] = [];
  for (let t = Math.ceil(from / fine) * fine; t <= until + 1e-9; t += fine) ticks.push(t);
  return (
    <>
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
            {isLong && hasRoom(x(t), width, between) && (
              <text x={x(t)} y={top + 52} text-anchor={anchorOf(x(t), width)}>
                {tickText(t)}
              </text>
            )}
          </g>
        );
      })}
    </>
  );
}

function anchorOf(x: number, width: number): "start" | "middle" | "end" {
  return x < 12 ? "start" : x > width - FIGURE / 2 ? "end" : "middle";
}

/** A figure at the end of the tape stands to the left of its tick, where the one before may be. */
function hasRoom(x: number, width: number, between: number): boolean {
  return anchorOf(x, width) !== "end" || between > 1.5 * FIGURE + 4;
}

/** Words that fit above their span; the list beside the tape has them in full. */
function fitted(label: string, width: number): string {
  const most = Math.floor(width / 7);
  return label.length <= most ? label : "";
}

/** Short enough to stand beside the next: `7:30 min`. */
function tickText(seconds: number): string {
  return seconds >= 90 && seconds < 3600 ? `${clockTime(seconds)} min` : formatDuration(seconds);
}

import { useRef } from "preact/hooks";
import { wholeSteps } from "../../../notebook/outputs/figure-frame.ts";
import { useWidth } from "../../frame/use-width.ts";
import { inReaderUnit, readerUnit, type UnitSystem } from "../../reading/shown.ts";
import { rampColor } from "./color-ramp.ts";
import type { Span } from "./grid.ts";

const USUAL_WIDTH = 640;
const PIECES = 64;
const EDGE = 18; // px, so that a figure at the end is not cut

/** The colors along a printed rule of temperatures. Drawn, not a background: so it is on paper, too. */
export function Scale({ span, system }: { span: Span; system: UnitSystem }) {
  const place = useRef<HTMLDivElement>(null);
  const width = useWidth(place) || USUAL_WIDTH;
  const [low, high] = [span.coolest, span.hottest].map((T) => inReaderUnit(T, "degC", system));
  const unit = readerUnit("degC", system);
  const long = width - 2 * EDGE;
  const x = (T: number) => EDGE + ((T - low!) / (high! - low!)) * long;
  const figures = wholeSteps(low!, high!, Math.max(3, Math.floor(long / 58)));
  const step = (figures[1] ?? high!) - (figures[0] ?? low!);
  const fine = fineMarks(low!, high!, step / 5);
  return (
    <div ref={place} class="field-scale">
      <svg
        viewBox={`0 0 ${width} 62`}
        class="tape"
        role="img"
        aria-label={`Scale of temperature from ${Math.round(low!)} to ${Math.round(high!)} ${unit}; hotter is darker`}
      >
        {Array.from({ length: PIECES }, (_, i) => (
          <rect
            key={i}
            x={EDGE + (i * long) / PIECES}
            y="2"
            width={long / PIECES + 0.6}
            height="22"
            fill={`rgb(${rampColor((i + 0.5) / PIECES).join(" ")})`}
          />
        ))}
        <path
          d={`M${EDGE} 2H${EDGE + long}V24M${EDGE} 2V24`}
          fill="none"
          stroke="currentColor"
          stroke-width="1"
        />
        <path d={`M${EDGE} 24H${EDGE + long}`} stroke="currentColor" stroke-width="2" />
        {fine.map((T) => (
          <path key={T} d={`M${x(T)} 24v7`} stroke="currentColor" />
        ))}
        {figures.map((T, i) => (
          <g key={T}>
            <path d={`M${x(T)} 24v13`} stroke="currentColor" stroke-width="1.5" />
            <text x={x(T)} y="54" text-anchor="middle">
              {T}
              {i === figures.length - 1 ? ` ${unit}` : ""}
            </text>
          </g>
        ))}
      </svg>
    </div>
  );
}

function fineMarks(low: number, high: number, step: number): number[] {
  const first = Math.ceil(low / step - 1e-9);
  const count = Math.floor(high / step + 1e-9) - first + 1;
  return Array.from({ length: Math.max(0, Math.min(count, 200)) }, (_, i) => (first + i) * step);
}

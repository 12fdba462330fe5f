import type { RefObject } from "preact";
import { useEffect, useMemo } from "preact/hooks";
import type { FieldFrame, FieldOutput } from "../../../notebook/outputs/output.ts";
import { unitSystem } from "../../reading/preferences.ts";
import { shownText } from "../../reading/shown.ts";
import {
  type Isotherm,
  isotherms,
  outlinePath,
  paintField,
  plateOf,
  type Span,
} from "./drawing.ts";

/** Shares of the plate, from the left and from the top. */
export type Cross = readonly [number, number];

interface PlateProps {
  readonly output: FieldOutput;
  readonly frame: FieldFrame;
  readonly span: Span;
  readonly cross: Cross;
  readonly moveCross: (to: Cross) => void;
  readonly canvas: RefObject<HTMLCanvasElement | null>;
}

const PIXELS = 420;
const INK = "#14130e";
const WHITE = "#ffffff";

/** The picture itself, with the cross that reads it. */
export function Plate({ output, frame, span, cross, moveCross, canvas }: PlateProps) {
  const plate = plateOf(output);
  const aspect = plate.height / plate.width;
  const lines = useMemo(() => isotherms(frame, output.isotherms ?? []), [frame, output.isotherms]);
  const border = useMemo(() => outlinePath(output, plate), [output]);
  useEffect(() => {
    if (canvas.current) paintField(canvas.current, frame, span);
  }, [frame, span]);

  function onKey(e: KeyboardEvent): void {
    const [dx, dy] = ARROWS.get(e.key) ?? [0, 0];
    if (dx === 0 && dy === 0) return;
    e.preventDefault();
    const step = e.shiftKey ? 0.1 : 0.02;
    moveCross([between(cross[0] + dx * step), between(cross[1] + dy * step)]);
  }
  function onTap(e: MouseEvent): void {
    const box = (e.currentTarget as HTMLElement).getBoundingClientRect();
    moveCross([
      between((e.clientX - box.left) / box.width),
      between((e.clientY - box.top) / box.height),
    ]);
  }
  return (
    <div
      class="field-plate"
      style={{
        aspectRatio: `${plate.width} / ${plate.height}`,
        maxHeight: "70vh",
        maxWidth: `calc(70vh / ${aspect})`,
      }}
      role="application"
      aria-label={`${output.caption}. Arrow keys move the cross; the words below say the temperature there.`}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: the arrow keys work here
      tabIndex={0}
      onKeyDown={onKey}
      onClick={onTap}
    >
      <canvas ref={canvas} width={PIXELS} height={Math.max(2, Math.round(PIXELS * aspect))} />
      <svg viewBox="0 0 1000 1000" preserveAspectRatio="none" aria-hidden="true">
        <Stroke d={border} ink={INK} width={2.5} />
        {lines.map((l) => (
          <Stroke key={l.temperature} d={l.path} ink={INK} width={1.2} dashes="5 3" />
        ))}
        <CrossLines at={cross} />
      </svg>
      {lines.map((l) => (
        <IsothermFigure key={l.temperature} line={l} />
      ))}
    </div>
  );
}

const ARROWS: ReadonlyMap<string, readonly [number, number]> = new Map([
  ["ArrowLeft", [-1, 0]],
  ["ArrowRight", [1, 0]],
  ["ArrowUp", [0, -1]],
  ["ArrowDown", [0, 1]],
]);

const between = (share: number) => Math.min(0.999, Math.max(0.001, share));

function Stroke(props: { d: string; ink: string; width: number; dashes?: string }) {
  const { d, ink, width, dashes } = props;
  return (
    <path
      d={d}
      fill="none"
      stroke={ink}
      stroke-width={width}
      {...(dashes && { "stroke-dasharray": dashes })}
      vector-effect="non-scaling-stroke"
    />
  );
}

function CrossLines({ at }: { at: Cross }) {
  const d = `M${at[0] * 1000} 0V1000M0 ${at[1] * 1000}H1000`;
  return (
    <>
      <Stroke d={d} ink={WHITE} width={3} />
      <Stroke d={d} ink={INK} width={1} />
    </>
  );
}

function IsothermFigure({ line: { label, temperature } }: { line: Isotherm }) {
  if (!label) return null;
  return (
    <span
      class="isotherm-figure"
      aria-hidden="true"
      style={{
        left: `clamp(1.7rem, ${label[0] / 10}%, 100% - 1.7rem)`,
        top: `clamp(0.6rem, ${label[1] / 10}%, 100% - 0.6rem)`,
      }}
    >
      {shownText(temperature, "degC", unitSystem.value)}
    </span>
  );
}

import type { RefObject } from "preact";
import { useEffect, useId, useMemo } from "preact/hooks";
import type { FieldFrame, FieldOutput } from "../../../notebook/outputs/output.ts";
import { unitSystem } from "../../reading/preferences.ts";
import { shownText } from "../../reading/shown.ts";
import { extentOf, paintField, type Span } from "./grid.ts";
import { BOX, type Isotherm, isotherms, type Part, partPaths } from "./lines.ts";

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

const PIXELS = 560;
const INK = "#14130e";
const PAPER = "#fcfbf6";

/** The picture itself with its measures, and the cross that reads it. */
export function Plate({ output, frame, span, cross, moveCross, canvas }: PlateProps) {
  const id = useId();
  const extent = extentOf(output);
  const aspect = extent.height / extent.width;
  const levels = useMemo(
    () => isotherms(frame, extent, output.isotherms ?? []),
    [frame, output.isotherms],
  );
  const parts = useMemo(() => partPaths(output, extent), [output]);
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
  const measure = (m: number) => shownText(m, "mm", unitSystem.value);
  return (
    <div class="field-drawing" style={{ "--aspect": aspect }}>
      <div
        class="field-plate"
        style={{ aspectRatio: `${extent.width} / ${extent.height}` }}
        role="application"
        aria-label={`${output.caption}. Arrow keys move the cross; the words below say the temperature there.`}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: the arrow keys work here
        tabIndex={0}
        onKeyDown={onKey}
        onClick={onTap}
      >
        <canvas ref={canvas} width={PIXELS} height={Math.max(2, Math.round(PIXELS * aspect))} />
        <svg viewBox={`0 0 ${BOX} ${BOX * aspect}`} preserveAspectRatio="none" aria-hidden="true">
          <SectionHatch id={`${id}cut`} />
          {parts.map(({ part, path }) => (
            <PartLine key={part} part={part} d={path} hatch={`url(#${id}cut)`} />
          ))}
          {levels.map((l) => (
            <IsothermLine key={l.temperature} d={l.path} />
          ))}
          <CrossLines x={cross[0] * BOX} y={cross[1] * BOX * aspect} />
        </svg>
        {levels.map((l) => (
          <IsothermFigure key={l.temperature} line={l} />
        ))}
      </div>
      <p class="measure upright">
        <span>{measure(extent.height)}</span>
      </p>
      <p class="measure">
        <span>{measure(extent.width)}</span>
      </p>
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

/** Ways of drawing a line as on a workshop drawing: edges full and heavy, a parting line in long and short dashes. */
const PENS: Readonly<Record<Part, { width: number; dashes?: string }>> = {
  bait: { width: 2.6 },
  outline: { width: 2.6 },
  insert: { width: 1.4 },
  edge: { width: 1.4 },
  master: { width: 2.6 },
  parting: { width: 1.6, dashes: "22 5 4 5" },
};
const ISOTHERM_PEN = { width: 1.8, dashes: "7 5" };

/** Dark on light with a light edge, so that it is seen on every color. */
function Inked({ d, pen }: { d: string; pen: { width: number; dashes?: string } }) {
  const line = { d, fill: "none", "vector-effect": "non-scaling-stroke" };
  const dashes = pen.dashes === undefined ? {} : { "stroke-dasharray": pen.dashes };
  return (
    <>
      <path {...line} stroke={PAPER} stroke-width={pen.width + 2} stroke-opacity="0.85" />
      <path {...line} {...dashes} stroke={INK} stroke-width={pen.width} />
    </>
  );
}

function PartLine({ part, d, hatch }: { part: Part; d: string; hatch: string }) {
  return (
    <g data-part={part}>
      {part === "insert" && <path d={d} fill={hatch} />}
      <Inked d={d} pen={PENS[part]} />
    </g>
  );
}

function IsothermLine({ d }: { d: string }) {
  return (
    <g data-part="isotherm">
      <Inked d={d} pen={ISOTHERM_PEN} />
    </g>
  );
}

/** Cut metal, as drawings show it. */
function SectionHatch({ id }: { id: string }) {
  return (
    <defs>
      <pattern
        id={id}
        width="16"
        height="16"
        patternUnits="userSpaceOnUse"
        patternTransform="rotate(45)"
      >
        <rect width="2" height="16" fill={INK} fill-opacity="0.7" />
      </pattern>
    </defs>
  );
}

/** Short arms: the lines of the parts beside it stay to be seen. */
function CrossLines({ x, y }: { x: number; y: number }) {
  const [gap, arm] = [16, 60];
  const arms = `M${x} ${y - arm}V${y - gap}M${x} ${y + gap}V${y + arm}M${x - arm} ${y}H${x - gap}M${x + gap} ${y}H${x + arm}`;
  const ring = `M${x - gap} ${y}a${gap} ${gap} 0 1 0 ${2 * gap} 0a${gap} ${gap} 0 1 0 ${-2 * gap} 0`;
  return <Inked d={arms + ring} pen={{ width: 1.6 }} />;
}

function IsothermFigure({ line: { label, temperature } }: { line: Isotherm }) {
  if (!label) return null;
  return (
    <span
      class="isotherm-figure"
      aria-hidden="true"
      style={{
        left: `clamp(1.7rem, ${label[0] * 100}%, 100% - 1.7rem)`,
        top: `clamp(0.6rem, ${label[1] * 100}%, 100% - 0.6rem)`,
      }}
    >
      {shownText(temperature, "degC", unitSystem.value)}
    </span>
  );
}

const WORDS: Readonly<Record<Part, string>> = {
  bait: "bait",
  outline: "outline",
  insert: "insert or plate, cut",
  edge: "edge of resin, bed and bench",
  master: "master",
  parting: "parting line of the two halves",
};

/** What each way of drawing a line means. */
export function LineKey({ output }: { output: FieldOutput }) {
  const id = useId();
  const parts = useMemo(
    () => partPaths(output, extentOf(output)).map(({ part }) => part),
    [output],
  );
  const levels = output.isotherms ?? [];
  if (parts.length + levels.length === 0) return null;
  return (
    <ul class="keys">
      {parts.toReversed().map((part) => (
        <li key={part}>
          <svg class="key-line" viewBox="0 0 56 16" aria-hidden="true">
            <SectionHatch id={`${id}key`} />
            {part === "insert" && (
              <rect y="1" x="1" width="54" height="14" fill={`url(#${id}key)`} />
            )}
            <Inked d={part === "insert" ? "M1 1H55V15H1Z" : "M0 8H56"} pen={PENS[part]} />
          </svg>
          {WORDS[part]}
        </li>
      ))}
      {levels.length > 0 && (
        <li>
          <svg class="key-line" viewBox="0 0 56 16" aria-hidden="true">
            <Inked d="M0 8H56" pen={ISOTHERM_PEN} />
          </svg>
          as hot as written on it
        </li>
      )}
    </ul>
  );
}

import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import type { FieldOutput } from "../../../notebook/outputs/output.ts";
import { clockWords } from "../../reading/clock.ts";
import { unitSystem } from "../../reading/preferences.ts";
import { shownText } from "../../reading/shown.ts";
import { cssRamp } from "./color-ramp.ts";
import {
  isotherms,
  outlinePath,
  paintField,
  plateOf,
  spanOf,
  temperatureAt,
} from "./drawing.ts";
import { type Old, OldWord } from "../old-word.tsx";
import { csvText, fileName, saveFile } from "../save.ts";

const FRAME_MS = 350;

/**
 * A section with its temperatures at a time. A value is read by tapping, or with the arrow keys: the cross moves,
 * the line of words below says what is there.
 */
export default function Field({ output, old }: { output: FieldOutput; old: Old }) {
  const frames = output.frames;
  const [shownFrame, setFrame] = useState(0);
  const [playing, setPlaying] = useState(false);
  const [cross, setCross] = useState<readonly [number, number]>([0.5, 0.5]);
  const canvas = useRef<HTMLCanvasElement>(null);
  const frame = frames[Math.min(shownFrame, frames.length - 1)]!;
  const plate = plateOf(output);
  const span = useMemo(() => spanOf(frames), [frames]);
  const lines = useMemo(() => isotherms(frame, output.isotherms ?? []), [frame, output.isotherms]);
  const border = useMemo(() => outlinePath(output, plate), [output]);

  useEffect(() => {
    if (canvas.current) paintField(canvas.current, frame, span);
  }, [frame, span]);

  useEffect(() => {
    if (!playing) return;
    if (shownFrame >= frames.length - 1) {
      setPlaying(false);
      return;
    }
    const timer = setTimeout(() => setFrame(shownFrame + 1), FRAME_MS);
    return () => clearTimeout(timer);
  }, [playing, shownFrame, frames.length]);

  const system = unitSystem.value;
  const degrees = (T: number) => shownText(T, "degC", system);
  const here = temperatureAt(
    frame,
    plate.x0 + cross[0] * plate.width,
    plate.y0 + (1 - cross[1]) * plate.height,
  );
  const place = (share: number, extent: number) => shownText(share * extent, "mm", system);
  const aspect = plate.height / plate.width;
  const pixels = 420;

  function move(dx: number, dy: number): void {
    setCross(([x, y]) => [between(x + dx), between(y + dy)]);
  }
  function onKey(e: KeyboardEvent): void {
    const step = e.shiftKey ? 0.1 : 0.02;
    const moves: Record<string, () => void> = {
      ArrowLeft: () => move(-step, 0),
      ArrowRight: () => move(step, 0),
      ArrowUp: () => move(0, -step),
      ArrowDown: () => move(0, step),
    };
    const act = moves[e.key];
    if (!act) return;
    e.preventDefault();
    act();
  }
  function onTap(e: MouseEvent): void {
    const box = (e.currentTarget as HTMLElement).getBoundingClientRect();
    setCross([
      between((e.clientX - box.left) / box.width),
      between((e.clientY - box.top) / box.height),
    ]);
  }
  function play(): void {
    if (!playing && shownFrame >= frames.length - 1) setFrame(0);
    setPlaying(!playing);
  }

  return (
    <figure class={`field ${old ? "is-old" : ""}`}>
      <figcaption>
        {output.caption} <OldWord old={old} />
      </figcaption>
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
        <canvas ref={canvas} width={pixels} height={Math.max(2, Math.round(pixels * aspect))} />
        <svg viewBox="0 0 1000 1000" preserveAspectRatio="none" aria-hidden="true">
          <path
            d={border}
            fill="none"
            stroke="#14130e"
            stroke-width="2.5"
            vector-effect="non-scaling-stroke"
          />
          {lines.map((l) => (
            <path
              key={l.temperature}
              d={l.path}
              fill="none"
              stroke="#14130e"
              stroke-width="1.2"
              stroke-dasharray="5 3"
              vector-effect="non-scaling-stroke"
            />
          ))}
          <path
            d={`M${cross[0] * 1000} 0V1000M0 ${cross[1] * 1000}H1000`}
            stroke="#ffffff"
            stroke-width="3"
            vector-effect="non-scaling-stroke"
          />
          <path
            d={`M${cross[0] * 1000} 0V1000M0 ${cross[1] * 1000}H1000`}
            stroke="#14130e"
            stroke-width="1"
            vector-effect="non-scaling-stroke"
          />
        </svg>
        {lines.map(
          (l) =>
            l.label && (
              <span
                key={l.temperature}
                class="isotherm-figure"
                aria-hidden="true"
                style={{
                  left: `clamp(1.7rem, ${l.label[0] / 10}%, 100% - 1.7rem)`,
                  top: `clamp(0.6rem, ${l.label[1] / 10}%, 100% - 0.6rem)`,
                }}
              >
                {degrees(l.temperature)}
              </span>
            ),
        )}
      </div>
      <p class="field-readout" aria-live="polite">
        {here === undefined ? "Outside the section." : <b>{degrees(here)}</b>} at{" "}
        {place(cross[0], plate.width)} from the left, {place(1 - cross[1], plate.height)} from the
        bottom.
      </p>
      <div class="field-scale">
        <span>cool, {degrees(span.coolest)}</span>
        <span class="ramp" style={{ background: cssRamp() }} aria-hidden="true" />
        <span>hot, {degrees(span.hottest)}</span>
      </div>
      {frames.length > 1 && (
        <div class="field-time no-print">
          <button type="button" onClick={play}>
            {playing ? "Hold" : "Play"}
          </button>
          <button
            type="button"
            class="step"
            aria-label="Earlier"
            disabled={shownFrame === 0}
            onClick={() => setFrame(shownFrame - 1)}
          >
            {"\u2212"}
          </button>
          <input
            type="range"
            min={0}
            max={frames.length - 1}
            value={shownFrame}
            aria-label="Time"
            aria-valuetext={`${clockWords(frame.time)} after the start`}
            onInput={(e) => setFrame(Number(e.currentTarget.value))}
          />
          <button
            type="button"
            class="step"
            aria-label="Later"
            disabled={shownFrame >= frames.length - 1}
            onClick={() => setFrame(shownFrame + 1)}
          >
            +
          </button>
        </div>
      )}
      <p class="small">At {clockWords(frame.time)} after the start.</p>
      <div class="row no-print">
        <button
          type="button"
          class="plain"
          onClick={() => savePicture(canvas.current, output.caption)}
        >
          Keep the picture (PNG)
        </button>
        <button type="button" class="plain" onClick={() => saveValues(output, shownFrame)}>
          Keep the values (CSV)
        </button>
      </div>
    </figure>
  );
}

const between = (share: number) => Math.min(0.999, Math.max(0.001, share));

function savePicture(canvas: HTMLCanvasElement | null, caption: string): void {
  canvas?.toBlob((blob) => blob && saveFile(fileName(caption, "png"), blob));
}

function saveValues(field: FieldOutput, index: number): void {
  const frame = field.frames[index]!;
  const across = frame.x.length - 1;
  const rows: (string | number)[][] = [];
  for (let j = 0; j < frame.y.length - 1; j++)
    for (let i = 0; i < across; i++)
      rows.push([
        (frame.x[i]! + frame.x[i + 1]!) / 2,
        (frame.y[j]! + frame.y[j + 1]!) / 2,
        frame.temperature[j * across + i]!,
      ]);
  const text = csvText(["x (m)", "y (m)", "temperature (K)"], rows);
  saveFile(fileName(`${field.caption} at ${Math.round(frame.time)} s`, "csv"), text, "text/csv");
}

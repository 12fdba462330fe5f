import { useMemo, useRef, useState } from "preact/hooks";
import { timeText } from "../../../../lib/units/format.ts";
import type { FieldOutput } from "../../../notebook/outputs/output.ts";
import { unitSystem } from "../../reading/preferences.ts";
import { shownText, type UnitSystem } from "../../reading/shown.ts";
import { type Old, OldWord } from "../old-word.tsx";
import { cssRamp } from "./color-ramp.ts";
import { plateOf, type Span, spanOf, temperatureAt } from "./drawing.ts";
import { savePicture, saveValues } from "./files.ts";
import { type Cross, Plate } from "./plate.tsx";
import { TimeRow, usePlaying } from "./time-row.tsx";

/**
 * A section with its temperatures at a time. A value is read by tapping, or with the arrow keys: the cross moves,
 * the line of words below says what is there.
 */
export default function Field({ output, old }: { output: FieldOutput; old: Old }) {
  const { frames, caption } = output;
  const playing = usePlaying(frames.length);
  const [cross, setCross] = useState<Cross>([0.5, 0.5]);
  const canvas = useRef<HTMLCanvasElement>(null);
  const frame = frames[playing.index]!;
  const plate = plateOf(output);
  const span = useMemo(() => spanOf(frames), [frames]);
  const system = unitSystem.value;
  const here = temperatureAt(
    frame,
    plate.x0 + cross[0] * plate.width,
    plate.y0 + (1 - cross[1]) * plate.height,
  );
  const place = (share: number, extent: number) => shownText(share * extent, "mm", system);
  return (
    <figure class={`field ${old ? "is-old" : ""}`}>
      <figcaption>
        {caption} <OldWord old={old} />
      </figcaption>
      <Plate
        output={output}
        frame={frame}
        span={span}
        cross={cross}
        moveCross={setCross}
        canvas={canvas}
      />
      <p class="field-readout" aria-live="polite">
        {here === undefined ? "Outside the section." : <b>{shownText(here, "degC", system)}</b>} at{" "}
        {place(cross[0], plate.width)} from the left, {place(1 - cross[1], plate.height)} from the
        bottom.
      </p>
      <Scale span={span} system={system} />
      {frames.length > 1 && <TimeRow playing={playing} count={frames.length} time={frame.time} />}
      <p class="small">At {timeText(frame.time)} after the start.</p>
      <div class="row no-print">
        <button type="button" class="plain" onClick={() => savePicture(canvas.current, caption)}>
          Keep the picture (PNG)
        </button>
        <button type="button" class="plain" onClick={() => saveValues(output, playing.index)}>
          Keep the values (CSV)
        </button>
      </div>
    </figure>
  );
}

function Scale({ span, system }: { span: Span; system: UnitSystem }) {
  return (
    <div class="field-scale">
      <span>cool, {shownText(span.coolest, "degC", system)}</span>
      <span class="ramp" style={{ background: cssRamp() }} aria-hidden="true" />
      <span>hot, {shownText(span.hottest, "degC", system)}</span>
    </div>
  );
}

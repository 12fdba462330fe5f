import { useMemo, useRef, useState } from "preact/hooks";
import { timeText } from "../../../../lib/units/format.ts";
import type { FieldOutput } from "../../../notebook/outputs/output.ts";
import { unitSystem } from "../../reading/preferences.ts";
import { shownText } from "../../reading/shown.ts";
import { type Old, OldWord } from "../old-word.tsx";
import { savePicture, saveValues } from "./files.ts";
import { extentOf, spanOf, temperatureAt } from "./grid.ts";
import { type Cross, LineKey, Plate } from "./plate.tsx";
import { Scale } from "./scale.tsx";
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
  const extent = extentOf(output);
  const span = useMemo(() => spanOf(frames), [frames]);
  const system = unitSystem.value;
  const here = temperatureAt(
    frame,
    extent.x0 + cross[0] * extent.width,
    extent.y0 + (1 - cross[1]) * extent.height,
  );
  const place = (share: number, extent: number) => shownText(share * extent, "mm", system);
  return (
    <figure class={`field ${old ? "is-old" : ""}`}>
      <figcaption>
        {caption} <OldWord old={old} />
      </figcaption>
      {output.shows && <p class="field-shows">{output.shows}</p>}
      <Plate
        output={output}
        frame={frame}
        span={span}
        cross={cross}
        moveCross={setCross}
        canvas={canvas}
      />
      <p class="field-moment">At {timeText(frame.time)} after the start.</p>
      <p class="field-readout" aria-live="polite">
        {here === undefined ? "Outside the section." : <b>{shownText(here, "degC", system)}</b>} at{" "}
        {place(cross[0], extent.width)} from the left, {place(1 - cross[1], extent.height)} from the
        bottom.
      </p>
      {frames.length > 1 && <TimeRow playing={playing} count={frames.length} time={frame.time} />}
      <Scale span={span} system={system} />
      <LineKey output={output} />
      <div class="row no-print">
        <button
          type="button"
          class="plain"
          onClick={() => void savePicture(canvas.current, caption)}
        >
          Keep the picture (PNG)
        </button>
        <button type="button" class="plain" onClick={() => saveValues(output, playing.index)}>
          Keep the values (CSV)
        </button>
      </div>
    </figure>
  );
}

import { useEffect, useState } from "preact/hooks";
import { timeText } from "../../../../lib/units/format.ts";

const FRAME_MS = 350;

/** Which frame is shown, and whether the next ones follow by themselves. */
interface Playing {
  readonly index: number;
  readonly running: boolean;
  readonly show: (index: number) => void;
  readonly toggle: () => void;
}

export function usePlaying(count: number): Playing {
  // of many times one in the middle says most, on paper it is the only one
  const [shown, setShown] = useState(count < 12 ? 0 : count >> 1);
  const [running, setRunning] = useState(false);
  const index = Math.min(shown, count - 1);
  const atEnd = index >= count - 1;
  useEffect(() => {
    if (!running) return;
    if (atEnd) {
      setRunning(false);
      return;
    }
    const timer = setTimeout(() => setShown(index + 1), FRAME_MS);
    return () => clearTimeout(timer);
  }, [running, index, atEnd]);
  function toggle(): void {
    if (!running && atEnd) setShown(0);
    setRunning(!running);
  }
  return { index, running, show: setShown, toggle };
}

/** Through the times of a field, by buttons or by the slider. */
export function TimeRow(props: { playing: Playing; count: number; time: number }) {
  const { playing, count, time } = props;
  const { index, show } = playing;
  return (
    <div class="field-time no-print">
      <button type="button" onClick={playing.toggle}>
        {playing.running ? "Hold" : "Play"}
      </button>
      <button
        type="button"
        class="step"
        aria-label="Earlier"
        disabled={index === 0}
        onClick={() => show(index - 1)}
      >
        {"\u2212"}
      </button>
      <input
        type="range"
        min={0}
        max={count - 1}
        value={index}
        aria-label="Time"
        aria-valuetext={`${timeText(time)} after the start`}
        onInput={(e) => show(Number(e.currentTarget.value))}
      />
      <button
        type="button"
        class="step"
        aria-label="Later"
        disabled={index >= count - 1}
        onClick={() => show(index + 1)}
      >
        +
      </button>
    </div>
  );
}

export function ShotStepper({
  shot,
  onChange,
}: {
  shot: number;
  onChange: (shot: number) => void;
}) {
  return (
    // biome-ignore lint/a11y/useSemanticElements: a stepper, not a form
    <div class="stepper" role="group" aria-label="Shot number">
      <button
        type="button"
        class="step"
        aria-label="Shot before"
        onClick={() => onChange(Math.max(1, shot - 1))}
      >
        {"\u2212"}
      </button>
      <output class="stepper-figure">
        shot <b>{shot}</b>
      </output>
      <button
        type="button"
        class="step"
        aria-label="Next shot"
        onClick={() => onChange(Math.min(40, shot + 1))}
      >
        +
      </button>
    </div>
  );
}

import type { ComponentChildren } from "preact";

/** What may be wider than the sheet: scrolls by itself, by the arrow keys too. */
export function Scroll(props: { label: string; class?: string; children: ComponentChildren }) {
  return (
    <section
      class={`table-frame ${props.class ?? ""}`}
      aria-label={props.label}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: else the keyboard could not scroll it
      tabIndex={0}
    >
      {props.children}
    </section>
  );
}

import type { RefObject } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { FIGURE_HEIGHT, type FigureOutput } from "../../../notebook/outputs/output.ts";
import { nextTurn } from "../../frame/next-turn.ts";
import { useWidth } from "../../frame/use-width.ts";
import { paper, unitSystem } from "../../reading/preferences.ts";
import { type Old, OldWord } from "../old-word.tsx";
import { fileName, saveFile } from "../save.ts";
import { FigureData, figureCsv } from "./data.tsx";
import { keepPng, keepSvg } from "./files.ts";

type Drawing = typeof import("./drawing.ts");

let drawing: Drawing | undefined;
let loading: Promise<Drawing> | undefined;

/** Plot is loaded when the first figure is to be drawn. */
function loadDrawing(): Promise<Drawing> {
  loading ??= loadInSteps();
  return loading;
}

async function loadInSteps(): Promise<Drawing> {
  // Plot formats a number as it loads; the browser's first one takes as long as all of Plot, so it goes before
  new Intl.NumberFormat("en-US").format(0);
  await nextTurn();
  drawing = await import("./drawing.ts");
  return drawing;
}

/** Figures that come for the first time are drawn one after the other, with the browser listening in between. */
let firstDrawings: Promise<void> = Promise.resolve();

const REST_MS = 4000;

export function Figure({ output, old }: { output: FigureOutput; old: Old }) {
  const space = useRef<HTMLDivElement>(null);
  const [unfolded, setUnfolded] = useState(false);
  useDrawn(space, output);

  const height = output.height ?? FIGURE_HEIGHT;
  return (
    <figure class={`figure ${old ? "is-old" : ""}`}>
      <figcaption>
        {output.caption} <OldWord old={old} />
      </figcaption>
      <div ref={space} class="figure-space hatched" style={{ minHeight: `${height}px` }} />
      <details class="closer no-print" onToggle={(e) => setUnfolded(e.currentTarget.open)}>
        <summary>The figures behind it, and files</summary>
        {unfolded && <FigureData output={output} />}
        <div class="row">
          <button type="button" onClick={() => keepSvg(space.current, output.caption)}>
            SVG
          </button>
          <button type="button" onClick={() => void keepPng(space.current, output.caption)}>
            PNG
          </button>
          <button
            type="button"
            onClick={() => saveFile(fileName(output.caption, "csv"), figureCsv(output), "text/csv")}
          >
            CSV
          </button>
        </div>
      </details>
    </figure>
  );
}

/** Whether Plot is there; it is asked for when the place comes near the window, or once the sheet rests. */
function useReady(space: RefObject<HTMLDivElement | null>): boolean {
  const [ready, setReady] = useState(drawing !== undefined);
  useEffect(() => {
    const element = space.current;
    if (ready || !element) return;
    // drawn when it comes near: the answer above it does not wait for Plot
    const watch = new IntersectionObserver(
      ([seen]) => {
        if (!seen?.isIntersecting) return;
        watch.disconnect();
        void loadDrawing().then(() => setReady(true));
      },
      { rootMargin: "300px" },
    );
    watch.observe(element);
    // paper has no "near": once the sheet rests, everything is drawn
    const resting = setTimeout(() => void loadDrawing().then(() => setReady(true)), REST_MS);
    return () => {
      watch.disconnect();
      clearTimeout(resting);
    };
  }, [ready]);
  return ready;
}

/** Draws the figure into its place, and again when anything that it depends on is another. */
function useDrawn(space: RefObject<HTMLDivElement | null>, output: FigureOutput): void {
  const ready = useReady(space);
  const width = useWidth(space);
  const system = unitSystem.value;
  const sheet = paper.value;
  useEffect(() => {
    const element = space.current;
    if (!drawing || !element || width < 50) return;
    const { drawFigure } = drawing;
    const draw = () => element.replaceChildren(drawFigure(output, system, width));
    if (element.firstChild) {
      draw();
      return;
    }
    let left = false;
    const turn = firstDrawings.then(nextTurn).then(() => {
      if (!left) draw();
    });
    // one that can't be drawn must not keep the others waiting
    firstDrawings = turn.catch(() => {});
    return () => {
      left = true;
    };
  }, [output, system, sheet, width, ready]);
}

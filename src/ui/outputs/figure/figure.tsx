import { useEffect, useRef, useState } from "preact/hooks";
import type { FigureOutput } from "../../../notebook/outputs/output.ts";
import { nextTurn } from "../../frame/next-turn.ts";
import { Scroll } from "../../frame/scroll.tsx";
import { useWidth } from "../../frame/use-width.ts";
import { paper, unitSystem } from "../../reading/preferences.ts";
import { type Old, OldWord } from "../old-word.tsx";
import { csvText, fileName, saveFile } from "../save.ts";

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

const HEIGHT = 340;
const REST_MS = 4000;

export function Figure({ output, old }: { output: FigureOutput; old: Old }) {
  const space = useRef<HTMLDivElement>(null);
  const width = useWidth(space);
  const [ready, setReady] = useState(drawing !== undefined);
  const [unfolded, setUnfolded] = useState(false);
  const system = unitSystem.value;
  const sheet = paper.value;

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

  const height = output.height ?? HEIGHT;
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

type Column = readonly [name: string, values: ArrayLike<string | number | null>];

/** Each mark's data by columns, in SI. */
function columnsOf(mark: FigureOutput["marks"][number]): Column[] {
  const { data } = mark;
  if (!Array.isArray(data)) return Object.entries(data);
  const names = [...new Set(data.flatMap((row) => Object.keys(row)))];
  return names.map((name) => [name, data.map((row) => row[name] ?? null)]);
}

const SHOWN_ROWS = 40;

/** What the picture is made of, for those who cannot see it. Long data are thinned here, never in the file. */
function FigureData({ output }: { output: FigureOutput }) {
  return (
    <>
      {output.marks.map((mark, i) => {
        const columns = columnsOf(mark);
        const count = columns[0]?.[1].length ?? 0;
        const every = Math.max(1, Math.ceil(count / SHOWN_ROWS));
        const rows = Array.from({ length: Math.ceil(count / every) }, (_, r) => r * every);
        return (
          <Scroll label={`Data ${i + 1}`} key={i}>
            <table>
              <caption>
                {mark.label ?? `${output.y.label} over ${output.x.label}`} (SI units
                {every > 1 ? `, every ${every}th row` : ""})
              </caption>
              <thead>
                <tr>
                  {columns.map(([name]) => (
                    <th key={name} scope="col">
                      {name}
                    </th>
                  ))}
                </tr>
              </thead>
              <tbody>
                {rows.map((r) => (
                  <tr key={r}>
                    {columns.map(([name, values]) => (
                      <td key={name}>{cellText(values[r] ?? null)}</td>
                    ))}
                  </tr>
                ))}
              </tbody>
            </table>
          </Scroll>
        );
      })}
    </>
  );
}

function cellText(cell: string | number | null): string {
  if (cell === null) return "";
  return typeof cell === "number" ? String(Number(cell.toPrecision(5))) : cell;
}

export function figureCsv(output: FigureOutput): string {
  const rows: (string | number | null)[][] = [];
  output.marks.forEach((mark, i) => {
    for (const [name, values] of columnsOf(mark))
      for (let r = 0; r < values.length; r++)
        rows.push([i + 1, mark.label ?? mark.mark, r + 1, name, values[r] ?? null]);
  });
  return csvText(["mark", "label", "row", "column", "value (SI)"], rows);
}

function svgText(space: HTMLDivElement | null): string | undefined {
  const svg = space?.querySelector("svg");
  if (!svg) return undefined;
  const copy = svg.cloneNode(true) as SVGSVGElement;
  copy.setAttribute("xmlns", "http://www.w3.org/2000/svg");
  // the page's variables mean nothing in a file
  const style = getComputedStyle(document.documentElement);
  const text = new XMLSerializer().serializeToString(copy);
  return text.replace(/var\((--[a-z-]+)\)/g, (_, name: string) =>
    style.getPropertyValue(name).trim(),
  );
}

function keepSvg(space: HTMLDivElement | null, caption: string): void {
  const text = svgText(space);
  if (text) saveFile(fileName(caption, "svg"), text, "image/svg+xml");
}

async function keepPng(space: HTMLDivElement | null, caption: string): Promise<void> {
  const text = svgText(space);
  const svg = space?.querySelector("svg");
  if (!text || !svg) return;
  const image = new Image();
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(text)}`;
  await image.decode();
  const canvas = document.createElement("canvas");
  const scale = 2;
  canvas.width = svg.clientWidth * scale;
  canvas.height = svg.clientHeight * scale;
  const context = canvas.getContext("2d");
  if (!context) return;
  context.fillStyle = getComputedStyle(document.documentElement).getPropertyValue("--paper");
  context.fillRect(0, 0, canvas.width, canvas.height);
  context.drawImage(image, 0, 0, canvas.width, canvas.height);
  canvas.toBlob((blob) => blob && saveFile(fileName(caption, "png"), blob));
}

/** `npm run bench -- report`: every table of a run and what accuracy costs, as one page: dist/bench-report.html; the main figures go to the page of methods. */
import { mkdirSync, writeFileSync } from "node:fs";
import { cpus, totalmem } from "node:os";
import * as Plot from "@observablehq/plot";
import { parseHTML } from "linkedom";
import { simulate } from "../../lib/index.ts";
import { machineNow, measure, recorded } from "./measure.ts";
import { writeToMethodPage } from "./method-page.ts";
import {
  ELLIPSE_S,
  ellipseInBlock,
  LAYERED_SLAB_S,
  layeredSlab,
  problemOf,
  withNewGrid,
} from "./problems.ts";

const FILE = "dist/bench-report.html";

interface Cost {
  readonly problem: string;
  readonly cells: number;
  readonly ms: number;
  /** Of the demold time, %. */
  readonly error: number;
}

/** One grid each, from coarse to fine. */
function costs(): Cost[] {
  const cases = [
    { problem: "layered slab", made: problemOf(layeredSlab), seconds: LAYERED_SLAB_S },
    {
      problem: "ellipse in a block",
      made: problemOf(ellipseInBlock(1000)),
      seconds: ELLIPSE_S.film,
    },
  ];
  return cases.flatMap(({ problem, made, seconds }) =>
    [0.5, 0.7, 1, 1.4, 2, 2.8].map((resolution) => {
      const asked = { ...made, estimateGrid: false, resolution, tolerance: 1e-5 };
      const { effort, crossings } = simulate(asked);
      const { least } = measure((call) => simulate(withNewGrid(asked, call)));
      const error = 100 * Math.abs((crossings[0]?.time ?? Number.NaN) / seconds - 1);
      return { problem, cells: effort.cells, ms: least, error };
    }),
  );
}

const escaped = (text: string) =>
  text.replace(/[&<>]/g, (c) => ({ "&": "&amp;", "<": "&lt;", ">": "&gt;" })[c]!);

function chart(rows: readonly Cost[], x: "cells" | "ms", y: "ms" | "error"): string {
  const { document } = parseHTML("<!doctype html><html><body></body></html>");
  const names = { cells: "cells", ms: "milliseconds", error: "error of the demold time, %" };
  const scale = (label: string) => ({ type: "log", label, ticks: 6, tickFormat: String }) as const;
  const drawn = Plot.plot({
    document: document as unknown as Document,
    width: 640,
    height: 360,
    marginLeft: 60,
    x: scale(names[x]),
    y: scale(names[y]),
    symbol: { legend: false },
    marks: [
      Plot.line(rows, { x, y, z: "problem", stroke: "#767676" }),
      Plot.dot(rows, { x, y, symbol: "problem", stroke: "#1a1a1a", r: 4 }),
      Plot.text(
        rows,
        Plot.selectLast({ x, y, z: "problem", text: "problem", dy: -12, textAnchor: "end" }),
      ),
    ],
  });
  drawn.setAttribute("xmlns", "http://www.w3.org/2000/svg");
  return drawn.outerHTML;
}

export function writeReport(all: boolean): void {
  const rows = costs();
  const tables = recorded.map(({ title, head, rows: lines }) => {
    const cells = (tag: string, list: readonly string[]) =>
      list.map((text) => `<${tag}>${escaped(text)}</${tag}>`).join("");
    return `<h2>${escaped(title)}</h2><div class="wide"><table><tr>${cells("th", head)}</tr>${lines
      .map((line) => `<tr>${cells("td", line)}</tr>`)
      .join("")}</table></div>`;
  });
  const machine = `${cpus()[0]?.model ?? "unknown processor"}, ${cpus().length} cores, ${(totalmem() / 2 ** 30).toFixed(0)} GiB, Node ${process.version}, ${process.platform}. ${machineNow()}`;
  mkdirSync("dist", { recursive: true });
  writeFileSync(
    FILE,
    `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Castclock: speed and accuracy</title>
<style>body{font:16px/1.5 sans-serif;max-width:60rem;margin:2rem auto;padding:0 1rem}svg,.wide{max-width:100%;overflow-x:auto}table{border-collapse:collapse}td,th{padding:.2rem .8rem;border-bottom:1px solid #ccc;text-align:right}td:first-child,th:first-child{text-align:left}</style>
<h1>Speed and accuracy</h1><p>${escaped(machine)} Machines swing: read ratios and minima.</p>
<h2>What accuracy costs: error against milliseconds, one grid, from coarse to fine</h2>${chart(rows, "ms", "error")}
<h2>What size costs: milliseconds against cells</h2>${chart(rows, "cells", "ms")}
${tables.join("\n")}</html>\n`,
  );
  console.log(`\nThe report is ${FILE}`);
  // a report of some benches is no measure of the whole
  if (!all) return;
  writeToMethodPage(recorded, machineNow());
  console.log("Its main figures stand on the page of methods: notebooks/method.md");
}

/** Pictures of an answer as SVG files: the notebook's figures, drawn without a browser. */
import { plot } from "@observablehq/plot";
import { parseHTML } from "linkedom";
import { displayUnits, readersUnit, toUnit, type UnitSystem } from "../../lib/units/display.ts";
import { type FigureReader, plotOptions } from "../notebook/outputs/figure.ts";
import type { FigureOutput, Tone } from "../notebook/outputs/output.ts";

export interface Drawing {
  /** Name of the file, without its ending. */
  readonly name: string;
  readonly figure: FigureOutput;
}

/** Black on white, told apart in print by weight as well as by color. */
const COLORS: Readonly<Record<Tone, string>> = {
  ink: "#1a1a1a",
  quiet: "#767676",
  accent: "#0b5394",
  warm: "#b3401a",
  cool: "#0b5394",
  wall: "#5c4a1f",
  skin: "#3a6b35",
  good: "#2d6a2f",
  caution: "#a31515",
};

function readerOf(system: UnitSystem, document: Document): FigureReader {
  return {
    inUnit: (value, unit) => {
      const name = readersUnit(unit, system);
      return name === undefined ? value : toUnit(value, name);
    },
    unitName: (unit) => {
      const name = readersUnit(unit, system);
      return name === undefined ? unit : displayUnits[name].symbol;
    },
    tone: (tone) => COLORS[tone],
    width: 720,
    document,
  };
}

/** Each drawing as the text of an SVG file. */
export function svgFiles(
  drawings: readonly Drawing[],
  system: UnitSystem,
): { readonly name: string; readonly text: string }[] {
  const { document } = parseHTML("<!doctype html><html><body></body></html>");
  return drawings.map(({ name, figure }) => {
    const drawn = plot(plotOptions(figure, readerOf(system, document as unknown as Document)));
    const svg = drawn.tagName.toLowerCase() === "svg" ? drawn : drawn.querySelector("svg")!;
    svg.setAttribute("xmlns", "http://www.w3.org/2000/svg");
    return { name: `${name}.svg`, text: `${svg.outerHTML}\n` };
  });
}

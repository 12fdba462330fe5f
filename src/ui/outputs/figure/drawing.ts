/** The part of a figure that needs Plot: loaded with the first figure. */
import { plot } from "@observablehq/plot";
import { type FigureReader, plotOptions } from "../../../notebook/outputs/figure.ts";
import type { FigureOutput, Tone } from "../../../notebook/outputs/output.ts";
import { inReaderUnit, readerUnit, type UnitSystem } from "../../reading/shown.ts";

/** Two inks; what they cannot tell apart differs by weight and is named at its end. */
const TONES: Readonly<Record<Tone, string>> = {
  ink: "var(--ink)",
  quiet: "var(--ink-soft)",
  accent: "var(--red)",
  warm: "var(--red)",
  cool: "var(--blue)",
  wall: "var(--blue)",
  skin: "var(--ink-soft)",
  good: "var(--ink)",
  caution: "var(--red)",
};

export function figureReader(system: UnitSystem, width: number): FigureReader {
  return {
    inUnit: (value, unit) => inReaderUnit(value, unit, system),
    unitName: (unit) => readerUnit(unit, system),
    tone: (tone) => TONES[tone],
    width,
  };
}

export function drawFigure(figure: FigureOutput, system: UnitSystem, width: number): SVGElement {
  const drawn = plot(plotOptions(figure, figureReader(system, width)));
  const svg = drawn instanceof SVGElement ? drawn : drawn.querySelector("svg")!;
  svg.setAttribute("role", "img");
  svg.setAttribute("aria-label", `${figure.caption}. ${figure.y.label} over ${figure.x.label}.`);
  for (const group of svg.querySelectorAll("g[aria-label]")) group.setAttribute("role", "group");
  return svg;
}

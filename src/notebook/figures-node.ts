/** Figures of a page as SVG files, without a browser: in metric units and fixed colors, for paper. */
import { plot } from "@observablehq/plot";
import { parseHTML } from "linkedom";
import { valueIn } from "../../lib/units/quantity.ts";
import { plotOptions } from "./figure.ts";
import type { Output, Tone } from "./output.ts";

const TONE: Readonly<Record<Tone, string>> = {
  ink: "#1a1a1a",
  quiet: "#6b6b6b",
  accent: "#1f4e9c",
  warm: "#b3401a",
  cool: "#1f6f8b",
  wall: "#6a5d2e",
  skin: "#8a2f6b",
  good: "#2c6e2f",
  caution: "#a15c00",
};

const METRIC: Readonly<Record<string, readonly [unit: string, name: string, kind: string]>> = {
  degC: ["degC", "\u00b0C", "temperature"],
  K: ["K", "\u00b0C", "temperatureDifference"],
  mm: ["mm", "mm", "length"],
  g: ["g", "g", "mass"],
  ml: ["ml", "ml", "volume"],
};

export interface DrawnFigure {
  /** Fit for a file's name: `2-temperatures`. */
  readonly name: string;
  readonly caption: string;
  readonly svg: string;
}

/** All figures of a run, numbered in their order. */
export function figuresToSvg(
  outputs: readonly (readonly Output[])[],
  width = 720,
): readonly DrawnFigure[] {
  const { document } = parseHTML("<!doctype html><html><body></body></html>");
  const figures = outputs.flat().filter((o) => o.kind === "figure");
  return figures.map((figure, i) => {
    const options = plotOptions(figure, {
      width,
      document,
      tone: (tone) => TONE[tone],
      inUnit(value, unit) {
        const metric = METRIC[unit];
        if (metric) return valueIn(value, metric[0], metric[2] as Parameters<typeof valueIn>[2]);
        return unit === "%" ? value * 100 : value;
      },
      unitName: (unit) => METRIC[unit]?.[1] ?? (unit === "1" ? "" : unit),
    });
    const drawn = plot(options);
    const element = drawn.tagName.toLowerCase() === "svg" ? drawn : drawn.querySelector("svg");
    element?.setAttribute("xmlns", "http://www.w3.org/2000/svg");
    const words = figure.caption
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, "-")
      .replace(/^-+|-+$/g, "")
      .slice(0, 40);
    return {
      name: `${i + 1}-${words || "figure"}`,
      caption: figure.caption,
      svg: `${element?.outerHTML ?? ""}\n`,
    };
  });
}

/** A body drawn from three sides, its sections marked: figures as data. */
import type { ShapeContent } from "../../lib/questions/shape/shape.ts";
import type { FigureOutput } from "../notebook/outputs/output.ts";
import type { Drawing } from "./svg.ts";

/** Side, top, and the sections one behind the other. */
export function shapeDrawings({ views, sections }: ShapeContent): Drawing[] {
  return [
    { name: "shape-side", figure: alongFigure("Seen from the side", views, sections, "rise") },
    { name: "shape-top", figure: alongFigure("Seen from the top", views, sections, null) },
    { name: "shape-sections", figure: sectionsFigure(sections) },
  ];
}

function alongFigure(
  caption: string,
  views: ShapeContent["views"],
  sections: ShapeContent["sections"],
  rise: "rise" | null,
): FigureOutput {
  const half = (v: ShapeContent["views"][number]) => (rise ? v.height : v.width) / 2;
  const middle = (v: ShapeContent["views"][number]) => (rise ? v.rise : 0);
  const at = views.map((v) => v.at);
  const edge = (side: 1 | -1) => ({
    mark: "line" as const,
    data: { x: at, y: views.map((v) => middle(v) + side * half(v)) },
    x: "x",
    y: "y",
    stroke: "ink" as const,
  });
  const marked = sections.map((s) => {
    const nearest = views.reduce((a, b) => (Math.abs(b.at - s.at) < Math.abs(a.at - s.at) ? b : a));
    return {
      mark: "line" as const,
      data: {
        x: [s.at, s.at],
        y: [-1, 1].map((side) => middle(nearest) + side * half(nearest)),
      },
      x: "x",
      y: "y",
      stroke: "accent" as const,
      label: s.name,
    };
  });
  return {
    kind: "figure",
    caption,
    x: { label: "From the nose", unit: "mm" },
    y: { label: rise ? "Height" : "Width", unit: "mm" },
    marks: [edge(1), edge(-1), ...marked],
    sameScale: true,
    height: 260,
  };
}

function sectionsFigure(sections: ShapeContent["sections"]): FigureOutput {
  return {
    kind: "figure",
    caption: "The sections, from the front",
    x: { label: "Across", unit: "mm" },
    y: { label: "Up", unit: "mm" },
    sameScale: true,
    marks: sections.map(({ name, outline }) => {
      const closed = [...outline, outline[0]!];
      return {
        mark: "line" as const,
        data: { x: closed.map(([x]) => x), y: closed.map(([, y]) => y) },
        x: "x",
        y: "y",
        stroke: "ink" as const,
        label: name,
      };
    }),
  };
}

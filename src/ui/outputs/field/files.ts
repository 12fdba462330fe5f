import type { FieldOutput } from "../../../notebook/outputs/output.ts";
import { csvText, fileName, saveFile } from "../save.ts";

const SCALE = 2;

/** The plate as it is seen: its colors with the lines over them. */
export async function savePicture(
  canvas: HTMLCanvasElement | null,
  caption: string,
): Promise<void> {
  const lines = canvas?.parentElement?.querySelector("svg");
  if (!canvas || !lines) return;
  const whole = document.createElement("canvas");
  whole.width = canvas.width * SCALE;
  whole.height = canvas.height * SCALE;
  const context = whole.getContext("2d");
  if (!context) return;
  context.drawImage(canvas, 0, 0, whole.width, whole.height);
  const copy = lines.cloneNode(true) as SVGSVGElement;
  copy.setAttribute("xmlns", "http://www.w3.org/2000/svg");
  copy.setAttribute("width", String(canvas.width));
  copy.setAttribute("height", String(canvas.height));
  const image = new Image();
  const text = new XMLSerializer().serializeToString(copy);
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(text)}`;
  await image.decode();
  context.drawImage(image, 0, 0, whole.width, whole.height);
  whole.toBlob((blob) => blob && saveFile(fileName(caption, "png"), blob));
}

export function saveValues(field: FieldOutput, index: number): void {
  const frame = field.frames[index]!;
  const across = frame.x.length - 1;
  const rows: (string | number)[][] = [];
  for (let j = 0; j < frame.y.length - 1; j++)
    for (let i = 0; i < across; i++)
      rows.push([
        (frame.x[i]! + frame.x[i + 1]!) / 2,
        (frame.y[j]! + frame.y[j + 1]!) / 2,
        frame.temperature[j * across + i]!,
      ]);
  const text = csvText(["x (m)", "y (m)", "temperature (K)"], rows);
  saveFile(fileName(`${field.caption} at ${Math.round(frame.time)} s`, "csv"), text, "text/csv");
}

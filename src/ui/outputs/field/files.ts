import type { FieldOutput } from "../../../notebook/outputs/output.ts";
import { csvText, fileName, saveFile } from "../save.ts";

export function savePicture(canvas: HTMLCanvasElement | null, caption: string): void {
  canvas?.toBlob((blob) => blob && saveFile(fileName(caption, "png"), blob));
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

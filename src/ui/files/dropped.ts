/** A file dropped anywhere on the notebook: a shape is read on its sheet. */
import { signal } from "@preact/signals";

export const droppedShape = signal<File | undefined>(undefined);

export const isShape = (name: string) => /\.(stl|svg)$/i.test(name);

/** Without this the browser would leave the notebook to show the file. */
export function watchDrops(): void {
  addEventListener("dragover", (e) => {
    if (e.dataTransfer?.types.includes("Files")) e.preventDefault();
  });
  addEventListener("drop", (e) => {
    const file = e.dataTransfer?.files[0];
    if (!file) return;
    e.preventDefault();
    if (!isShape(file.name)) return;
    droppedShape.value = file;
    location.hash = "#/page/shape";
  });
}

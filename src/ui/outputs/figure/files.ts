import { fileName, saveFile } from "../save.ts";

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

export function keepSvg(space: HTMLDivElement | null, caption: string): void {
  const text = svgText(space);
  if (text) saveFile(fileName(caption, "svg"), text, "image/svg+xml");
}

export async function keepPng(space: HTMLDivElement | null, caption: string): Promise<void> {
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

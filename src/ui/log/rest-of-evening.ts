/** A sheet that plans the rest of an evening from what its log says. */
import { shippedPages } from "virtual:notebooks";
import { pageAddress } from "../frame/route.ts";
import { theShelf } from "../shelf/the-shelf.ts";
import type { LogEntry } from "./entries.ts";
import { happenedOf } from "./evening.ts";

const SHOTS = /(const happened = )\[\];/;

/** The shipped sheet of the evening with these shots in it; gives its address. */
export async function sheetOfRest(evening: readonly LogEntry[], molds: number): Promise<string> {
  const shots = happenedOf(evening, molds).map(
    ({ mold, injected, opened }) =>
      `{ mold: ${mold}, injected: ${Math.round(injected)}, opened: ${Math.round(opened ?? 0)} }`,
  );
  const template = shippedPages.find((p) => p.name === "evening")?.text ?? "";
  const text = template
    .replace(SHOTS, (_, start: string) => `${start}[\n  ${shots.join(",\n  ")},\n];`)
    .replace(/^# .*$/m, "# What happens in the rest of this evening?");
  const added = await (await theShelf).add("page", "rest of the evening", text);
  return pageAddress(added.name);
}

/** A shipped sheet with data of the reader's own in it, as a sheet of its own. */
import { pageAddress } from "../frame/route.ts";
import { theShelf } from "../shelf/the-shelf.ts";

/** Adds it to the shelf under about that name; gives its address. */
export async function filledSheet(
  template: string,
  name: string,
  fill: (text: string) => string,
): Promise<string> {
  const shelf = await theShelf;
  const text = (await shelf.shipped("page", template))?.text ?? "";
  const added = await shelf.add("page", name.trim().slice(0, 80), fill(text));
  return pageAddress(added.name);
}

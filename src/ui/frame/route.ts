/** Which sheet is open: told by the address after `#`, so that back, reload and bookmarks work. */
import { signal } from "@preact/signals";
import { FIRST_PAGE } from "../../notebook/run/first-job.ts";

export type Route =
  | { readonly sheet: "page"; readonly name: string }
  | { readonly sheet: "index" | "job" | "many" | "timer" | "card" | "log" | "nowhere" };

const SHEETS = ["index", "job", "many", "timer", "card", "log"] as const;

function readRoute(hash: string): Route {
  const path = hash.replace(/^#\/?/, "");
  if (path === "") return { sheet: "page", name: FIRST_PAGE };
  if (path.startsWith("page/")) {
    try {
      return { sheet: "page", name: decodeURIComponent(path.slice(5)) };
    } catch {
      return { sheet: "nowhere" }; // a broken escape
    }
  }
  const sheet = SHEETS.find((s) => s === path);
  return { sheet: sheet ?? "nowhere" };
}

export function pageAddress(name: string): string {
  return name === FIRST_PAGE ? "#/" : `#/page/${encodeURIComponent(name)}`;
}

export const route = signal<Route>(readRoute(location.hash));

addEventListener("hashchange", () => {
  route.value = readRoute(location.hash);
});

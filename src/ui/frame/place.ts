/** Back and forward return to where one was: the place on a sheet belongs to its entry in the browser's history. */
const KEY = "castclock.places";
const MOST_PLACES = 50;
/** A sheet grows while it is worked out: its place is tried for this long. ms */
const PATIENCE_MS = 4000;

let places: Record<string, number> = {};
let here = "";

function keyHere(): string {
  const state = history.state as { place?: unknown } | null;
  return typeof state?.place === "string" ? state.place : "";
}

/** Gives this entry of the history a key of its own. */
function mark(): string {
  const known = keyHere();
  if (known !== "") return known;
  const made = `${Date.now().toString(36)}${Math.random().toString(36).slice(2, 8)}`;
  history.replaceState({ place: made }, "");
  return made;
}

function note(): void {
  if (here === "") return;
  places[here] = scrollY;
  const keys = Object.keys(places);
  for (const old of keys.slice(0, Math.max(0, keys.length - MOST_PLACES))) delete places[old];
  try {
    sessionStorage.setItem(KEY, JSON.stringify(places));
  } catch {
    // kept for this visit alone
  }
}

/** Where a sheet was left; what was read back from the browser is looked up by its own keys alone. */
function placeOf(key: string): number | undefined {
  return Object.hasOwn(places, key) ? places[key] : undefined;
}

/** Starts noting places; to be called once. */
export function keepPlaces(): void {
  history.scrollRestoration = "manual";
  try {
    const kept: unknown = JSON.parse(sessionStorage.getItem(KEY) ?? "{}");
    if (typeof kept === "object" && kept !== null) places = { ...(kept as Record<string, number>) };
  } catch {
    // not ours
  }
  here = mark();
  let waiting: ReturnType<typeof setTimeout> | undefined;
  addEventListener(
    "scroll",
    () => {
      waiting ??= setTimeout(() => {
        waiting = undefined;
        note();
      }, 120);
    },
    { passive: true },
  );
  addEventListener("pagehide", note);
  const place = placeOf(here);
  if (place !== undefined) goTo(place);
}

/** Another sheet was opened: where it was left, or its top. Answers whether one was here before. */
export function takePlace(): boolean {
  const known = keyHere();
  here = mark();
  const place = known === "" ? undefined : placeOf(known);
  goTo(place ?? 0);
  return place !== undefined;
}

/** Scrolls there as soon as the sheet is long enough; the reader's own scrolling ends it. */
function goTo(place: number): void {
  scrollTo(0, place);
  if (place === 0) return;
  const until = performance.now() + PATIENCE_MS;
  const mine = here;
  let isOver = false;
  const stop = () => {
    isOver = true;
  };
  for (const kind of ["wheel", "touchstart", "keydown"])
    addEventListener(kind, stop, { once: true });
  const again = () => {
    if (isOver || here !== mine || performance.now() > until) return;
    if (Math.abs(scrollY - place) > 1) scrollTo(0, place);
    setTimeout(again, 60);
  };
  again();
}

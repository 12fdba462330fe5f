/** What the reader chose for this browser: unit system and paper. Kept where it can be read before the first paint. */
import { effect } from "@preact/signals";
import { keptWord } from "./kept.ts";
import type { UnitSystem } from "./shown.ts";

type Paper = "light" | "dark";

/** Where Fahrenheit is the habit. Only the first guess; the switch is on every sheet. */
function habit(): UnitSystem {
  return /-(US|LR|BS|BZ|KY|PW|FM|MH)\b/i.test(navigator.language) ? "shop-us" : "metric";
}

const units = keptWord<UnitSystem>("units", ["shop-us", "metric"], habit());
const sheet = keptWord<Paper>("paper", ["light", "dark"], "light");

export const unitSystem = units.value;
export const paper = sheet.value;

export function chooseUnits(system: UnitSystem): void {
  units.change(() => system);
}

export function choosePaper(next: Paper): void {
  sheet.change(() => next);
}

export function showPaper(): void {
  effect(() => {
    document.documentElement.dataset["paper"] = paper.value;
  });
}

/** What the reader chose for this browser: unit system and paper. Kept where it can be read before the first paint. */
import { computed, effect, signal } from "@preact/signals";
import { keptWord } from "./kept.ts";
import type { UnitSystem } from "./shown.ts";

type Paper = "light" | "dark";

/** Where Fahrenheit is the habit. Only the first guess; the switch is on every sheet. */
function habit(): UnitSystem {
  return /-(US|LR|BS|BZ|KY|PW|FM|MH)\b/i.test(navigator.language) ? "shop-us" : "metric";
}

const units = keptWord<UnitSystem>("units", ["shop-us", "metric"], habit());
/** Follows the system until the reader has chosen. */
const sheet = keptWord<Paper | "system">("paper", ["light", "dark", "system"], "system");
const darkSystem = matchMedia("(prefers-color-scheme: dark)");
const isSystemDark = signal(darkSystem.matches);
darkSystem.addEventListener("change", () => {
  isSystemDark.value = darkSystem.matches;
});

export const unitSystem = units.value;
export const paper = computed<Paper>(() =>
  sheet.value.value === "system" ? (isSystemDark.value ? "dark" : "light") : sheet.value.value,
);

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

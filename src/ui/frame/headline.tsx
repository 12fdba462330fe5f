import { choosePaper, chooseUnits, paper, unitSystem } from "../reading/preferences.ts";
import { route } from "./route.ts";

const SHEETS = [
  { sheet: "index", word: "Sheets" },
  { sheet: "job", word: "Job" },
  { sheet: "timer", word: "Timer" },
  { sheet: "card", word: "Card" },
  { sheet: "log", word: "Log" },
] as const;

function toMain(e: MouseEvent): void {
  e.preventDefault();
  document.getElementById("main")?.focus();
}

/** The strip at the top: the name, what there is, the reader's units and paper. */
export function Headline() {
  const system = unitSystem.value;
  const here = route.value.sheet;
  return (
    <header class="headline no-print">
      <a class="skip" href={location.hash || "#/"} onClick={toMain}>
        To the sheet
      </a>
      <a class="name" href="#/" aria-label="Castclock, first sheet">
        Castclock
      </a>
      <nav aria-label="Sheets">
        <ul>
          {SHEETS.map(({ sheet, word }) => (
            <li key={sheet}>
              <a href={`#/${sheet}`} {...(here === sheet && { "aria-current": "page" })}>
                {word}
              </a>
            </li>
          ))}
        </ul>
      </nav>
      <div class="row switches">
        {/* biome-ignore lint/a11y/useSemanticElements: two buttons, not a form */}
        <div class="either" role="group" aria-label="Units shown">
          <button
            type="button"
            aria-pressed={system === "shop-us"}
            aria-label="Fahrenheit, inches, ounces"
            onClick={() => chooseUnits("shop-us")}
          >
            {"\u00b0F"}
            <span class="long">{" in oz"}</span>
          </button>
          <button
            type="button"
            aria-pressed={system === "metric"}
            aria-label="Celsius, millimeters, grams"
            onClick={() => chooseUnits("metric")}
          >
            {"\u00b0C"}
            <span class="long">{" mm g"}</span>
          </button>
        </div>
        <button
          type="button"
          class="plain"
          onClick={() => choosePaper(paper.value === "dark" ? "light" : "dark")}
        >
          {paper.value === "dark" ? "Light" : "Dark"}
        </button>
      </div>
    </header>
  );
}

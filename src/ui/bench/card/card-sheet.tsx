import { useEffect, useState } from "preact/hooks";
import type { Range } from "../../../../lib/confidence/range.ts";
import { formatQuantity } from "../../../../lib/units/format.ts";
import { ask } from "../../asking/ask.ts";
import type { CardFacts, Reply } from "../../asking/asked.ts";
import { jobFields } from "../../job/fields.ts";
import { job } from "../../job/job-store.ts";
import { clockWords, today } from "../../reading/clock.ts";
import { unitSystem } from "../../reading/preferences.ts";
import { problemWords } from "../../reading/problem-words.ts";
import { otherSystem, shownText } from "../../reading/shown.ts";

const PENCIL_ROWS = 6;

/** The sheet for the wall: one job, one page, black on white. */
export default function CardSheet() {
  const now = job.value;
  const [reply, setReply] = useState<Reply<"card"> | undefined>();
  useEffect(() => {
    let current = true;
    setReply(undefined);
    void ask({ ask: "card", jobText: now.text, settings: {}, shot: 1 }).then(
      (r) => current && setReply(r),
    );
    return () => {
      current = false;
    };
  }, [now.text]);
  return (
    <>
      <div class="no-print">
        <h1>Card for the wall</h1>
        <p class="lead">
          One page for {now.name}, A4 or Letter, black on white. Laminate it and write on it with a
          grease pencil.
        </p>
        <div class="row">
          <button
            type="button"
            class="strong"
            disabled={!reply || !("answer" in reply)}
            onClick={() => print()}
          >
            Print the card
          </button>
          <a class="button" href="#/job">
            Change the job
          </a>
        </div>
      </div>
      <Problems reply={reply} />
      {reply && "answer" in reply ? (
        <Card facts={reply.answer} />
      ) : (
        <p class="waiting card-space">{reply ? "" : "Working out the card \u2026"}</p>
      )}
    </>
  );
}

function Problems({ reply }: { reply: Reply<"card"> | undefined }) {
  if (!reply || "answer" in reply) return null;
  const words = "problems" in reply ? reply.problems.map(problemWords) : [reply.fault];
  return (
    <ul class="error-list" role="alert">
      {words.map((w) => (
        <li class="error" key={w}>
          {w}
        </li>
      ))}
    </ul>
  );
}

function Card({ facts }: { facts: CardFacts }) {
  const now = job.value;
  const reading = now.open?.reading;
  if (!reading) return null;
  const { job: it, defaults } = reading;
  const system = unitSystem.value;
  const stopAt = it.limits.wall ?? it.mold.material.wallLimit?.value;
  const both = (value: number, unit: string) =>
    `${shownText(value, unit, system)} (${shownText(value, unit, otherSystem(system))})`;
  const thickness = (m: number) => formatQuantity(m, "length", { system, fractions: true });
  const mark = (path: string) => (defaults.includes(path) ? "*" : "");
  return (
    <article class="wall-card" aria-label={`Card for ${now.name}`}>
      <header>
        <h2>{now.name}</h2>
        <p>
          {today()}, Castclock {__VERSION__}
        </p>
      </header>
      <dl class="card-facts">
        <div>
          <dt>Plastic</dt>
          <dd>
            {both(it.shot.temperature, "degC")}
            {mark("shot.temperature")}
          </dd>
        </div>
        <div>
          <dt>Mold, first shot</dt>
          <dd>
            {both(it.mold.temperature, "degC")}
            {mark("mold.temperature")}
          </dd>
        </div>
        <div>
          <dt>Open at (hottest spot)</dt>
          <dd>
            {both(it.limits.demold, "degC")}
            {mark("limits.demold")}
          </dd>
        </div>
        <div class="whole-row">
          <dt>Thickness</dt>
          <dd>
            {it.bait.stations
              .map((s) => `${s.name} ${thickness(Math.min(s.width, s.height))}`)
              .join(", ")}
          </dd>
        </div>
      </dl>
      <div class="card-tables">
        <table>
          <caption>Open after, by shot</caption>
          <thead>
            <tr>
              <th scope="col">Shot</th>
              <th scope="col">likely</th>
              <th scope="col">surely</th>
            </tr>
          </thead>
          <tbody>
            {facts.byShot.map((s) => (
              <tr key={s.shot}>
                <th scope="row">{s.shot}</th>
                <td>{timeText(s.open, "value")}</td>
                <td>{timeText(s.open, "high")}</td>
              </tr>
            ))}
          </tbody>
        </table>
        <div>
          <table>
            <caption>Open after, by the mold (first shot)</caption>
            <thead>
              <tr>
                <th scope="col">Mold</th>
                <th scope="col">likely</th>
                <th scope="col">surely</th>
              </tr>
            </thead>
            <tbody>
              {facts.byMold.map((m) => (
                <tr key={m.temperature}>
                  <th scope="row">{both(m.temperature, "degC")}</th>
                  <td>{timeText(m.open, "value")}</td>
                  <td>{timeText(m.open, "high")}</td>
                </tr>
              ))}
            </tbody>
          </table>
          <dl class="card-facts">
            <div>
              <dt>Hold the injector</dt>
              <dd>{facts.sprueCloses ? rangeText(facts.sprueCloses) : "not worked out"}</dd>
            </div>
            <div>
              <dt>Second color</dt>
              <dd>{windowText(facts, mark)}</dd>
            </div>
            <div>
              <dt>Stop when the mold face is at</dt>
              <dd>{stopAt === undefined ? "what its maker gives" : both(stopAt, "degC")}</dd>
            </div>
          </dl>
        </div>
      </div>
      <table class="pencil">
        <caption>Tonight</caption>
        <thead>
          <tr>
            {["shot", "mold", "seconds", "weight", "good / soft / dent / short / bleed / peel"].map(
              (c) => (
                <th scope="col" key={c}>
                  {c}
                </th>
              ),
            )}
          </tr>
        </thead>
        <tbody>
          {Array.from({ length: PENCIL_ROWS }, (_, i) => (
            <tr key={i}>
              <td />
              <td />
              <td />
              <td />
              <td />
            </tr>
          ))}
        </tbody>
      </table>
      <footer>
        <p>
          * default, not measured here.
          {defaults.length > 0 && ` Left to their defaults: ${defaultWords(defaults)}.`}
        </p>
        <p>
          Hot plastic burns: gloves, sleeves, goggles. Sharp smell or smoke: stop, leave, air the
          room. The product's safety data sheet comes first.
        </p>
      </footer>
    </article>
  );
}

/** Times for the wall, up to the step that their range bears out. */
function timeText(range: Range | null, end: "value" | "high"): string {
  if (range === null) return "never";
  const step = range.high - range.low > 60 ? 10 : 5;
  return clockWords(Math.ceil(range[end] / step - 1e-9) * step);
}

function rangeText({ low, high }: Range): string {
  return `${clockWords(low)} to ${clockWords(high)}`;
}

function windowText(facts: CardFacts, mark: (path: string) => string): string {
  const { window } = facts;
  if (!window) return "no window: see the sheet on two colors";
  const { open, close, injectAt } = window;
  if (injectAt === null)
    return `not sure; likely ${clockWords(open.value)} to ${clockWords(close.value)}${mark("layer.depth")}`;
  return `${clockWords(open.high)} to ${clockWords(close.low)}, best at ${clockWords(injectAt)}${mark("layer.depth")}`;
}

/** What most shifts the times on the card, in this order; the rest is counted. */
const MATTERS = ["bait", "mold", "shot", "room", "limits", "layer", "run", "sprue"];
const MOST_NAMED = 5;

function defaultWords(defaults: readonly string[]): string {
  const top = (path: string) => path.split(".")[0] ?? "";
  const here = defaults
    .filter((path) => MATTERS.includes(top(path)))
    .toSorted((a, b) => MATTERS.indexOf(top(a)) - MATTERS.indexOf(top(b)));
  const named = here.flatMap((path) => labelOf(path) ?? []).slice(0, MOST_NAMED);
  const more = here.length - named.length;
  return named.join(", ").toLowerCase() + (more > 0 ? ` and ${more} more` : "");
}

/** What the form calls it. */
function labelOf(path: string): string | undefined {
  let fields = jobFields();
  for (const key of path.split(".")) {
    const field = fields.find((f) => f.path.at(-1) === key);
    if (field?.kind === "leaf") return field.label;
    fields = field?.kind === "group" ? field.fields : [];
  }
  return undefined;
}

import type { ComponentChildren } from "preact";
import type { Range } from "../../../../lib/confidence/range.ts";
import type { Job } from "../../../../lib/job/types.ts";
import { moldTemperaturePath } from "../../../../lib/models/start.ts";
import { wallLimitOf } from "../../../../lib/models/wall-limit.ts";
import { formatQuantity } from "../../../../lib/units/format.ts";
import type { CardFacts } from "../../asking/asked.ts";
import { job } from "../../job/job-store.ts";
import { today } from "../../reading/clock.ts";
import { unitSystem } from "../../reading/preferences.ts";
import { otherSystem, shownText } from "../../reading/shown.ts";
import { defaultWords, holdText, openText, sprueClosed, windowText } from "./words.ts";

/** As many as a page of either size holds with rows that can be written in. */
const PENCIL_ROWS = 8;
const PENCIL_COLUMNS = [
  "shot",
  "mold",
  "seconds",
  "weight",
  "good / soft / dent / short / bleed / peel",
];

/** What is printed: everything that is needed at the bench, on one page. */
export function Card({ facts }: { facts: CardFacts }) {
  const now = job.value;
  const reading = now.open?.reading;
  if (!reading) return null;
  const { job: it, defaults } = reading;
  const closed = sprueClosed(facts);
  const mark = (path: string) => (defaults.includes(path) ? "*" : "");
  return (
    <article class="wall-card" aria-label={`Card for ${now.name}`}>
      <header>
        <h2>{now.name}</h2>
        {!now.own && (
          <p class="card-example">
            <b>example, not your job</b>
          </p>
        )}
        <p class="card-date">
          {today()}
          <br />
          Castclock {__VERSION__}
        </p>
      </header>
      <Settings job={it} mark={mark} />
      <div class="card-tables">
        <Times
          caption="Open after, by shot"
          first="Shot"
          closed={closed}
          rows={facts.byShot.map((s) => ({ name: String(s.shot), open: s.open }))}
        />
        <div>
          <Times
            caption="Open after, by the mold (first shot)"
            first="Mold"
            closed={closed}
            rows={facts.byMold.map((m) => ({ name: both(m.temperature, "degC"), open: m.open }))}
          />
          <Limits job={it} facts={facts} mark={mark} />
        </div>
      </div>
      <Pencil />
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

type Mark = (path: string) => string;

/** In the reader's units, and in the other ones behind. */
function both(value: number, unit: string): string {
  const system = unitSystem.value;
  return `${shownText(value, unit, system)} (${shownText(value, unit, otherSystem(system))})`;
}

function Fact(props: { name: string; whole?: boolean; children: ComponentChildren }) {
  return (
    <div class={props.whole ? "whole-row" : ""}>
      <dt>{props.name}</dt>
      <dd>{props.children}</dd>
    </div>
  );
}

function Settings({ job: it, mark }: { job: Job; mark: Mark }) {
  const system = unitSystem.value;
  const thickness = (m: number) => formatQuantity(m, "length", { system, fractions: true });
  return (
    <dl class="card-facts">
      <Fact name="Plastic">
        {both(it.shot.temperature, "degC")}
        {mark("shot.temperature")}
      </Fact>
      <Fact name="Mold, first shot">
        {both(it.run.preheat ?? it.mold.temperature, "degC")}
        {mark(moldTemperaturePath(it))}
      </Fact>
      <Fact name="Open at (hottest spot)">
        {both(it.limits.demold, "degC")}
        {mark("limits.demold")}
      </Fact>
      <Fact name="Thickness" whole>
        {it.bait.stations
          .map((s) => `${s.name} ${thickness(Math.min(s.width, s.height))}`)
          .join(", ")}
      </Fact>
    </dl>
  );
}

interface TimesProps {
  readonly caption: string;
  readonly first: string;
  readonly rows: readonly { readonly name: string; readonly open: Range | null }[];
  /** When the sprue has, s: no sooner. */
  readonly closed: number;
}

function Times({ caption, first, rows, closed }: TimesProps) {
  return (
    <table>
      <caption>{caption}</caption>
      <thead>
        <tr>
          <th scope="col">{first}</th>
          <th scope="col">likely</th>
          <th scope="col">surely</th>
        </tr>
      </thead>
      <tbody>
        {rows.map(({ name, open }) => (
          <tr key={name}>
            <th scope="row">{name}</th>
            <td>{openText(open, "value", closed)}</td>
            <td>{openText(open, "high", closed)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Limits({ job: it, facts, mark }: { job: Job; facts: CardFacts; mark: Mark }) {
  const stopAt = wallLimitOf(it);
  return (
    <dl class="card-facts">
      <Fact name="Hold the injector">{holdText(facts)}</Fact>
      <Fact name="Second color">{windowText(facts, mark)}</Fact>
      <Fact name="Stop when the mold face is at">
        {stopAt === null ? "what its maker gives" : both(stopAt, "degC")}
        {stopAt !== null && facts.firstWallPeak > stopAt && (
          <b>: the first shot takes it to {both(facts.firstWallPeak, "degC")}, start cooler</b>
        )}
      </Fact>
    </dl>
  );
}

/** Empty boxes for the evening. */
function Pencil() {
  return (
    <table class="pencil">
      <caption>Tonight</caption>
      <thead>
        <tr>
          {PENCIL_COLUMNS.map((c) => (
            <th scope="col" key={c}>
              {c}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {Array.from({ length: PENCIL_ROWS }, (_, i) => (
          <tr key={i}>
            {PENCIL_COLUMNS.map((c) => (
              <td key={c} />
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/**
 * A page while it is open: its text is the truth, everything else follows from it and the chosen job.
 * Every change is kept and run; only the newest run paints.
 */
import { computed, effect, type ReadonlySignal, signal } from "@preact/signals";
import type { DialsReading } from "../../notebook/dials/dials.ts";
import { readDials } from "../../notebook/dials/dials.ts";
import { readPage, withWorking } from "../../notebook/page/page.ts";
import { withDial } from "../../notebook/page/set-dial.ts";
import type { Page } from "../../notebook/page/types.ts";
import type { PageRunner } from "../../notebook/run/runner-browser.ts";
import type { RunState } from "../../notebook/run/types.ts";
import { job } from "../job/job-store.ts";
import { unitSystem } from "../reading/preferences.ts";

/** After this long without a change a dial rests, and a quick answer is followed by the full one. */
const REST_MS = 250;

export interface OpenPage {
  readonly name: string;
  readonly page: ReadonlySignal<Page>;
  readonly dials: ReadonlySignal<DialsReading>;
  readonly run: ReadonlySignal<RunState>;
  /** Names of dials that stand as the page or the defaults came. */
  readonly untouched: ReadonlySignal<ReadonlySet<string>>;
  readonly setText: (text: string) => void;
  readonly setDial: (name: string, value: string | boolean | undefined) => void;
  /** The last turn of a dial, to be taken back. */
  readonly turned: ReadonlySignal<Turned | undefined>;
  readonly undoDial: () => void;
  /** Dials that are wrong stand again as they came; undefined for a sheet that did not come with the rest. */
  readonly putBackWrong: (() => void) | undefined;
  readonly setWorking: (number: number, body: string) => void;
  readonly stop: () => void;
  /** The same once more: after it was stopped. */
  readonly runAgain: () => void;
  readonly close: () => void;
}

/** A dial before it was turned. */
interface Turned {
  readonly label: string;
  /** As it stood. */
  readonly text: string;
}

/** One burst of turns of one dial is taken back as one. ms */
const BURST_MS = 1500;
/** Turns that are remembered. */
const MOST_TURNS = 50;

interface PageSource {
  readonly name: string;
  readonly text: string;
  /** The page as it was shipped; absent for the reader's own pages. */
  readonly shipped: string | undefined;
  readonly keep: (text: string) => void;
  /** Its frame is being laid already. */
  readonly runner: PageRunner;
  /** The text, read. */
  readonly page: Page;
}

export function openPage(source: PageSource): OpenPage {
  const text = signal(source.text);
  const page = computed(() =>
    text.value === source.page.text ? source.page : readPage(text.value),
  );
  const dials = computed(() => readDials(page.value, job.value.open, unitSystem.value));
  // other units are no reason to work anything out again
  const readable = computed(
    () => dials.value.problems.length === 0 && page.value.problems.length === 0,
  );
  const { runner } = source;
  const run = signal<RunState>({ phase: "idle", run: 0, outputs: [] });
  const unsubscribe = runner.subscribe((state) => {
    run.value = state;
  });

  const shippedDials = computed(() => {
    const shipped = source.shipped === undefined ? undefined : readPage(source.shipped);
    return new Map(shipped?.dials.map((d) => [d.name, d.value]));
  });
  const untouched = computed(() => {
    const names = new Set<string>();
    for (const { dial, from } of dials.value.readings) {
      const asShipped =
        shippedDials.value.has(dial.name) && shippedDials.value.get(dial.name) === dial.value;
      const example = from === "job" && !job.value.own;
      if (from === "default" || example || (from === "page" && asShipped)) names.add(dial.name);
    }
    return names;
  });

  function putBackWrong(): void {
    for (const { name } of dials.value.problems)
      if (name !== undefined) setText(withDial(page.value, name, shippedDials.value.get(name)));
  }

  let resting: ReturnType<typeof setTimeout> | undefined;
  let turning = false;
  const stopRunning = effect(() => {
    const now = page.value;
    const jobText = job.value.text;
    clearTimeout(resting);
    if (!readable.value) return;
    const quick = turning && runner.usesQuick(now);
    turning = false;
    runner.run({ page: now, jobText, quick });
    if (quick)
      resting = setTimeout(() => runner.run({ page: now, jobText, quick: false }), REST_MS);
  });

  interface Turn extends Turned {
    readonly name: string;
    readonly value: string | boolean | undefined;
    readonly at: number;
  }
  const turns = signal<readonly Turn[]>([]);
  const turned = computed(() => turns.value.at(-1));

  function noteTurn(name: string): void {
    const reading = dials.value.readings.find((r) => r.dial.name === name);
    if (reading === undefined) return;
    const last = turns.value.at(-1);
    const at = performance.now();
    const { dial, text: stood } = reading;
    const turn = { name, label: dial.label, text: stood, value: dial.value, at };
    const isBurst = last?.name === name && at - last.at < BURST_MS;
    // the burst goes on, its beginning stays
    turns.value = isBurst
      ? [...turns.value.slice(0, -1), { ...last, at }]
      : [...turns.value, turn].slice(-MOST_TURNS);
  }

  function setText(next: string): void {
    if (next === text.value) return;
    text.value = next;
    source.keep(next);
  }

  return {
    name: source.name,
    page,
    dials,
    run,
    untouched,
    setText,
    turned,
    undoDial() {
      const last = turns.value.at(-1);
      if (last === undefined) return;
      turns.value = turns.value.slice(0, -1);
      turning = true;
      setText(withDial(page.value, last.name, last.value));
    },
    setDial(name, value) {
      turning = true;
      noteTurn(name);
      setText(withDial(page.value, name, value));
    },
    putBackWrong: source.shipped === undefined ? undefined : putBackWrong,
    setWorking(number, body) {
      setText(withWorking(page.value, number, body));
    },
    stop: () => runner.stop(),
    runAgain: () => runner.run({ page: page.value, jobText: job.value.text }),
    close() {
      clearTimeout(resting);
      stopRunning();
      unsubscribe();
      runner.close();
    },
  };
}

/** One person, some molds, one evening: who does what when. Times s from the start. */

/** When a shot may be opened, from its injection. */
export interface OpenAfter {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** A shot that a mold has behind it. */
export interface ShotBehind {
  readonly injected: number;
  readonly opened: number;
}

/** How a mold was used before a shot. */
export interface MoldUse {
  readonly mold: number; // from 1
  readonly before: readonly ShotBehind[];
  /** When the shot is injected. */
  readonly injected: number;
}

export interface Bench {
  readonly molds: number;
  /** Hands on the mold for each shot: open, remove, close, inject; above 0. */
  readonly hands: number;
  /** One injector stands on a mold for so long: none is injected before it is free again; 0: it is free at once. */
  readonly hold: number;
  /** From opening to the next injection, a dip in water with it. */
  readonly open: number;
  /** No shot is begun that could not be opened by then. */
  readonly session: number;
  /** Of the n-th shot into a mold, from 1, whose mold was used like this. */
  openAfter(shot: number, use: MoldUse): OpenAfter;
}

/** What has happened already: an injection, and when it was opened, if it was. */
export interface Happened {
  readonly mold: number; // from 1
  readonly injected: number;
  readonly opened: number | null;
}

export interface PlannedShot {
  readonly number: number; // from 1, of the evening
  readonly mold: number; // from 1
  /** The n-th into this mold. */
  readonly ofMold: number;
  readonly injected: number;
  /** Soonest, likely and surely: the marks of the timer. */
  readonly mayOpen: number;
  readonly likely: number;
  readonly surely: number;
  /** When it is opened by this plan, or was. */
  readonly opened: number;
  /** It has happened, and is not planned. */
  readonly done: boolean;
}

/** A mold that waits for hands: to be injected for the first time, or to be opened. */
interface Waiting {
  /** The shot in it, by its place in the list; null: none yet. */
  shot: number | null;
  /** When it asks for hands. */
  from: number;
}

/**
 * Shots in the order of their injections: each mold is opened when it is likely ready and a hand is free, and injected
 * again after its time open. What has happened stays as it was, and the rest follows from it.
 */
export function timelineOf(bench: Bench, happened: readonly Happened[] = []): PlannedShot[] {
  const shots: PlannedShot[] = [];
  const count = new Array<number>(bench.molds).fill(0);
  const waiting = count.map((): Waiting => ({ shot: null, from: 0 }));
  const behind = count.map((): ShotBehind[] => []);
  let hands = 0;
  /** The last injection, and the last of all that has happened: nothing is planned into the past. */
  let injectedLast = Number.NEGATIVE_INFINITY;
  let now = Number.NEGATIVE_INFINITY;
  /** Fills a mold, unless it could not be opened before the session ends: then it rests. */
  const inject = (mold: number, injected: number, done: boolean) => {
    const closed = waiting[mold].shot;
    // its opening was not written down
    if (closed !== null) behind[mold].push(shots[closed]);
    const use = { mold: mold + 1, before: behind[mold], injected };
    const { low, value, high } = bench.openAfter(count[mold] + 1, use);
    const likely = injected + value;
    if (!done && !(likely <= bench.session)) {
      waiting[mold] = { shot: null, from: Number.POSITIVE_INFINITY };
      return;
    }
    const shot: PlannedShot = {
      number: 0,
      mold: mold + 1,
      ofMold: ++count[mold],
      injected,
      mayOpen: injected + low,
      likely,
      surely: injected + high,
      opened: likely,
      done,
    };
    shots.push(shot);
    injectedLast = Math.max(injectedLast, injected);
    waiting[mold] = { shot: shots.length - 1, from: likely };
  };
  const open = (mold: number, at: number) => {
    const { shot } = waiting[mold];
    if (shot !== null) {
      shots[shot] = { ...shots[shot], opened: at };
      behind[mold].push(shots[shot]);
    }
    waiting[mold] = { shot: null, from: at + Math.max(bench.open, bench.hands) };
  };
  for (const { mold, injected, opened } of [...happened].sort((a, b) => a.injected - b.injected)) {
    inject(mold - 1, injected, true);
    hands = Math.max(hands, injected);
    now = Math.max(now, injected, opened ?? injected);
    if (opened === null) continue;
    open(mold - 1, opened);
    hands = Math.max(hands, opened + bench.hands);
  }
  // the hands are at the molds that were opened before they turn to one that was not filled yet
  if (happened.length > 0)
    for (const idle of waiting.filter((_, mold) => count[mold] === 0)) idle.from = hands;
  for (;;) {
    const mold = nextOf(waiting);
    const { shot, from } = waiting[mold];
    if (!Number.isFinite(from)) break;
    const at = Math.max(from, hands);
    if (shot !== null) {
      open(mold, at);
      hands = at + bench.hands;
      inject(mold, Math.max(waiting[mold].from, injectedLast + bench.hold), false);
    } else {
      // a first injection takes hands by itself; that of a mold opened by the log ends the work on it
      const first = count[mold] === 0;
      const free = injectedLast + Math.max(bench.hands, bench.hold);
      const ready = Math.max(first ? at : from, now, free);
      hands = Math.max(hands, first ? ready + bench.hands : ready);
      inject(mold, ready, false);
    }
  }
  return [...shots]
    .sort((a, b) => a.injected - b.injected)
    .map((shot, i) => ({ ...shot, number: i + 1 }));
}

/** The mold that asks first. */
function nextOf(waiting: readonly Waiting[]): number {
  return waiting.reduce((best, { from }, k) => (from < waiting[best].from ? k : best), 0);
}

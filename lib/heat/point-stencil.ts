/**
 * A place between cell centers of one region along an axis: a cubic through up to four of them.
 *
 * Where a front comes, a cubic swings beyond the cells on both sides of the place. A smooth peak between two cells goes
 * beyond them by an eighth of the drop to the cell next to them, on either side: more than that, with what graded cells
 * need, is not believed.
 */

export interface Stencil {
  /** Places along the axis. */
  readonly at: readonly number[];
  readonly weights: readonly number[];
  /** The first of the two centers around the place, in the order of `at`; -1 where it is not between two of three or more. */
  readonly below: number;
}

/** One cell and nothing beside it. */
export const ALONE: Stencil = { at: [0], weights: [1], below: -1 };

/** Cells along an axis: `same` says which belong to the region, `even` that the field goes on evenly beyond the first. */
interface Cells {
  readonly centers: Float64Array;
  readonly even: boolean;
  same(k: number): boolean;
}

/** Lagrange weights on up to four centers around a place in cell `start`, staying inside the region. */
export function stencilAt({ centers, even, same }: Cells, start: number, place: number): Stencil {
  if (!same(start)) return { ...ALONE, at: [start] };
  let low = start;
  let high = start;
  while (low > 0 && start - low < 3 && same(low - 1)) low--;
  while (high < centers.length - 1 && high - start < 3 && same(high + 1)) high++;
  // around an axis of symmetry the field is even: a parabola in r2
  if (even && low === 0 && place < centers[1] && high >= 1) {
    const r0 = centers[0] ** 2;
    const r1 = centers[1] ** 2;
    const w = (place * place - r0) / (r1 - r0);
    return { at: [0, 1], weights: [1 - w, w], below: -1 };
  }
  const first = place >= centers[start] ? start - 1 : start - 2;
  const from = Math.max(low, Math.min(first, high - 3));
  const to = Math.min(high, from + 3);
  const at: number[] = [];
  for (let k = from; k <= to; k++) at.push(k);
  const weights = at.map((k) => {
    let w = 1;
    for (const q of at) if (q !== k) w *= (place - centers[q]) / (centers[k] - centers[q]);
    return w;
  });
  const below = at.length < 3 ? -1 : at.findLastIndex((k) => centers[k] <= place);
  return { at, weights, below: below < at.length - 1 ? below : -1 };
}

/** Share of the drop beside two cells that a peak between them may add: an eighth where all are alike, more where they grow. */
const MOST_OF_DROP = 1 / 4;

/** A value and its rate of change. */
export interface ValueAndRate {
  value: number;
  rate: number;
}

/** What a stencil reads of its cells' values and rates, in the order of `at`. */
export function readStencil(
  { weights, below }: Stencil,
  values: Float64Array,
  rates: Float64Array,
  out: ValueAndRate,
): void {
  let value = 0;
  let rate = 0;
  for (let k = 0; k < weights.length; k++) {
    value += weights[k] * values[k];
    rate += weights[k] * rates[k];
  }
  out.value = value;
  out.rate = rate;
  if (below < 0) return;
  const above = below + 1;
  const isRising = values[below] < values[above];
  const coldest = isRising ? below : above;
  const hottest = isRising ? above : below;
  const over = value > values[hottest] ? hottest : value < values[coldest] ? coldest : -1;
  if (over < 0) return;
  const sign = over === hottest ? 1 : -1;
  let drop = Number.POSITIVE_INFINITY;
  let dropRate = 0;
  for (let side = 0; side < 2; side++) {
    const near = side === 0 ? below : above;
    const beside = side === 0 ? below - 1 : above + 1;
    if (beside < 0 || beside >= weights.length) continue;
    const d = values[near] - values[beside];
    if (Math.abs(d) >= drop) continue;
    drop = Math.abs(d);
    dropRate = (d > 0 ? 1 : -1) * (rates[near] - rates[beside]);
  }
  const most = MOST_OF_DROP * drop;
  if (!(sign * (value - values[over]) > most)) return;
  out.value = values[over] + sign * most;
  out.rate = rates[over] + sign * MOST_OF_DROP * dropRate;
}

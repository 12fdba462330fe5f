/**
 * The temperature of the face between two thick bodies right after they touch, where k and c may depend on T.
 *
 * In each body T is a function of s = x / sqrt(t) alone:  (k T')' + s c T' / 2 = 0, so that
 * k T' = u exp(-integral of s c / 2k), and the flow u through the face is found by taking T from the last turn.
 * The face is where both flows are the same. Symbols: T K, k W/(m K), c J/(m3 K), s m/s^0.5.
 *
 * @source Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. 1959, section 2.16 (Boltzmann's transformation)
 */
import { findRoot } from "../numerics/roots.ts";
import { capacityAt, conductivityAt, type Properties } from "./properties.ts";

const POINTS = 200;
const TURNS = 12;
/** Pairs of bodies that have just met; a face has many places where the same two do. */
const MOST_KNOWN = 8;
const known: { p: Properties; a: number; q: Properties; b: number; face: number }[] = [];

/** @param a,b temperatures of the bodies filled with p and q, K */
export function faceOfFirstContact(p: Properties, a: number, q: Properties, b: number): number {
  const same = known.find((k) => k.p === p && k.q === q && k.a === a && k.b === b);
  if (same) return same.face;
  const face = solveFace(p, a, q, b);
  known.push({ p, a, q, b, face });
  if (known.length > MOST_KNOWN) known.shift();
  return face;
}

/** The same where a body is not at one temperature any more: its own at the face, and properties halfway. */
export function faceOfLaterContact(p: Properties, a: number, q: Properties, b: number): number {
  let face = 0.5 * (a + b);
  for (let turn = 0; turn < 3; turn++) {
    const e1 = effusivity(p, 0.5 * (a + face));
    const e2 = effusivity(q, 0.5 * (b + face));
    face = (e1 * a + e2 * b) / (e1 + e2);
  }
  return face;
}

function solveFace(p: Properties, a: number, q: Properties, b: number): number {
  const constant = (m: Properties) => m.constantCapacity && m.constantConductivity;
  const e1 = effusivity(p, a);
  const e2 = effusivity(q, b);
  if (a === b || (constant(p) && constant(q))) return (e1 * a + e2 * b) / (e1 + e2);
  const balance = (face: number) => flowInto(p, a, face) + flowInto(q, b, face);
  // at either end one of the flows is zero and the other is not
  return findRoot(balance, Math.min(a, b), Math.max(a, b));
}

const effusivity = (p: Properties, T: number) => Math.sqrt(conductivityAt(p, T) * capacityAt(p, T));

/** Flow from the face into a body that is at `T0` far away, times the root of the time: W s^0.5/m2. */
function flowInto(p: Properties, T0: number, face: number): number {
  const high = Math.max(T0, face);
  const low = Math.min(T0, face);
  if (high === low) return 0;
  const widest = Math.max(conductivityAt(p, high), conductivityAt(p, low), conductivityAt(p, T0));
  const least = Math.min(capacityAt(p, high), capacityAt(p, low), capacityAt(p, T0));
  const step = (8 * Math.sqrt(widest / least)) / POINTS;
  const T = new Float64Array(POINTS + 1).fill(0.5 * (T0 + face));
  const grown = new Float64Array(POINTS + 1);
  let flow = 0;
  for (let turn = 0; turn < TURNS; turn++) {
    // T - face as if the flow were one
    let exponent = 0;
    let before = 1 / conductivityAt(p, T[0]);
    for (let i = 1; i <= POINTS; i++) {
      const middle = 0.5 * (T[i - 1] + T[i]);
      exponent +=
        (step * step * (i - 0.5) * capacityAt(p, middle)) / (2 * conductivityAt(p, middle));
      const here = Math.exp(-exponent) / conductivityAt(p, T[i]);
      grown[i] = grown[i - 1] + 0.5 * step * (before + here);
      before = here;
    }
    flow = (face - T0) / grown[POINTS];
    for (let i = 0; i <= POINTS; i++) T[i] = face - flow * grown[i];
  }
  return flow;
}

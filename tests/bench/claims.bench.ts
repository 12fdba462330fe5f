/**
 * What the engine says of its errors against the true ones: `CLAIMS=long` takes 200 problems, more than half of them sections or
 * curing; `CLAIMS_SEED=7` others.
 */
import { claims, heldOf, type Kind, keptOf } from "../lib/heat/claims.ts";
import { printTable } from "./measure.ts";

export function claimsBench(): void {
  const long = process.env["CLAIMS"] === "long";
  const seed = process.env["CLAIMS_SEED"];
  const counts: readonly (readonly [Kind, number])[] = long
    ? [
        ["layers", 80],
        ["sections", 60],
        ["curing", 60],
      ]
    : [
        ["layers", 60],
        ["sections", 8],
        ["curing", 12],
      ];
  const percentOf = (share: number) => `${Math.round(100 * share)} %`;
  printTable(
    "Errors said against errors found, on random problems (temperatures: the largest of a problem's wanted times and extremes)",
    [
      "problems",
      "count",
      "true error below the one said",
      "with the finer run's own laid to it",
      "said within 10 times the true one",
      "the same, the finer run's own error added to it",
      "worst true / said",
      "tolerance kept, or told",
    ],
    counts.flatMap(([kind, count]) => {
      const all = claims(kind, count, seed === undefined ? undefined : Number(seed));
      const kinds = [
        [`${kind}, temperatures`, all.map(({ temperature }) => temperature)],
        [`${kind}, crossings`, all.flatMap(({ crossings }) => crossings)],
      ] as const;
      return kinds.map(([name, said], k) => {
        const { holds, holdsAlone, near, nearAtMost, worst } = heldOf(said);
        const shares = [holds, holdsAlone, near, nearAtMost].map(percentOf);
        const kept = k === 0 ? percentOf(keptOf(all)) : "";
        return [name, String(said.length), ...shares, worst.toFixed(1), kept];
      });
    }),
  );
}

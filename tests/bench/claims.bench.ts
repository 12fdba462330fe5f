/** What the engine says of its errors against the true ones: `CLAIMS=long` takes 200 problems, half of them sections. */
import { claims, heldOf, type Kind } from "../lib/heat/claims.ts";
import { printTable } from "./measure.ts";

export function claimsBench(): void {
  const long = process.env["CLAIMS"] === "long";
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
    "Errors said against errors found, on random problems (largest of the wanted times and extremes)",
    [
      "problems",
      "count",
      "true error below the one said",
      "with the finer run's own laid to it",
      "said within 10 times the true one",
      "worst true / said",
      "tolerance kept, or told",
    ],
    counts.map(([kind, count]) => {
      const all = claims(kind, count);
      const { holds, holdsAlone, near, kept } = heldOf(all);
      const worst = Math.max(...all.map(({ off, said, unsure }) => off / (said + unsure)));
      const shares = [holds, holdsAlone, near].map(percentOf);
      return [kind, String(all.length), ...shares, worst.toFixed(1), percentOf(kept)];
    }),
  );
}

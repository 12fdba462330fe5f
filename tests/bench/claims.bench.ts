/** What the engine says of its errors against the true ones: `CLAIMS=long` takes 200 problems, most of them sections. */
import { claims, heldOf } from "../lib/heat/claims.ts";
import { printTable } from "./measure.ts";

export function claimsBench(): void {
  const long = process.env["CLAIMS"] === "long";
  const counts = long
    ? ({ layers: 100, sections: 100 } as const)
    : ({ layers: 60, sections: 8 } as const);
  const percentOf = (share: number) => `${Math.round(100 * share)} %`;
  printTable(
    "Errors said against errors found, on random problems (largest of the wanted times)",
    [
      "problems",
      "count",
      "true error below the one said",
      "said within 10 times the true one",
      "worst true / said",
    ],
    (["layers", "sections"] as const).map((kind) => {
      const all = claims(kind, counts[kind]);
      const { holds, near } = heldOf(all);
      const worst = Math.max(...all.map(({ off, said }) => off / said));
      return [kind, String(all.length), percentOf(holds), percentOf(near), worst.toFixed(1)];
    }),
  );
}

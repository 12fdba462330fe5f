/** `castclock proof`: the ledger of checks against published values. */
import type { ProofAnswer } from "../../lib/proof/proof.ts";
import { tableText } from "./table.ts";

type Row = ProofAnswer["answer"]["rows"][number];

/** Enough digits to see the deviation, no more. */
export function numberText(x: number | null, tolerance: number): string {
  if (x === null) return "none";
  if (!(tolerance > 0)) return String(Number(x.toPrecision(6)));
  const decimals = Math.min(8, Math.max(0, 1 - Math.floor(Math.log10(tolerance))));
  return Math.abs(x) >= 1e6 || (x !== 0 && Math.abs(x) < 1e-4)
    ? x.toExponential(3)
    : x.toFixed(decimals);
}

export function rowText(row: Row): string[] {
  const { quantity, unit, expected, computed, deviation, tolerance, passed } = row;
  return [
    passed ? "" : "FAILED",
    `${quantity}${unit === "" || unit === "1" ? "" : `, ${unit}`}`,
    numberText(expected, tolerance),
    numberText(computed, tolerance),
    numberText(deviation, tolerance),
    numberText(tolerance, tolerance),
  ];
}

/** Every case with its source and rows, and the count at the end. */
export function proofText({ answer }: ProofAnswer): string {
  const { rows, cases, passed, failed } = answer;
  const lines = cases.flatMap((one) => {
    const own = rows.filter((row) => row.case === one.id);
    const failures = own.flatMap(({ failure }) => (failure === undefined ? [] : [failure]));
    return [
      one.title,
      `${one.source}${own.some((row) => row.fromMemory) ? " (from memory)" : ""}`,
      ...tableText(
        ["", "quantity", "expected", "computed", "deviation", "allowed"],
        own.map(rowText),
      ).map((line) => `  ${line}`),
      ...[...new Set(failures)].map((why) => `  ${why}`),
      "",
    ];
  });
  return `${lines.join("\n")}\n${passed} values agree, ${failed} do not, in ${cases.length} cases.\n`;
}

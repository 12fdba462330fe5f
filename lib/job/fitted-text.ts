/** What a log has taught, put down in a job's text or taken out of it. */
import { parseDocument } from "yaml";
import { deviatesText } from "./fitted.ts";
import type { FittedInput } from "./input-names.ts";

/**
 * The text of a job that answers from a log; comments and order of the file stay.
 *
 * @param text a job file without errors of writing
 * @param fitted from the answer to `fit`; null forgets what stands there
 */
export function withFitted(text: string, fitted: readonly FittedInput[] | null): string {
  const parsed = parseDocument(text);
  if (fitted === null) parsed.delete("fitted");
  else
    parsed.set(
      "fitted",
      parsed.createNode(
        fitted.map((input) => ({ name: input.name, deviates: deviatesText(input) })),
      ),
    );
  return parsed.toString({ lineWidth: 110 });
}

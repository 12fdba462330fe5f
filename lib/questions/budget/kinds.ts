/** What the bare numbers of the answer to `budget` are. */
import type { KindsOf } from "../../answers/kinds.ts";
import type { BudgetContent } from "./budget.ts";

export const budgetKinds: KindsOf<BudgetContent> = {
  shotsInCup: "count",
  speed: "count",
  to: "count",
  duration: "duration",
  takes: "duration",
  energy: "energyPerMole",
  dose: "ratio",
  share: "ratio",
  T: "temperature",
  hottest: "temperature",
  pourMost: "temperature",
  temperature: "temperature",
};

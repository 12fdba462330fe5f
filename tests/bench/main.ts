/** `npm run bench [name ...]`: every bench, or those named. Read ratios and minima: machines swing. */
import { browserBench } from "./browser.bench.ts";
import { claimsBench } from "./claims.bench.ts";
import { answersBench, commandBench, memoryBench } from "./command.bench.ts";
import { cureBench } from "./cure.bench.ts";
import { heatBench } from "./heat.bench.ts";
import { machineNow } from "./measure.ts";
import { othersBench } from "./others.bench.ts";
import { rangesBench } from "./ranges.bench.ts";
import { writeReport } from "./report.ts";
import { shapeBench } from "./shape.bench.ts";
import { shopBench } from "./shop.bench.ts";

const benches: Readonly<Record<string, () => void | Promise<void>>> = {
  heat: heatBench,
  claims: claimsBench,
  others: othersBench,
  shop: shopBench,
  cure: cureBench,
  shape: shapeBench,
  ranges: rangesBench,
  command: commandBench,
  answers: answersBench,
  memory: memoryBench,
  browser: browserBench,
};

const words = process.argv.slice(2);
const asked = words.filter((word) => word !== "report");
console.log(machineNow());
for (const [name, run] of Object.entries(benches))
  if (asked.length === 0 || asked.includes(name)) await run();
if (words.includes("report")) writeReport(asked.length === 0);

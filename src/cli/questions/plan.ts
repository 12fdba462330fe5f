import type { Job } from "../../../lib/job/types.ts";
import { type PlanAnswer, type PlanOptions, plan } from "../../../lib/questions/plan/plan.ts";
import type { UnitSystem } from "../../../lib/units/display.ts";
import { formatQuantity, formatRange, spanInWords, timeText } from "../../../lib/units/format.ts";
import { cupLines, cupUse } from "../../messages/cups.ts";
import { eveningStep, eveningTime } from "../../messages/evening-clock.ts";
import { openedSoonLines } from "../../messages/log.ts";
import type { FigureMark, FigureOutput } from "../../notebook/outputs/output.ts";
import { hotPlasticWarning, rangeInBoth, wallLines, wallWarning } from "../report.ts";
import { tableText, wrapped } from "../table.ts";
import type { Question, Telling } from "./question.ts";

/**
 * The evening with what has happened so far.
 *
 * @param start s after midnight, where a log has said it and the job has not
 */
export const planFrom =
  (log: NonNullable<PlanOptions["log"]>, start: number | null): Question<PlanAnswer>["run"] =>
  (job, more) =>
    plan({ ...job, plan: { ...job.plan, start: job.plan.start ?? start } }, { ...more, log });

type Content = PlanAnswer["answer"];

export const planQuestion: Telling<PlanAnswer> = {
  reads: [
    "room",
    "bait",
    "mold",
    "shot",
    "run.open",
    "run.molds",
    "run.fan",
    "run.bath",
    "run.preheat",
    "run.session",
    "run.hands",
    "cup",
    "sprue",
    "mix.plastic",
    "plan",
    "limits.demold",
    "limits.set",
    "limits.wall",
    "uncertainty",
  ],
  text({ answer }, job, system) {
    const { pieces, plastic, cost, settled, late, shots, cups } = answer;
    const weigh = (si: number) => formatQuantity(si, "mass", { system });
    const step = eveningStep(shots);
    const at = (seconds: number, opens = false) => clockText(seconds, answer, step, opens);
    return {
      headline: [
        ...(shots.length === 0
          ? ["No shot opens before the session ends: give it more time, or a thinner bait."]
          : [
              `${baitsText(pieces)}, in ${shots.length === 1 ? "one shot" : `${shots.length} shots`} with ${job.run.molds === 1 ? "one mold" : `${job.run.molds} molds`}.`,
              `It takes ${spanInWords(answer.plasticInAll, "mass", { system })} of plastic, most likely ${formatRange(answer.plasticInAll, "mass", { system }).value}, in ${cups.length === 1 ? "one cup" : `${cups.length} cups`}, and ${formatQuantity(answer.lasts, "duration", { step: 60 })} from heating to the last opening.`,
            ]),
        ...openedSoonLines(shots),
        ...limitLines(answer, system, job),
        ...(cost === null ? [] : [`A bait costs ${money(cost.each)}${costParts(cost)}.`]),
        ...(late === null ? [] : [lateText(late)]),
      ],
      body: [
        ...(shots.length === 0
          ? []
          : [
              "Cups",
              ...tableText(
                [
                  "cup",
                  "heat at",
                  "hot at",
                  "shots",
                  "in all",
                  "plastic",
                  ...stirredHeads(plastic),
                  "of its life",
                ],
                cups.map((cup) => [
                  String(cup.number),
                  at(cup.heated),
                  at(cup.hot),
                  cup.from === cup.to ? String(cup.from) : `${cup.from} to ${cup.to}`,
                  weigh(cup.plastic.mass),
                  weigh(cup.plastic.plain),
                  ...stirredHeads(plastic).map((name) => weigh(cup.plastic[name])),
                  cupUse(cup.used),
                ]),
              ),
              ...(answer.shotsInCup > 0
                ? []
                : wrapped(
                    `A cup of ${weigh(job.cup.mass)} (cup.mass) holds less than a shot: here each cup is heated for one.`,
                    96,
                  )),
              "",
              "Shots",
              ...tableText(
                ["shot", "mold", "its", "inject at", "earliest", "likely", "surely", ""],
                shots.map((s) => [
                  String(s.number),
                  String(s.mold),
                  String(s.ofMold),
                  at(s.injected),
                  at(s.mayOpen, true),
                  at(s.likely, true),
                  at(s.surely, true),
                  s.done ? "done" : "",
                ]),
              ),
              ...wrapped(
                "The plan goes by the likely times. Who may not spoil one waits for the sure one: it then runs later, and planned anew from what was logged it is right again.",
                96,
              ),
            ]),
        "",
        ...wallLines(answer.wallPeak, answer.wallLimit, system),
        `Once its mold has settled a shot opens after ${rangeInBoth(settled, "duration", system)}.`,
        ...wrapped(
          `One bait takes ${weigh(plastic.bait)}, one shot with its sprue ${weigh(plastic.shot)}. Hands are needed for ${timeText(job.run.hands)} at each shot.`,
          96,
        ),
      ],
    };
  },
  drawings: ({ answer }) => [{ name: "plan", figure: planFigure(answer) }],
};

/** Whole baits, with their range where luck makes more or fewer. */
function baitsText({ value, low, high }: Content["pieces"]): string {
  const baits = value === 1 ? "One bait" : `${value} baits`;
  return low === high ? baits : `${baits}, between ${low} and ${high}`;
}

const STIRRED = ["color", "hardener", "softener", "glitter"] as const;

function stirredHeads(plastic: Content["plastic"]) {
  return STIRRED.filter((name) => plastic[name] > 0);
}

const DAY = 86400; // s

/** Of the day where the evening has a start, else from it on: `+0:12:30`. */
function clockText(seconds: number, { start }: Content, step: number, opens: boolean): string {
  const at =
    start === null
      ? eveningTime(Math.abs(seconds), step, opens)
      : eveningTime(start + seconds + DAY, step, opens) % DAY;
  const two = (n: number) => String(Math.floor(n)).padStart(2, "0");
  const text = `${Math.floor(at / 3600)}:${two((at % 3600) / 60)}:${two(at % 60)}`;
  if (start !== null) return text;
  return seconds < 0 ? `-${text}` : text;
}

/** What the evening asks of plastic and mold that they do not bear. */
function limitLines(answer: Content, system: UnitSystem, job: Job): string[] {
  const { left, cups, pourMost, wallPeak, wallLimit, firstWallPeak } = answer;
  const first = firstWallPeak > (wallLimit ?? Number.POSITIVE_INFINITY);
  return [
    ...hotPlasticWarning(job.shot.temperature, pourMost, system),
    ...wallWarning(wallPeak, wallLimit, system, first),
    ...cupLines(left, cups),
  ];
}

const money = (amount: number) => amount.toFixed(2);

function costParts({ plastic, extras, labor, mold }: NonNullable<Content["cost"]>): string {
  const parts = Object.entries({ plastic, "hook and bag": extras, labor, mold })
    .filter((part): part is [string, number] => part[1] !== null)
    .map(([name, amount]) => `${name} ${money(amount)}`);
  return parts.length < 2 ? "" : `: ${parts.join(", ")}`;
}

function lateText(late: number): string {
  if (Math.abs(late) < 15) return "The shots so far are on time.";
  return `The last shot was ${timeText(Math.abs(late))} ${late > 0 ? "late" : "early"}: the rest is planned anew from there.`;
}

/** Each mold's shots as bars over time. */
function planFigure({ shots }: Content): FigureOutput {
  const marks = shots.map(
    ({ injected, opened, mold, done }): FigureMark => ({
      mark: "line",
      data: { t: [injected, opened], mold: [mold, mold] },
      x: "t",
      y: "mold",
      stroke: done ? "quiet" : "accent",
    }),
  );
  return {
    kind: "figure",
    caption: "The evening, mold by mold",
    x: { label: "From the start", unit: "s" },
    y: { label: "Mold" },
    marks,
  };
}

import type { FilledRow, SwimAnswer } from "../../../lib/questions/swim/swim.ts";
import type { UnitSystem } from "../../../lib/units/display.ts";
import {
  formatQuantity,
  rounded,
  type Shown,
  stepOf,
  type Towards,
  timeText,
} from "../../../lib/units/format.ts";
import { causeText, inBoth, rangeInBoth } from "../report.ts";
import { tableText } from "../table.ts";
import type { Telling } from "./question.ts";

/** An attitude is seen to five degrees. */
const SEEN = Math.PI / 36;
const degrees = (rad: number, round = Math.round) => round(rad / SEEN) * 5;

export const swimQuestion: Telling<SwimAnswer> = {
  reads: ["bait", "shot.material", "swim", "uncertainty.thickness"],
  text({ answer }, job, system) {
    const { speed, pitch, netMass, hooks } = answer;
    const weigh = (si: number) => formatQuantity(si, "mass", { system });
    const long = (si: number) => formatQuantity(si, "length", { system });
    return {
      headline: [
        fallText(answer, system),
        `In water it ${weightInWater(netMass, system)}, of ${rangeInBoth(answer.mass, "mass", system)} in air.`,
        attitudeText(answer),
        ...causeText(answer.cause),
      ],
      body: [
        ...tableText(
          ["part", "weighs", "in water", "from the nose", "above the axis"],
          answer.parts.map((p) => [
            p.name,
            weigh(p.mass),
            signed(p.netMass, system),
            long(p.at),
            long(p.up),
          ]),
        ),
        "",
        `${job.swim.water === "salt" ? "Sea" : "Fresh"} water: ${formatQuantity(answer.water, "density", { system: "metric" })}. ${pitchRange(pitch)}`,
        ...(answer.sinks === "either" ? [] : [fallTime(speed.value, system)]),
        "",
        "Salt in the plastic, by weight",
        ...filledTable(answer.bySalt, system),
        "",
        "Hollow spheres in the plastic, by weight",
        ...filledTable(answer.byHollow, system),
        ...hoverLines(answer),
        "",
        `A hook that comes out ${long(hooks.at)} from the nose has ${long(hooks.inGap)} of the body in its gap: it needs a gap of ${inBoth(hooks.needed, "length", system)}.`,
        ...(hooks.hooks.length === 0
          ? []
          : [
              "",
              ...tableText(
                ["hook", "gap", "beyond the body", "clears"],
                hooks.hooks.map((h) => [
                  h.name,
                  long(h.gap),
                  long(h.clear),
                  h.clears ? "yes" : "no",
                ]),
              ),
              hooks.largest === null
                ? "None of them clears the body."
                : hooks.largest === hooks.smallest
                  ? `${hooks.hooks.length === 1 ? "It" : `Of them ${hooks.largest} alone`} clears the body.`
                  : `The largest that clears the body: ${hooks.largest}; the smallest: ${hooks.smallest}.`,
            ]),
      ],
    };
  },
};

function fallText({ speed, sinks }: SwimAnswer["answer"], system: UnitSystem): string {
  const way =
    sinks === "either"
      ? "It hovers: it may sink or rise"
      : sinks === "sinks"
        ? "It sinks"
        : "It rises";
  const { value, low, high } = speed;
  const size =
    sinks === "floats"
      ? { value: -value, low: -high, high: -low }
      : { value: Math.max(0, value), low: Math.max(0, low), high: Math.max(0, high) };
  if (sinks === "either") {
    const most = Math.max(Math.abs(low), Math.abs(high));
    return `${way}, with ${inCentimeters(most, system, "up")} at the most.`;
  }
  return `${way} ${inCentimeters(size.value, system)} likely, between ${inCentimeters(size.low, system, "down")} and ${inCentimeters(size.high, system, "up")}.`;
}

function fallTime(speed: number, system: UnitSystem): string {
  const [depth, size] = system === "metric" ? ["a meter", 1] : ["a foot", 0.3048];
  const time = Number(size) / Math.abs(speed);
  return `Over ${depth} it takes ${time < 600 ? timeText(time) : "very long"}.`;
}

/** A step that the range bears out: two digits; the ends of a range outwards. */
function inCentimeters(speed: number, system: UnitSystem, towards: Towards = "nearest"): string {
  const [unit, per] = system === "metric" ? (["cm", 100] as const) : (["in", 1 / 0.0254] as const);
  const shown = speed * per;
  const step = shown > 0 ? 10 ** (Math.floor(Math.log10(shown)) - 1) : 1;
  return `${Number(rounded(shown, step, towards).toPrecision(2))} ${unit} a second`;
}

function pitchRange({ low, high }: SwimAnswer["answer"]["pitch"]): string {
  const [least, most] = [degrees(low, Math.floor), degrees(high, Math.ceil)];
  return high - low < SEEN
    ? "What is not known moves its attitude by no more than a few degrees."
    : `Nose down ${least}° to ${most}° is the range of the attitude.`;
}

function attitudeText({ pitch, upright }: SwimAnswer["answer"]): string {
  const angle = degrees(pitch.value);
  const lies =
    Math.abs(angle) < 5
      ? "It lies level"
      : `It lies nose ${angle > 0 ? "down" : "up"}, about ${Math.abs(angle)}°`;
  return upright ? `${lies}.` : `${lies}, and turns its back down: put weight below its axis.`;
}

function signed(mass: number, system: UnitSystem): string {
  const size = formatQuantity(Math.abs(mass), "mass", { system });
  return mass < 0 ? `lifts ${size}` : size;
}

function weightInWater({ value, low, high }: Shown, system: UnitSystem): string {
  if (low >= 0) return `weighs ${rangeInBoth({ value, low, high }, "mass", system)}`;
  if (high <= 0)
    return `lifts ${rangeInBoth({ value: -value, low: -high, high: -low }, "mass", system)}`;
  const step = stepOf({ value, low, high }, "mass");
  const [lift, weight] = [-low, high].map((si) =>
    formatQuantity(si, "mass", { system, step, towards: "up" }),
  );
  return `weighs next to nothing: from ${lift} that lift to ${weight} that pull down`;
}

function filledTable(rows: readonly FilledRow[], system: UnitSystem): string[] {
  return tableText(
    ["share", "density", "in water", "speed"],
    rows.map((r) => [
      formatQuantity(r.share, "ratio"),
      formatQuantity(r.density, "density", { system: "metric" }),
      signed(r.netMass, system),
      `${r.speed < 0 ? "rises" : "sinks"} ${inCentimeters(Math.abs(r.speed), system)}`,
    ]),
  );
}

function hoverLines({ hovers }: SwimAnswer["answer"]): string[] {
  const share = (x: number) => formatQuantity(x, "ratio", { step: 0.001 });
  return [
    ...(hovers.salt === null ? [] : [`It would hover with ${share(hovers.salt)} of salt.`]),
    ...(hovers.hollow === null
      ? []
      : [
          `It would hover with ${share(hovers.hollow)} of hollow spheres; they differ from one to the next, so try a small cup.`,
        ]),
  ];
}

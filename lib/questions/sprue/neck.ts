/**
 * The gate between sprue and body, round about its axis (r-z): a short gate has hot plastic on both ends and closes
 * later than a long bar of its width.
 */
import type { PairContact, Shape } from "../../heat/problem.ts";
import { simulate } from "../../heat/simulate.ts";
import { materialsOf, type StandIn, setTemperature } from "../../models/bait/bar.ts";
import { type Scenario, scenarioSurroundings } from "../../models/scenario.ts";
import { gateBar, type StationPart } from "../../models/sprue/body.ts";
import { LONGEST_SETTING } from "../../models/sprue/cooling.ts";
import { meanOfHalves } from "../../models/start.ts";
import type { FeedOptions } from "./feed.ts";

interface Neck {
  /** s; Infinity: never. In the middle of the gate, and of the sprue. */
  readonly gateCloses: number;
  readonly sprueCloses: number;
}

/**
 * Closing of gate and sprue from their common field. The body at the fat end is taken as a disc as wide and high as its
 * station, the gate as the round bar that cools as fast as it.
 *
 * @param body the station that the gate leads to
 */
export function neckOf(scenario: Scenario, body: StationPart, options: FeedOptions = {}): Neck {
  const own = scenario;
  const { sprue, mold, shot } = own.job;
  const { width, height } = body.station;
  const gate: StandIn = gateBar(sprue);
  const set = setTemperature(own.job);
  // from the outside of the wall below the body upwards
  const [bodyFrom, bodyTo] = [mold.wall, mold.wall + height];
  const sprueFrom = bodyTo + sprue.gate.length;
  const top = sprueFrom + sprue.length;
  const widest = Math.max(width, sprue.diameter, gate.across) / 2;
  const shape = (name: string, diameter: number, from: number, to: number): Shape => ({
    name,
    outline: { kind: "rectangle", size: [diameter, to - from], center: [0, (from + to) / 2] },
    material: "plastic",
    initial: shot.temperature,
  });
  const shapes = [
    shape("body", width, bodyFrom, bodyTo),
    shape("gate", gate.across, bodyTo, sprueFrom),
    shape("sprue", sprue.diameter, sprueFrom, top),
  ];
  const { outside } = scenarioSurroundings(own);
  const { crossings, effort } = simulate({
    frame: "round",
    materials: materialsOf(own),
    block: {
      width: widest + mold.wall,
      height: top,
      material: "mold",
      initial: meanOfHalves(own.job),
    },
    shapes,
    contacts: shapes.map(
      ({ name }): PairContact => ({ between: [name, "block"], conductance: mold.contact }),
    ),
    boundary: { left: { kind: "insulated" }, right: outside, top: outside, bottom: outside },
    stages: [{ until: LONGEST_SETTING, stop: { probe: "sprue", below: set - 0.5 } }],
    probes: {
      gate: { kind: "point", x: 0, y: (bodyTo + sprueFrom) / 2 },
      sprue: { kind: "point", x: 0, y: (sprueFrom + top) / 2 },
    },
    crossings: ["gate", "sprue"].map((probe) => ({ probe, below: set })),
    ...(options.shouldStop && { shouldStop: options.shouldStop }),
  });
  options.effort?.add({ effort });
  const [gateCloses, sprueCloses] = crossings.map(({ time }) => time ?? Number.POSITIVE_INFINITY);
  return { gateCloses, sprueCloses };
}

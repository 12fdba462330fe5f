/**
 * The job file: its keys, ranges, defaults. One table for the reader, the forms and the JSON Schema.
 *
 * Quantities are text with a unit. A range here is a plausible one for this trade, not one of physics.
 */
import { z } from "zod";
import { count, material, parts, quantity, quantityOrWord, text, word, yesNo } from "./fields.ts";
import { plan, plastic } from "./keys-evening.ts";
import { swim } from "./keys-swim.ts";

const SOLIDS = ["resin", "silicone", "plaster", "metal", "clay", "wood"];
const MELTS = ["plastisol"];
const CASTABLE = ["resin", "silicone"];

const shotTemperature = (label: string, rest: { initial?: string; follows?: string }) =>
  quantity("temperature", label, { least: "130 degC", most: "205 degC", ...rest });

const room = z.strictObject({
  temperature: quantity("temperature", "Room temperature", {
    least: "-15 degC",
    most: "50 degC",
    initial: "20 degC",
  }),
  air: word("Air around the mold", ["still", "fan", "bath"], "still"),
  fanSpeed: quantity("speed", "Air speed of the fan at the mold", {
    least: "0.2 m/s",
    most: "10 m/s",
    initial: "2 m/s",
  }),
  bathTemperature: quantity("temperature", "Water bath", {
    least: "0 degC",
    most: "60 degC",
    initial: "15 degC",
  }),
});

const coordinate = () => quantity("length", "Outline point", { least: "-150 mm", most: "150 mm" });
const corners = () =>
  z
    .array(z.tuple([coordinate(), coordinate()]))
    .min(3)
    .max(500)
    .optional();

const station = z.strictObject({
  name: text("Station").optional(),
  at: quantity("length", "Distance from the nose", { least: "0 mm", most: "1000 mm" }).optional(),
  width: quantity("length", "Width", { least: "0.5 mm", most: "120 mm", required: true }),
  height: quantity("length", "Height", { least: "0.5 mm", most: "120 mm", required: true }),
  form: word("Treated as", ["round", "flat", "lens"]).optional(),
  rise: quantity("length", "Middle above the axis", { least: "-60 mm", most: "60 mm" }).optional(),
  outline: corners(),
});

const bait = z.strictObject({
  thickness: quantity("length", "Thickest part", { least: "1 mm", most: "80 mm" }).optional(),
  form: word("Body treated as", ["round", "flat"], "round"),
  length: quantity("length", "Length of the bait", {
    least: "10 mm",
    most: "1000 mm",
    initial: "100 mm",
  }),
  stations: z.array(station).min(1).max(200).optional(),
  outline: corners(),
});

const plateKeys = {
  material: material("Plate", ["metal", ...SOLIDS], "aluminum 6061"),
  thickness: quantity("length", "Thickness of the plate", {
    least: "0.5 mm",
    most: "50 mm",
    initial: "10 mm",
  }),
  width: quantity("length", "Width of the plate", { least: "2 mm", most: "500 mm" }).optional(),
  contact: quantity("conductance", "Contact of plate and mold", {
    least: "20 W/(m^2 K)",
    most: "1e5 W/(m^2 K)",
    initial: "1000 W/(m^2 K)",
  }),
};

const plate = z.strictObject({
  ...plateKeys,
  distance: quantity("length", "From the cavity to the plate", {
    least: "1 mm",
    most: "150 mm",
    initial: "6 mm",
  }),
});

const back = z.strictObject({
  ...plateKeys,
  distance: quantity("length", "From the cavity to the back plate", {
    least: "1 mm",
    most: "150 mm",
    follows: "mold.wall",
  }),
  water: quantity("temperature", "Cooling water", { least: "0 degC", most: "60 degC" }).optional(),
});

const mold = z.strictObject({
  material: material("Mold", SOLIDS, "filled epoxy"),
  wall: quantity("length", "Mold wall", { least: "3 mm", most: "150 mm", initial: "20 mm" }),
  temperature: quantity("temperature", "Mold at the start", {
    least: "-15 degC",
    most: "120 degC",
    follows: "room.temperature",
  }),
  upperTemperature: quantity("temperature", "Other mold half", {
    least: "-15 degC",
    most: "120 degC",
    follows: "mold.temperature",
  }),
  cavities: count("Cavities", 1, 12, 1),
  spacing: quantity("length", "Between neighboring cavities", {
    least: "2 mm",
    most: "150 mm",
    initial: "15 mm",
  }),
  length: quantity("length", "Length of the mold", {
    least: "20 mm",
    most: "1200 mm",
  }).optional(),
  contact: quantity("conductance", "Contact of plastic and mold", {
    least: "50 W/(m^2 K)",
    most: "1e5 W/(m^2 K)",
    initial: "1000 W/(m^2 K)",
  }),
  back: back.optional(),
  inserts: z.array(plate).max(4).optional(),
});

const shot = z.strictObject({
  material: material("Plastic", MELTS, "soft plastisol"),
  temperature: shotTemperature("Plastic at the injector", { initial: "170 degC" }),
  fill: quantity("duration", "Time to fill", { least: "0.2 s", most: "60 s", initial: "2 s" }),
});

const layer = z.strictObject({
  form: word("First color lies as", ["belly", "skin", "stripe", "tail"], "belly"),
  depth: quantity("length", "Depth of the first color", {
    least: "0.5 mm",
    most: "60 mm",
    initial: "3 mm",
  }),
  temperature: shotTemperature("First color", { follows: "shot.temperature" }),
  second: z.strictObject({
    material: material("Second color", MELTS, "soft plastisol", "shot.material"),
    temperature: shotTemperature("Second color", { follows: "shot.temperature" }),
  }),
  more: z
    .array(
      z.strictObject({
        depth: quantity("length", "Depth of the next color", {
          least: "0.5 mm",
          most: "60 mm",
          required: true,
        }),
        material: material("Next color", MELTS, "soft plastisol", "shot.material"),
        temperature: shotTemperature("Next color", { follows: "shot.temperature" }),
      }),
    )
    .max(6)
    .optional(),
  handling: quantity("duration", "To close, clamp and start", {
    least: "1 s",
    most: "10 min",
    initial: "20 s",
  }),
  ready: word("Before turning the mold", ["set", "skin"], "set"),
  skin: quantity("length", "Skin that holds", { least: "0.2 mm", most: "20 mm", initial: "1 mm" }),
  healing: quantity("ratio", "Healing asked for", { least: "5 %", most: "100 %", initial: "80 %" }),
});

const run = z.strictObject({
  shots: count("Shots", 1, 500, 10),
  open: quantity("duration", "Mold open between shots", {
    least: "1 s",
    most: "2 h",
    initial: "60 s",
  }),
  molds: count("Molds in rotation", 1, 12, 1),
  timer: quantity("duration", "Fixed timer", { least: "2 s", most: "2 h" }).optional(),
  fan: yesNo("Fan on the open mold", "no"),
  bath: quantity("duration", "Dip in water between shots", {
    least: "0 s",
    most: "30 min",
    initial: "0 s",
  }),
  preheat: quantity("temperature", "Preheated to", {
    least: "20 degC",
    most: "120 degC",
  }).optional(),
  session: quantity("duration", "Length of the session", {
    least: "5 min",
    most: "24 h",
    initial: "3 h",
  }),
  hands: quantity("duration", "Hand work for each shot", {
    least: "1 s",
    most: "30 min",
    initial: "90 s",
  }),
});

const spell = {
  temperature: quantity("temperature", "Temperature", {
    least: "100 degC",
    most: "260 degC",
    required: true,
  }),
  duration: quantity("duration", "Time", { least: "1 s", most: "48 h", required: true }),
};

const cup = z.strictObject({
  heats: z.array(z.strictObject(spell)).max(50).optional(),
  yellowed: z.strictObject(spell).optional(),
  mass: quantity("mass", "Plastic in the cup", { least: "5 g", most: "20 kg", initial: "250 g" }),
});

const boxSide = (label: string, initial: string) =>
  quantity("length", label, { least: "10 mm", most: "1500 mm", initial });

const pour = z.strictObject({
  material: material("Resin", CASTABLE, "filled epoxy"),
  depth: quantity("length", "Depth over the clay", {
    least: "2 mm",
    most: "300 mm",
    initial: "30 mm",
  }),
  mass: quantity("mass", "Resin with hardener", { least: "10 g", most: "100 kg" }).optional(),
  box: z.strictObject({
    length: boxSide("Box, length inside", "180 mm"),
    width: boxSide("Box, width inside", "120 mm"),
    material: material("Box", SOLIDS, "MDF"),
    wall: quantity("length", "Box wall", { least: "0.5 mm", most: "60 mm", initial: "12 mm" }),
  }),
  clay: z.strictObject({
    material: material("Bed", [...SOLIDS], "oil clay"),
    thickness: quantity("length", "Depth of the bed", {
      least: "2 mm",
      most: "150 mm",
      initial: "25 mm",
    }),
  }),
  masters: z.strictObject({
    material: material("Masters", [...SOLIDS], "polyurethane"),
    count: count("Masters", 0, 12, 1),
    width: quantity("length", "Width of a master", {
      least: "1 mm",
      most: "150 mm",
      initial: "16 mm",
    }),
    height: quantity("length", "Standing out of the bed", {
      least: "0.5 mm",
      most: "100 mm",
      initial: "8 mm",
    }),
    length: quantity("length", "Length of a master", {
      least: "5 mm",
      most: "1000 mm",
      follows: "bait.length",
    }),
    softens: quantity("temperature", "Masters bear", {
      least: "30 degC",
      most: "250 degC",
    }).optional(),
  }),
  bench: z.strictObject({
    material: material("Bench", [...SOLIDS], "softwood"),
    thickness: quantity("length", "Bench top", { least: "1 mm", most: "200 mm", initial: "25 mm" }),
  }),
  stock: quantity("temperature", "Resin and hardener when mixed", {
    least: "-15 degC",
    most: "60 degC",
    follows: "room.temperature",
  }),
  potLife: z
    .strictObject({
      time: quantity("duration", "Pot life", { least: "30 s", most: "48 h", required: true }),
      mass: quantity("mass", "of this mass", { least: "10 g", most: "20 kg", initial: "100 g" }),
      at: quantity("temperature", "at", { least: "5 degC", most: "45 degC", initial: "25 degC" }),
    })
    .optional(),
  thinFilm: z
    .strictObject({
      time: quantity("duration", "Thin film sets in", {
        least: "1 min",
        most: "14 day",
        required: true,
      }),
      at: quantity("temperature", "at", { least: "5 degC", most: "45 degC", initial: "25 degC" }),
    })
    .optional(),
  peakExotherm: z
    .strictObject({
      temperature: quantity("temperature", "Peak exotherm", {
        least: "25 degC",
        most: "300 degC",
        required: true,
      }),
      mass: quantity("mass", "of this mass", { least: "10 g", most: "20 kg", initial: "100 g" }),
    })
    .optional(),
  hardener: word("Hardener", ["fast", "medium", "slow"], "medium"),
  filler: quantity("ratio", "Filler by weight", { least: "0 %", most: "85 %" }).optional(),
  granules: quantity("ratio", "Metal granules by volume", {
    least: "0 %",
    most: "60 %",
    initial: "0 %",
  }),
  layers: count("Layers", 1, 20).optional(),
  postCure: z
    .array(
      z.strictObject({
        temperature: quantity("temperature", "Oven", {
          least: "25 degC",
          most: "200 degC",
          required: true,
        }),
        hold: quantity("duration", "Hold", { least: "1 min", most: "7 day", required: true }),
        ramp: quantity("duration", "Time to get there", {
          least: "0 s",
          most: "48 h",
          initial: "2 h",
        }),
      }),
    )
    .max(10)
    .optional(),
  age: quantity("duration", "Since mixing", { least: "0 s", most: "365 day" }).optional(),
  plate: plate.optional(),
});

const sprue = z.strictObject({
  diameter: quantity("length", "Sprue", { least: "1 mm", most: "40 mm", initial: "8 mm" }),
  length: quantity("length", "Length of the sprue", {
    least: "1 mm",
    most: "300 mm",
    initial: "40 mm",
  }),
  gate: z.strictObject({
    width: quantity("length", "Gate, width", {
      least: "0.5 mm",
      most: "40 mm",
      follows: "sprue.diameter",
    }),
    height: quantity("length", "Gate, height", {
      least: "0.5 mm",
      most: "40 mm",
      follows: "sprue.diameter",
    }),
    length: quantity("length", "Gate, length", { least: "0.5 mm", most: "60 mm", initial: "3 mm" }),
  }),
  hold: quantity("duration", "Injector held", { least: "0 s", most: "10 min" }).optional(),
  widest: quantity("length", "Widest sprue that the gate spot allows", {
    least: "1 mm",
    most: "40 mm",
    initial: "12 mm",
  }),
  tolerated: quantity("ratio", "Not fed, and not seen", {
    least: "0 %",
    most: "5 %",
    initial: "0.5 %",
  }),
  stiffSkin: quantity("ratio", "Skin that stands, of half the thickness", {
    least: "0 %",
    most: "100 %",
    initial: "30 %",
  }),
});

const density = (label: string) =>
  quantity("density", label, { least: "500 kg/m^3", most: "4000 kg/m^3" }).optional();

const mix = z.strictObject({
  pours: z
    .array(
      z.strictObject({
        name: text("Pour", "pour"),
        material: material("Material", CASTABLE, "filled epoxy"),
        volume: quantity("volume", "Volume", { least: "0.5 ml", most: "100 l" }).optional(),
        box: z
          .strictObject({
            length: quantity("length", "Box, length", {
              least: "5 mm",
              most: "1500 mm",
              required: true,
            }),
            width: quantity("length", "Box, width", {
              least: "5 mm",
              most: "1500 mm",
              required: true,
            }),
            height: quantity("length", "Box, height", {
              least: "2 mm",
              most: "500 mm",
              required: true,
            }),
          })
          .optional(),
        less: quantity("volume", "Volume of the masters", {
          least: "0 ml",
          most: "50 l",
          initial: "0 ml",
        }),
        ratio: parts("Parts A to parts B", "100:12"),
        by: word("Ratio by", ["weight", "volume"], "weight"),
        densityA: density("Density of A"),
        densityB: density("Density of B"),
        waste: quantity("ratio", "Mixed in excess", {
          least: "0 %",
          most: "100 %",
          initial: "10 %",
        }),
        tolerance: quantity("ratio", "Error of the ratio that does no harm", {
          least: "0.2 %",
          most: "25 %",
          initial: "3 %",
        }),
      }),
    )
    .max(20)
    .optional(),
  scale: quantity("mass", "Step of the scale", { least: "1 mg", most: "100 g", initial: "1 g" }),
  plastic,
});

const shrink = z.strictObject({
  steps: z
    .array(
      z.strictObject({
        name: text("Step").optional(),
        material: material("Material", [...SOLIDS, ...MELTS], "filled epoxy"),
        shrinkage: quantity("ratio", "Linear shrinkage", {
          least: "-3 %",
          most: "10 %",
        }).optional(),
        curedAt: quantity("temperature", "Cured at", {
          least: "5 degC",
          most: "200 degC",
        }).optional(),
      }),
    )
    .min(1)
    .max(12)
    .optional(),
});

const limits = z.strictObject({
  demold: quantity("temperature", "Hottest point at opening", {
    least: "25 degC",
    most: "110 degC",
    initial: "55 degC",
  }),
  wall: quantity("temperature", "Cavity face at most", {
    least: "30 degC",
    most: "300 degC",
  }).optional(),
  peak: quantity("temperature", "Pour at most", {
    least: "30 degC",
    most: "200 degC",
    initial: "80 degC",
  }),
  set: quantity("temperature", "No longer flows below", {
    least: "70 degC",
    most: "160 degC",
  }).optional(),
  bond: quantity("temperature", "Bonds above", { least: "60 degC", most: "170 degC" }).optional(),
  fill: quantity("temperature", "No longer fills below", {
    least: "70 degC",
    most: "170 degC",
  }).optional(),
});

/** How well the thermometers of a workshop measure; from memory. */
const THERMOMETERS = { ir: "3 K", probe: "2 K", guess: "10 K" };

const difference = (label: string, initial: string) =>
  quantityOrWord("temperatureDifference", label, THERMOMETERS, {
    least: "0 K",
    most: "40 K",
    initial,
  });

const uncertainty = z.strictObject({
  thickness: quantityOrWord(
    "length",
    "Thickness, give or take",
    { calipers: "0.3 mm", ruler: "1 mm", guess: "2 mm" },
    { least: "0 mm", most: "10 mm", initial: "0.5 mm" },
  ),
  shot: difference("Plastic, give or take", "5 K"),
  mold: difference("Mold, give or take", "5 K"),
  room: difference("Room, give or take", "2 K"),
  time: quantity("duration", "Time, give or take", { least: "0 s", most: "2 min", initial: "2 s" }),
  materials: word("Material data", ["catalog", "measured"], "catalog"),
});

const ownMaterial = z.strictObject({
  name: text("Name").meta({ label: "Name", kind: "text", required: true }),
  like: material("Like", [], "filled epoxy"),
  conductivity: quantity("conductivity", "Conductivity", {
    least: "0.02 W/(m K)",
    most: "450 W/(m K)",
  }).optional(),
  density: quantity("density", "Density", { least: "100 kg/m^3", most: "12000 kg/m^3" }).optional(),
  specificHeat: quantity("specificHeat", "Specific heat", {
    least: "100 J/(kg K)",
    most: "5000 J/(kg K)",
  }).optional(),
  wallLimit: quantity("temperature", "Bears", { least: "30 degC", most: "400 degC" }).optional(),
  setTemperature: quantity("temperature", "No longer flows below", {
    least: "70 degC",
    most: "160 degC",
  }).optional(),
  heatOfReaction: quantity("energyPerMass", "Heat of reaction", {
    least: "0 J/g",
    most: "700 J/g",
  }).optional(),
  spread: quantity("ratio", "How sure, give or take", {
    least: "0 %",
    most: "50 %",
    initial: "10 %",
  }),
});

/** The job file. Every key but the bait's size may be left out. */
export const jobSchema = z.strictObject({
  name: text("Job", "unnamed job"),
  materials: z.array(ownMaterial).max(20).optional(),
  room,
  bait,
  mold,
  shot,
  layer,
  run,
  cup,
  pour,
  sprue,
  mix,
  shrink,
  limits,
  uncertainty,
  swim,
  plan,
});

/** What the schema gives, every default filled in. */
export type TypedJob = z.output<typeof jobSchema>;

/**
 * The job file as a JSON Schema (draft 2020-12), with label, unit, range and default of every key.
 *
 * @example jobJsonSchema().title // "Castclock job"
 */
export function jobJsonSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(jobSchema, {
    io: "input",
    unrepresentable: "any",
    override: ({ jsonSchema }) => {
      // every group may be left out: only what has no default is required
      if (jsonSchema.type !== "object" || !jsonSchema.properties) return;
      const required: string[] = [];
      for (const [key, property] of Object.entries(jsonSchema.properties)) {
        const own = property as { required?: unknown };
        if (own.required !== true) continue;
        required.push(key);
        delete own.required; // of a leaf: a mark of ours, not of JSON Schema
      }
      if (required.length > 0) jsonSchema.required = required;
      else delete jsonSchema.required;
    },
  });
  return { ...schema, title: "Castclock job", required: ["bait"] };
}

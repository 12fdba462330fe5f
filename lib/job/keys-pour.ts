/** Keys of the job file for a resin pour. */
import { z } from "zod";
import { CASTABLE, SOLIDS } from "./families.ts";
import { count, material, quantity, word } from "./fields.ts";
import { plate } from "./keys-mold.ts";

const boxSide = (label: string, initial: string) =>
  quantity("length", label, { least: "10 mm", most: "1500 mm", initial });

export const pour = z.strictObject({
  material: material("Resin", CASTABLE, "filled epoxy", "mold.material"),
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
    }).optional(),
    height: quantity("length", "Standing out of the bed", {
      least: "0.5 mm",
      most: "100 mm",
    }).optional(),
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

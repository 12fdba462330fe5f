/** Keys of the job file for the mold and what it is shot with. */
import { z } from "zod";
import { MELTS, SOLIDS } from "./families.ts";
import { count, material, quantity, word, yesNo } from "./fields.ts";

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

export const plate = z.strictObject({
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

export const mold = z.strictObject({
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

const shotTemperature = (label: string, rest: { initial?: string; follows?: string }) =>
  quantity("temperature", label, { least: "130 degC", most: "205 degC", ...rest });

export const shot = z.strictObject({
  material: material("Plastic", MELTS, "soft plastisol"),
  temperature: shotTemperature("Plastic at the injector", { initial: "170 degC" }),
  fill: quantity("duration", "Time to fill", { least: "0.2 s", most: "60 s", initial: "2 s" }),
});

export const layer = z.strictObject({
  form: word("First color lies as", ["belly", "skin", "stripe", "tail"], "belly"),
  depth: quantity("length", "Depth of the first color", {
    least: "0.5 mm",
    most: "60 mm",
    initial: "3 mm",
  }),
  temperature: shotTemperature("First color", { follows: "shot.temperature" }),
  second: z.strictObject({
    material: material("Second color", MELTS, undefined, "shot.material"),
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
        material: material("Next color", MELTS, undefined, "shot.material"),
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

export const run = z.strictObject({
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

export const cup = z.strictObject({
  heats: z.array(z.strictObject(spell)).max(50).optional(),
  yellowed: z.strictObject(spell).optional(),
  mass: quantity("mass", "Plastic in the cup", { least: "5 g", most: "20 kg", initial: "250 g" }),
});

export const sprue = z.strictObject({
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

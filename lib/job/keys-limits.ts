/** Keys of the job file for limits, for how well things are known, and for own materials. */
import { z } from "zod";
import { material, quantity, quantityOrWord, readable, text, word } from "./fields.ts";
import { readDeviates } from "./fitted.ts";
import { jobInputNames } from "./input-names.ts";

export const limits = z.strictObject({
  demold: quantity("temperature", "Hottest point at opening", {
    least: "25 degC",
    most: "110 degC",
    initial: "55 degC",
  }),
  wall: quantity("temperature", "Cavity face at most", {
    least: "30 degC",
    most: "300 degC",
  }).optional(),
  stiff: quantity("length", "Wall that bears the clamp", {
    least: "2 mm",
    most: "60 mm",
    initial: "12 mm", // common practice, no source
  }),
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

export const uncertainty = z.strictObject({
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

export const ownMaterial = z.strictObject({
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

/** What `fit --write` puts down. */
export const fittedInput = z.strictObject({
  name: word("Input", jobInputNames).meta({
    label: "Input",
    kind: "word",
    possible: jobInputNames,
    required: true,
  }),
  deviates: readable("Middle; row of the triangle", readDeviates, "0.31; 0.85"),
});

/** Keys of the job file for the bait in the water. */
import { z } from "zod";
import { quantity, text, word } from "./fields.ts";

const place = (label: string) => quantity("length", label, { least: "0 mm", most: "1000 mm" });
const below = (label: string) =>
  quantity("length", label, { least: "-60 mm", most: "60 mm", initial: "0 mm" });

const hook = z.strictObject({
  name: text("Hook", "hook"),
  mass: quantity("mass", "Weight of the hook", { least: "0.02 g", most: "80 g", required: true }),
  gap: quantity("length", "Gap of the hook", { least: "1 mm", most: "60 mm" }).optional(),
  at: place("Hook, from the nose").optional(),
  below: below("Hook, below the axis"),
});

const weight = z.strictObject({
  name: text("Weight", "weight"),
  mass: quantity("mass", "Mass of the weight", { least: "0.02 g", most: "200 g", required: true }),
  metal: word("Metal", ["lead", "tungsten", "brass", "steel", "bismuth"], "lead"),
  at: place("Weight, from the nose").optional(),
  below: below("Weight, below the axis"),
});

export const swim = z.strictObject({
  water: word("Water", ["fresh", "salt"], "fresh"),
  temperature: quantity("temperature", "Water of the lake or sea", {
    least: "0 degC",
    most: "35 degC",
    initial: "15 degC",
  }),
  hook: hook.optional(),
  otherHooks: z
    .array(
      z.strictObject({
        name: text("Hook").meta({ label: "Hook", kind: "text", required: true }),
        mass: quantity("mass", "Weight of the hook", {
          least: "0.02 g",
          most: "80 g",
          required: true,
        }),
        gap: quantity("length", "Gap of the hook", {
          least: "1 mm",
          most: "60 mm",
          required: true,
        }),
      }),
    )
    .max(30)
    .optional(),
  weights: z.array(weight).max(10).optional(),
  salt: quantity("ratio", "Salt in the plastic, by weight", {
    least: "0 %",
    most: "60 %",
    initial: "0 %",
  }),
  hollow: quantity("ratio", "Hollow spheres in the plastic, by weight", {
    least: "0 %",
    most: "30 %",
    initial: "0 %",
  }),
  clearance: quantity("length", "Gap of a hook beyond the body", {
    least: "0 mm",
    most: "30 mm",
    initial: "4 mm",
  }),
});

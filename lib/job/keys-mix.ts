/** Keys of the job file for mixing, and for the chain of shrinking steps. */
import { z } from "zod";
import { CASTABLE, MELTS, SOLIDS } from "./families.ts";
import { material, parts, quantity, text, word } from "./fields.ts";
import { plastic } from "./keys-evening.ts";

const density = (label: string) =>
  quantity("density", label, { least: "500 kg/m^3", most: "4000 kg/m^3" }).optional();

export const mix = z.strictObject({
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

export const shrink = z.strictObject({
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

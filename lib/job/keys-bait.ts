/** Keys of the job file for the room and the bait. */
import { z } from "zod";
import { quantity, text, word } from "./fields.ts";

export const room = z.strictObject({
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

/** How thick a bait may be. */
export const BAIT_THICKNESS = { least: "1 mm", most: "80 mm" };
/** How wide and how high a station may be. */
export const STATION_SIZE = { least: "0.5 mm", most: "120 mm" };

const station = z.strictObject({
  name: text("Station").optional(),
  at: quantity("length", "Distance from the nose", { least: "0 mm", most: "1000 mm" }).optional(),
  width: quantity("length", "Width", { ...STATION_SIZE, required: true }),
  height: quantity("length", "Height", { ...STATION_SIZE, required: true }),
  form: word("Treated as", ["round", "flat", "lens"]).optional(),
  rise: quantity("length", "Middle above the axis", { least: "-60 mm", most: "60 mm" }).optional(),
  outline: corners(),
});

export const bait = z.strictObject({
  thickness: quantity("length", "Thickest part", BAIT_THICKNESS).optional(),
  width: quantity("length", "Width of the body", { least: "1 mm", most: "120 mm" }).optional(),
  form: word("Body treated as", ["round", "flat"], "round"),
  length: quantity("length", "Length of the bait", {
    least: "10 mm",
    most: "1000 mm",
    initial: "100 mm",
  }),
  stations: z.array(station).min(1).max(200).optional(),
  outline: corners(),
});
